import type { CutFact } from '../cuts/cut-fact.ts';
import type { NearestCuts } from '../evidence/near-cuts.ts';

/** What a plan has fixed already; null is free. */
export interface StatedSettings {
  /** Set power as a fraction of full. */
  readonly setting: number | null;
  readonly speedMmPerS: number | null;
  readonly passes: number | null;
  /** Waist above (+) or below (−) the top face in the first pass; where it is stated, the step is too. */
  readonly focusMm: number | null;
  readonly focusStepMm: number;
}

/** Equal passes, in numbers that a person would type, with the chance that they part the sheet. */
export interface Recipe {
  readonly lens: string;
  readonly setting: number;
  /** At the work. */
  readonly powerW: number;
  readonly speedMmPerS: number;
  readonly passes: number;
  readonly focusMm: number;
  readonly focusStepMm: number;
  readonly throughProbability: number;
}

/** What keeps the surest recipe from being surer, with its value: a share, mm/s, a count or mm; null for the lens. */
export interface Bound {
  readonly kind:
    | 'ceiling'
    | 'assumed-ceiling'
    | 'planned-power'
    | 'clean-speed'
    | 'slowest-speed'
    | 'planned-speed'
    | 'most-passes'
    | 'planned-passes'
    | 'planned-focus'
    | 'named-lens'
    | 'depth-of-focus'
    | 'fastest-speed';
  readonly value: number | null;
}

/** What a machine can do about one sheet, within its ceiling, the material's clean speed and what was fixed already. */
export interface BestRecipe {
  /** The recipe that is likeliest to part the sheet, slow and strong as it may be. */
  readonly surest: Recipe;
  /** The one to run: fewest passes, then fastest, that reaches the limit; null when none does. */
  readonly proposed: Recipe | null;
  readonly limitedBy: readonly Bound[];
  /** The probability that a recipe is held to, and the one below which it is an error. */
  readonly limit: number;
  readonly errorLimit: number;
}

/** What can be had of the same material where a sheet is out of reach; null where there is none of a kind. */
export interface ThinnerSheets {
  readonly stacked: StackedSheets | null;
  /** The thickest sheet that can be bought and that the machine is sure to part, mm. */
  readonly thickestMm: number | null;
}

/** Equal layers of a thinner sheet that can be bought, in place of one that is out of reach. */
export interface StackedSheets {
  readonly layers: number;
  readonly layerMm: number;
  /** Of one layer. */
  readonly recipe: Recipe;
}

/** Through cuts of artwork alone for which no settings are planned, judged by what the machine can do. */
export interface ProposalFact extends BestRecipe {
  readonly cuts: readonly [CutFact, ...CutFact[]];
  /** What would be surer if plan and named lens were left open; null where it is likely enough already, or nothing would be won. */
  readonly freed: Recipe | null;
  /** Thinner sheets of the same material that the machine is sure to part; null where a recipe is proposed. */
  readonly thinner: ThinnerSheets | null;
  /** What others published of such a cut; null where a recipe is proposed. */
  readonly published: NearestCuts | null;
}

/** What one lens makes of a sheet. */
export interface LensRecipe {
  readonly lens: string;
  readonly surest: Recipe;
  readonly proposed: Recipe | null;
}

/**
 * How a sheet stands with a machine. `sure`: a recipe reaches the limit that recipes are held to; `prove`: the likeliest one does not, and a
 * check of it would not be an error: a coupon decides; `out-of-reach`: it would be.
 */
export type Standing = 'sure' | 'prove' | 'out-of-reach';
