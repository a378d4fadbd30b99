import type { Toolpath } from '../gcode/toolpath.ts';
import type { Aim, Lens, Machine, Material, Money, Sidecar, Task } from '../job/model.ts';
import type { Location, Problem } from '../source/place.ts';
import type { Artwork } from '../svg/artwork.ts';
import type { AreaFact, ArtworkGeometry, MatchFact, OrderFact, SpeedFact } from './geometry-facts.ts';

/** What came with the job, and what had to be assumed. */
export interface JobOrigin {
  /** Name people know it by: the sidecar's, or the bare file's. */
  name: string;
  sidecar: Sidecar | null;
  /** Names relative to the root; null when the job has no such file. */
  files: { sidecar: string | null; toolpath: string | null; artwork: string | null };
  /** Where a finding points that concerns the job as a whole: the sidecar's first line, or the first file's. */
  home: Location;
}

/** One pass of a recipe. */
export interface PassFact {
  /** Watts at the work (at the place on the bed where this cut is weakest). */
  powerW: number;
  /** Set power as a fraction of full. */
  setting: number;
  /** Speed that the prediction rests on: mean speed reached, mm/s. */
  speedMmPerS: number;
  /** As programmed or planned, mm/s. */
  programmedMmPerS: number;
  /** Waist above (+) or below (−) the top face, mm. */
  focusMm: number;
  air: boolean;
  /** Power follows the speed (M4 scaled): corners get the same energy per mm. */
  scaled: boolean;
}

/** The prediction for one cut; lengths mm. Null members of the job's `cuts` are cuts that could not be predicted. */
export interface Prediction {
  depthMm: number;
  /** 5th and 95th percentile. */
  depthLowMm: number;
  depthHighMm: number;
  /** P(depth ≥ thickness), 0..1. */
  throughProbability: number;
  /** The limit it is judged by: 0.9, or 0.95 when the recipe rests on coupons. */
  limit: number;
  kerfTopMm: number | null;
  kerfBottomMm: number | null;
  taperDeg: number | null;
  /** Energy delivered over energy needed to part the sheet. */
  energyRatio: number;
  depthAfterPassMm: number[];
  /** "catalogue, ± 40 %" or "calibrated, 9 coupons". */
  basis: string;
}

/** A change that would bring the cut through, with the numbers; cheapest first. */
export interface RemedyFact {
  kind: 'slower' | 'more-power' | 'more-passes' | 'other-lens' | 'other-focus' | 'stack' | 'none';
  /** Says what to do, imperative, with units: "Slow to 7.5 mm/s". */
  text: string;
  powerW: number | null;
  setting: number | null;
  speedMmPerS: number | null;
  passes: number | null;
  focusMm: number | null;
  focusStepMm: number | null;
  lens: string | null;
  layers: number | null;
  layerThicknessMm: number | null;
  throughProbability: number | null;
}

/** All stretches of one task with one recipe. */
export interface CutFact {
  task: string;
  aim: Aim;
  /** Index into `JobFacts.tasks`. */
  taskIndex: number;
  lengthMm: number;
  passes: PassFact[];
  /** Null for aims other than through/groove, or when lens, machine or material are unknown: see `notPredicted`. */
  prediction: Prediction | null;
  notPredicted: string | null;
  remedies: RemedyFact[];
  /** Where the cut begins: in the toolpath if there is one, else in the artwork, else in the sidecar. */
  location: Location;
  /** Where the governing setting (speed or power) is stated. */
  settingLocation: Location;
  /** Indices of strokes (toolpath) or outlines (artwork) in this cut. */
  strokes: Uint32Array;
  /**
   * Mean speed over the width of the spot where the head is slowest (a corner, or where it starts and stops), mm/s, and over-burn there:
   * programmed over slowest speed where power is constant; 1 when scaled.
   */
  slowestMmPerS: number;
  cornerOverburn: number;
  /** Highest and lowest number of passes that stretches of one closed outline of this task receive, when they differ. */
  uneven: { fewest: number; most: number; shortMm: number; location: Location } | null;
  /** P(through) if the focus were lowered evenly over the passes; null for one pass, when the focus already moves, and where the cut suffices as it is. */
  throughWithFocusStep: number | null;
}

