import type { Aim } from '../../job/model.ts';
import type { Location } from '../../source/place.ts';
import type { NearestCuts } from '../evidence/near-cuts.ts';

/** One pass of a recipe. */
export interface PassFact {
  /** Watts at the work (at the place on the bed where this cut is weakest). */
  readonly powerW: number;
  /** Set power as a fraction of full. */
  readonly setting: number;
  /** Speed that the prediction rests on: mean speed reached, mm/s. */
  readonly speedMmPerS: number;
  /** As programmed or planned, mm/s. */
  readonly programmedMmPerS: number;
  /** Waist above (+) or below (−) the top face, mm. */
  readonly focusMm: number;
  readonly air: boolean;
  /** Power follows the speed (M4 scaled): corners get the same energy per mm. */
  readonly scaled: boolean;
}

/** The prediction for one cut; lengths mm. Null members of the job's `cuts` are cuts that could not be predicted. */
export interface Prediction {
  readonly depthMm: number;
  /** 5th and 95th percentile. */
  readonly depthLowMm: number;
  readonly depthHighMm: number;
  /** P(depth ≥ thickness), 0..1. */
  readonly throughProbability: number;
  /** The limit it is judged by: 0.9, or 0.95 when the recipe rests on coupons. */
  readonly limit: number;
  /** The probability below which it is an error. */
  readonly errorLimit: number;
  readonly kerfTopMm: number | null;
  readonly kerfBottomMm: number | null;
  readonly taperDeg: number | null;
  /** Energy delivered over energy needed to part the sheet. */
  readonly energyRatio: number;
  readonly depthAfterPassMm: readonly number[];
  /** "catalogue, ± 40 %", "catalogue, within a factor of 2.7" or "calibrated, 9 coupons". */
  readonly basis: string;
}

/** A change that would bring the cut through, with the numbers; cheapest first. */
export interface RemedyFact {
  readonly kind:
    | 'slower'
    | 'more-power'
    | 'more-passes'
    | 'other-lens'
    | 'other-focus'
    | 'other-recipe'
    | 'stack'
    | 'none';
  /** Says what to do, imperative, with units: "Slow to 7.5 mm/s". */
  readonly text: string;
  readonly powerW: number | null;
  readonly setting: number | null;
  readonly speedMmPerS: number | null;
  readonly passes: number | null;
  readonly focusMm: number | null;
  readonly focusStepMm: number | null;
  readonly lens: string | null;
  readonly layers: number | null;
  readonly layerThicknessMm: number | null;
  readonly throughProbability: number | null;
}

/** Stretches of one closed outline that receive fewer passes than the rest of it. */
export interface UnevenFact {
  readonly fewest: number;
  readonly most: number;
  readonly shortMm: number;
  readonly location: Location;
}

/** All stretches of one task with one recipe. */
export interface CutFact {
  readonly task: string;
  readonly aim: Aim;
  /** Index into `JobFacts.tasks`. */
  readonly taskIndex: number;
  readonly lengthMm: number;
  readonly passes: readonly PassFact[];
  /** How often it is run in all: where that is very often, `passes` lists the first only. */
  readonly passCount: number;
  /** Null for aims other than through/groove, or when lens, machine or material are unknown: see `notPredicted`. */
  readonly prediction: Prediction | null;
  readonly notPredicted: string | null;
  readonly remedies: readonly RemedyFact[];
  /** What others published of such a cut; null where remedies are not sought either. */
  readonly published: NearestCuts | null;
  /** Where the cut begins: in the toolpath if there is one, else in the artwork, else in the sidecar. */
  readonly location: Location;
  /** Where the governing setting (speed or power) is stated. */
  readonly settingLocation: Location;
  /** Indices of strokes (toolpath) or outlines (artwork) in this cut. */
  readonly strokes: Uint32Array;
  /**
   * Mean speed over the width of the spot where the head is slowest (a corner, or where it starts and stops), mm/s, and over-burn there:
   * programmed over slowest speed where power is constant; 1 when scaled.
   */
  readonly slowestMmPerS: number;
  readonly cornerOverburn: number;
  /** Highest and lowest number of passes that stretches of one closed outline of this task receive, when they differ. */
  readonly uneven: UnevenFact | null;
  /** P(through) if the focus were lowered evenly over the passes; null for one pass, when the focus already moves or cannot, and where the cut suffices as it is. */
  readonly throughWithFocusStep: number | null;
}

/** Speed of one cut as the machine will really do it, beyond the recipe. */
export interface SpeedFact {
  /** Share of the cut's length on which the programmed speed is never reached. */
  readonly belowShare: number;
  readonly reachedMmPerS: number;
  readonly programmedMmPerS: number;
  readonly location: Location;
}
