import type { Aim } from '../../job/model.ts';
import type { ReachModel } from '../bench/reach-model.ts';

/**
 * What pictures of a job are drawn from, beside its result: plain data, rounded, in mm. Coordinates are those of the
 * toolpath (Y up) or, with artwork alone, of the page (Y down): `yUp` tells.
 */
export interface JobDrawing {
  /** The job's name in the result. */
  job: string;
  yUp: boolean;
  /** Everything drawn lies in here, the sheet included. */
  view: { minX: number; minY: number; maxX: number; maxY: number };
  /** Where the sheet lies; null when the sidecar does not say. */
  sheet: { minX: number; minY: number; maxX: number; maxY: number } | null;
  cuts: DrawnCut[];
  /** Artwork laid under the toolpath, faint; empty with artwork alone (its lines are the cuts). */
  artwork: number[][];
  areas: DrawnArea[];
  travels: number[][];
  /** Greatest distance between a drawn line and the true one, mm, and lines left out because there were too many. */
  simplifiedMm: number;
  leftOut: number;
  section: SectionModel | null;
  reach: ReachModel | null;
  card: SetupCard;
  tasks: { name: string; aim: Aim; lengthMm: number; timeS: number }[];
  /** Where findings lie on the sheet, those that have a place there. */
  pins: DrawnPin[];
  /** Test cuts of the material that were made with this machine and lens, or do not say with which. */
  coupons: DrawnCoupon[];
}

/** The drawing of a job, and the lines of its files around each finding. */
export interface JobPictures {
  drawing: JobDrawing;
  around: { fingerprint: string; startLine: number; lines: string[] }[];
}

/** A finding's place, mm; the finding is named by its fingerprint. */
export interface DrawnPin {
  fingerprint: string;
  x: number;
  y: number;
}

export interface DrawnCoupon {
  thicknessMm: number;
  speedMmPerS: number;
  powerW: number;
  passes: number;
  /** Null when a depth was measured instead. */
  through: boolean | null;
  depthMm: number | null;
}

export interface DrawnCut {
  /** Index into the result's `cuts`. */
  cut: number;
  task: string;
  aim: Aim;
  /** P(through); null when not predicted. */
  probability: number | null;
  depthMm: number | null;
  depthLowMm: number | null;
  depthHighMm: number | null;
  recipe: string;
  /** Mean speed of the first pass, mm/s; null without a recipe. */
  speedMmPerS: number | null;
  file: string;
  line: number;
  /** Chains of points x0, y0, x1, y1, … */
  lines: number[][];
}

export interface DrawnArea {
  task: string | null;
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
  /** Null when the power is not known. */
  meanJPerMm2: number | null;
  peakJPerMm2: number | null;
  pitchMm: number;
  file: string;
  line: number;
}

/** The beam against the sheet, for the cut that is least sure to part: the fitted lens first, then the machine's others. */
export interface SectionModel {
  cut: number;
  task: string;
  material: string;
  thicknessMm: number;
  lenses: SectionLens[];
}

export interface SectionLens {
  id: string;
  fitted: boolean;
  focalMm: number;
  spotMm: number;
  depthOfFocusMm: number;
  standoffMm: number | null;
  /** Waist above (+) or below (−) the face, by pass. */
  focusMm: number[];
  /** Free beam of the first pass: height above the face (negative: in the sheet) and 1/e² diameter, from above the face to below the sheet. */
  beam: { zMm: number; diameterMm: number }[];
  /** Median depth after each pass, and the last one's band. */
  depthAfterPassMm: number[];
  depthMm: number;
  depthLowMm: number;
  depthHighMm: number;
  probability: number;
  kerfTopMm: number | null;
  kerfBottomMm: number | null;
}

/** What the person at the machine sets before the job. */
export interface SetupCard {
  machine: string | null;
  lens: string | null;
  standoffMm: number | null;
  /** By task: focus of the first pass and step, air, power, speed, passes. */
  tasks: {
    name: string;
    aim: Aim;
    setting: number | null;
    powerW: number | null;
    speedMmPerS: number | null;
    passes: number;
    focusMm: number | null;
    focusStepMm: number;
    airBar: number | null;
  }[];
  material: string | null;
  thicknessMm: number | null;
  face: 'masked' | 'bare' | null;
  mirror: 'up' | 'down' | null;
  bowMm: number | null;
  zero: 'machine' | 'sheet-corner' | 'set-by-hand' | null;
  sheet: { widthMm: number; heightMm: number } | null;
  /** Hazard of the material as the catalogue has it; null when the material is unknown. */
  hazard: { class: string; reason: string } | null;
  /** The cut to watch first: the least sure one. */
  watch: { task: string; probability: number; line: number; file: string } | null;
}
