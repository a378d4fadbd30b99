import type { HazardClass } from '../../job/model.ts';
import type { PublishedDot } from '../evidence/published-dots.ts';
import type { Recipe, Standing } from '../recipes/recipe-fact.ts';

/** Depth over speed of a machine's lenses in one material: plain data that pictures, tables and JSON are made from. Numbers are rounded. */
export interface ReachCurves {
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
  /** Of the curves. */
  readonly passes: number;
  /** Of the curves: waist above (+) or below (−) the face; null: where it serves best at each speed. */
  readonly focusMm: number | null;
  /** Below this the edge chars, melts or flares; null where the material has no floor. */
  readonly floorMmPerS: number | null;
  readonly lenses: readonly ReachLens[];
  /** What others published of this material with as many passes, at speeds scaled to `powerW`. */
  readonly published: readonly PublishedDot[];
  /** Published cuts of the material that are not among them: of other passes, or less well stated. */
  readonly publishedElse: number;
}

/** The same with what each sheet that can be bought takes, as the solver has it. */
export interface ReachModel extends ReachCurves {
  /** The probability of parting that a recipe is held to: 0.9, or 0.95 where the material rests on coupons. */
  readonly limit: number;
  /** The one below which a sheet is out of reach. */
  readonly errorLimit: number;
  /** One for each thickness that can be bought, rising. */
  readonly choices: readonly ReachChoice[];
}

export interface ReachLens {
  readonly id: string;
  readonly spotMm: number;
  readonly depthOfFocusMm: number;
  /** By rising speed. */
  readonly points: readonly ReachDepth[];
  /** At the floor, or at the slowest speed drawn where there is none. */
  readonly greatest: ReachDepth;
}

/** Depth reached at a speed: median, 5th and 95th percentile, and the thickness parted with a probability of 0.9. */
export interface ReachDepth {
  readonly speedMmPerS: number;
  readonly depthMm: number;
  readonly lowMm: number;
  readonly highMm: number;
  readonly sureMm: number;
}

/** What a sheet takes. */
export interface ReachChoice {
  readonly thicknessMm: number;
  readonly standing: Standing;
  /** The recipe to run or to prove; where the sheet is out of reach the one that comes nearest. */
  readonly recipe: Recipe;
  /** Parallel to `lenses`: the recipe that reaches the limit under each; null where none does. */
  readonly byLens: readonly (Recipe | null)[];
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