/** A task as planned (or the implied one of a bare file). */
export interface TaskFact {
  name: string;
  aim: Aim;
  /** Null for an implied task. */
  planned: Task | null;
  location: Location;
  /** Outlines of the artwork that it selects (indices). */
  outlines: Uint32Array;
  /** Strokes of the toolpath that belong to it (indices). */
  strokes: Uint32Array;
  /** Raster areas that belong to it (indices). */
  areas: number[];
  lengthMm: number;
  timeS: number;
  /** Whole planned outlines of the artwork that got no power in the toolpath: outline index and place. */
  unpoweredOutlines: { outline: number; location: Location }[];
}

export interface TimeFact {
  totalS: number;
  cuttingS: number;
  rasterS: number;
  travelS: number;
  dwellS: number;
  /** Where it comes from. */
  basis: 'toolpath' | 'artwork';
}

export interface WasteFact {
  currency: string;
  atStake: number;
  expected: number;
  sheet: number;
  machine: number;
  operator: number;
  tube: number;
  energy: number;
  /** Parts that could not be priced, in words: "no sheet price". */
  missing: string[];
}

/** Set power to watts at the work. */
export interface PowerFact {
  /** Watts at full setting at the near corner. */
  fullW: number;
  /** One standard deviation, as a fraction. */
  spread: number;
  basis: 'curve' | 'measured' | 'rated';
}

/** What the lens does with this machine's beam. */
export interface BeamFact {
  spotMm: number;
  rayleighMm: number;
  /** √2 criterion. */
  depthOfFocusMm: number;
  spotBasis: 'measured' | 'computed';
}

/** A waiver as stated, held against the findings of its job. */
export interface WaiverFact {
  /** As written. */
  rule: string;
  /** A rule of that id exists. */
  known: boolean;
  /** The rule that was probably meant, or that took over from a retired one. */
  suggestion: string | null;
  /** The rule is about what can hurt someone: see `Rule.safety`. */
  safety: boolean;
  where: 'sidecar' | 'inline';
  reason: string | null;
  /** ISO date, the last day on which it counts. */
  until: string | null;
  location: Location;
  /** It has all that it needs and has not run out. */
  counts: boolean;
  /** Findings of this job that it marked as waived. */
  covered: number;
}

/** Everything that was computed about one job; rules only judge. Absent parts are null, with the reason in `absent`. */
export interface JobFacts {
  input: JobOrigin;
  machine: Machine | null;
  lens: Lens | null;
  /** True when the sidecar or option named no lens and the machine's first was taken. */
  lensAssumed: boolean;
  material: Material | null;
  /** The material was declared `unknown`. */
  materialUnknown: boolean;
  /** The name given for material, as written. */
  materialName: string | null;
  /** The known ids that may have been meant where that name is not known ("a, b or c"); null when none comes near. */
  materialNear: string | null;
  thicknessMm: number | null;
  /** 1σ, mm. */
  thicknessSpreadMm: number;
  toolpath: Toolpath | null;
  artwork: Artwork | null;
  tasks: TaskFact[];
  /** Indices of artwork outlines that no task selects. */
  unassignedOutlines: number[];
  cuts: CutFact[];
  power: PowerFact | null;
  beam: BeamFact | null;
  time: TimeFact | null;
  waste: WasteFact | null;
  /** Surface areas of the toolpath. */
  areas: AreaFact[];
  /** Order of the toolpath's cuts; null without a toolpath. */
  order: OrderFact | null;
  /** Geometry of the artwork; null without artwork. */
  geometry: ArtworkGeometry | null;
  /** Toolpath against artwork; null unless there are both. */
  match: MatchFact | null;
  /** Parallel to `cuts`. */
  speeds: SpeedFact[];
  /** Where the job's motion lies on the bed, mm in the machine's frame, when `zero` tells; else null and why. */
  onBed: { minX: number; minY: number; maxX: number; maxY: number } | null;
  onBedUnknown: string | null;
  /** Problems of loading (sidecar, machine, material) with their file. */
  inputProblems: { file: string; problem: Problem; severity: 'error' | 'warning' | 'note'; unreadable: boolean }[];
  /** Remarks of the loader on trust and assumption (a file beside the job counted only where stricter, …): shown as notes. */
  remarks: { text: string; location: Location }[];
  /** Reasons why the verdict is incomplete apart from findings: a machine unknown to the shop, an unreadable file. */
  incomplete: string[];
  /** The options that named machine, material, thickness, lens for bare files. */
  fromOptions: boolean;
  /** Cost limit for the run, when one is set in the sidecar or the settings. */
  budget: Money | null;
  /** ISO date of the run. */
  today: string;
  /** Waivers held against the findings of all other rules; absent until those have judged, and when there are none. */
  waivers?: WaiverFact[];
}
