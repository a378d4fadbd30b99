import type { HazardClass } from '../../job/model.ts';
import type { PublishedDot } from '../evidence/published-dots.ts';

/** The drawing model of a reach chart: plain data that a picture, a table and JSON are made from. Numbers are rounded. */
export interface ReachModel {
  readonly machine: string;
  /** "CO₂, 54 W at the work". */
  readonly source: string;
  readonly material: string;
  /** The material's class, and what it gives off or does under the beam. */
  readonly hazard: { readonly class: HazardClass; readonly reason: string };
  /** What must hold of the very sheet for this kind of source to cut it; null where nothing must. */
  readonly onlyIf: string | null;
  /** "catalogue, ± 40 %", "catalogue, within a factor of 2.7" or "calibrated, 9 coupons"; where lenses differ, each with its own. */
  readonly basis: string;
  /** Share of full power. */
  readonly setting: number;
  readonly powerW: number;
  readonly passes: number;
  /** Waist above (+) or below (−) the face. */
  readonly focusMm: number;
  /** The probability of parting that sheets are held to: 0.9, or 0.95 where coupons of one of the lenses met the boundary. */
  readonly limit: number;
  /** Below this the edge chars, melts or flares; null where the material has no floor. */
  readonly floorMmPerS: number | null;
  /** Thicknesses in which the material is sold and that are worth a line. */
  readonly soldMm: readonly number[];
  readonly lenses: readonly ReachLens[];
  /** The lens for each sold thickness: the one that cuts it fastest at or above the floor; null where none does. */
  readonly choices: readonly ReachChoice[];
  /** What others published of this material with as many passes, at speeds scaled to `powerW`. */
  readonly published: readonly PublishedDot[];
  /** Published cuts of the material that are not among them: of other passes, or less well stated. */
  readonly publishedElse: number;
}

export interface ReachLens {
  readonly id: string;
  readonly spotMm: number;
  readonly depthOfFocusMm: number;
  /** By rising speed. */
  readonly points: readonly ReachDepth[];
  /** At the floor, or at the slowest speed drawn where there is none. */
  readonly greatest: ReachDepth;
  /** Parallel to `soldMm`: the highest speed at which the sheet parts with the limit's probability; null where none does at or above the floor. */
  readonly sureSpeedMmPerS: readonly (number | null)[];
}

/** Depth reached at a speed: median, 5th and 95th percentile, and the thickness parted with a probability of 0.9. */
export interface ReachDepth {
  readonly speedMmPerS: number;
  readonly depthMm: number;
  readonly lowMm: number;
  readonly highMm: number;
  readonly sureMm: number;
}

export interface ReachChoice {
  readonly thicknessMm: number;
  /** Null where no lens parts it with the limit's probability at or above the floor. */
  readonly lens: string | null;
  readonly speedMmPerS: number | null;
}

/** Greatest thickness by material and lens, for a machine as a whole. */
export interface ReachOverview {
  readonly machine: string;
  readonly source: string;
  readonly setting: number;
  readonly powerW: number;
  readonly passes: number;
  readonly lenses: readonly string[];
  readonly rows: readonly {
    readonly material: string;
    readonly name: string;
    readonly hazard: HazardClass;
    readonly basis: string;
    /** Parallel to `lenses`; null where the lens gives no beam. */
    readonly greatest: readonly (ReachDepth | null)[];
  }[];
  /** Materials that this kind of source does not cut, or that are never cut. */
  readonly leftOut: number;
}
