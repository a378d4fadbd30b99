import type { HazardClass, Money, SourceKind } from '../../job/model.ts';
import type { AssumedKey, Narrowing } from '../assumed/assumed-fact.ts';
import type { Bound, Recipe, Standing, ThinnerSheets } from './recipe-fact.ts';

/** What `kerflint recipe` answers: plain data that text, JSON and picture are made from. */
export type RecipeAnswer = RecipeFound | NoRecipe;

/** Who asks for what. */
interface Asked {
  readonly machine: string;
  /** Name of the material in a sentence. */
  readonly material: string;
  readonly materialId: string;
  readonly hazard: { readonly class: HazardClass; readonly reason: string };
  readonly thicknessMm: number;
}

/** The material is never cut, or not with this kind of source. */
export interface NoRecipe extends Asked {
  readonly standing: 'never' | 'not-cut';
  readonly reason: string;
  /** Kinds of source that cut it; none where it is never cut. */
  readonly cutBy: readonly SourceKind[];
}

export interface RecipeFound extends Asked {
  readonly standing: Standing;
  /** "CO₂, 54 W at the work": at full setting, at the corner of the bed where the least arrives. */
  readonly source: string;
  /** "catalogue, ± 54 %". */
  readonly basis: string;
  /** Probability that a recipe is held to, and the one below which a sheet is out of reach. */
  readonly limit: number;
  readonly errorLimit: number;
  /** To run, to prove on a coupon, or, where the sheet is out of reach, the one that comes nearest. */
  readonly recipe: PricedRecipe;
  /** The quickest over a stretch among those that reach the limit; null where none does. */
  readonly fastest: PricedRecipe | null;
  /** The fastest that is 99 % likely to part the sheet; where none is, the likeliest. */
  readonly surest: PricedRecipe;
  /** In one pass: the fastest that reaches the limit, else the likeliest; null where another number of passes is planned. */
  readonly onePass: PricedRecipe | null;
  /** The same recipe a fifth slower, for when it hangs on a scrap; null where the floor allows none. */
  readonly slower: PricedRecipe | null;
  /** Air assist, gauge pressure; null where the profile says nothing of its supply. */
  readonly airBar: number | null;
  readonly limitedBy: readonly Bound[];
  /** What would be sure instead; null where the recipe is. */
  readonly instead: Instead | null;
  readonly section: RecipeSection;
  /** What of the machine was assumed, in doubt first, and which single measurement would narrow the depth most. */
  readonly assumed: readonly AssumedKey[];
  readonly narrows: Narrowing | null;
  /** The machine's numbers are made up, by its own profile. */
  readonly inventedMachine: boolean;
}

/** Whether the material is one that is cut here at all. */
export const isFound = (answer: RecipeAnswer): answer is RecipeFound =>
  answer.standing !== 'never' && answer.standing !== 'not-cut';

/** A recipe with what a metre of outline takes, without corners and travel. */
export interface PricedRecipe extends Recipe {
  readonly standing: Standing;
  readonly timeSPerM: number;
  /** Machine, operator, tube and energy; null where the profile has no rates. */
  readonly costPerM: Money | null;
}

/** Ways out for a sheet that no recipe is sure to part; null where there is none of a kind. */
export interface Instead extends ThinnerSheets {
  /** Another lens: one of the machine's, or a focal length that the profile does not have. */
  readonly lens: { readonly id: string | null; readonly focalMm: number; readonly recipe: Recipe } | null;
  /** The weakest source of the same kind, of the usual ones, that would do. */
  readonly source: { readonly kind: SourceKind; readonly powerW: number; readonly recipe: Recipe } | null;
}

/** The beam in the sheet under the recipe's lens. */
export interface RecipeSection {
  readonly lens: string;
  readonly spotMm: number;
  /** √2 criterion. */
  readonly depthOfFocusMm: number;
  /** The waist of each pass above (+) or below (−) the face. */
  readonly waistsMm: readonly number[];
  /** Free beam of the first pass from above the face to below the underside. */
  readonly beam: readonly { readonly zMm: number; readonly diameterMm: number }[];
}
