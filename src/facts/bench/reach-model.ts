/** The drawing model of a reach chart: plain data that a picture, a table and JSON are made from. Numbers are rounded. */
export interface ReachModel {
  machine: string;
  /** "CO₂, 54 W at the work". */
  source: string;
  material: string;
  /** "catalogue, ± 40 %" or "calibrated, 9 coupons". */
  basis: string;
  /** What the material gives off or does, where its class asks a person to reconsider; else null. */
  caution: string | null;
  /** Share of full power. */
  setting: number;
  powerW: number;
  passes: number;
  /** Waist above (+) or below (−) the face. */
  focusMm: number;
  /** The probability of parting that a sheet is judged by: 0.9, or 0.95 where the material rests on coupons. */
  limit: number;
  /** Below this the edge chars, melts or flares; null where the material has no floor. */
  floorMmPerS: number | null;
  /** Thicknesses in which the material is sold and that are worth a line. */
  soldMm: number[];
  lenses: ReachLens[];
  /** The lens for each sold thickness: the one that cuts it fastest at or above the floor; null where none does. */
  choices: ReachChoice[];
}

export interface ReachLens {
  id: string;
  spotMm: number;
  depthOfFocusMm: number;
  /** By rising speed. */
  points: ReachDepth[];
  /** At the floor, or at the slowest speed drawn where there is none. */
  greatest: ReachDepth;
  /** Parallel to `soldMm`: the highest speed at which the sheet parts with the limit's probability; null where none does at or above the floor. */
  sureSpeedMmPerS: (number | null)[];
}

/** Depth reached at a speed: median, 5th and 95th percentile, and the thickness parted with a probability of 0.9. */
export interface ReachDepth {
  speedMmPerS: number;
  depthMm: number;
  lowMm: number;
  highMm: number;
  sureMm: number;
}

export interface ReachChoice {
  thicknessMm: number;
  /** Null where no lens parts it with the limit's probability at or above the floor. */
  lens: string | null;
  speedMmPerS: number | null;
}

/** Greatest thickness by material and lens, for a machine as a whole. */
export interface ReachOverview {
  machine: string;
  source: string;
  setting: number;
  powerW: number;
  passes: number;
  lenses: string[];
  rows: {
    material: string;
    name: string;
    basis: string;
    /** Parallel to `lenses`; null where the lens gives no beam. */
    greatest: (ReachDepth | null)[];
  }[];
  /** Materials that this kind of source does not cut, or that are never cut. */
  leftOut: number;
}
