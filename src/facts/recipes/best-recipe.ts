import type { Lens } from '../../job/model.ts';
import type { Grounds } from '../coupons/grounds.ts';
import { errorLimitOf, limitOf } from '../cuts/limits.ts';
import { type Setup, setUpUnder } from '../cuts/setup.ts';
import { type LensSearch, type SearchRange, searchUnder } from './lens-search.ts';
import type { BestRecipe, LensRecipe, Recipe, StatedSettings } from './recipe-fact.ts';

/** One sheet on one machine: what is asked of the solver. */
export interface RecipeQuestion extends SearchRange {
  readonly setup: Setup;
  /** Lenses that may be fitted in place of the set-up's; empty where the lens is fixed. */
  readonly otherLenses: readonly Lens[];
  /** Probability that a recipe is held to; left out: what each lens is judged by. */
  readonly limit?: number;
}

/** Nothing is planned yet. */
export const NOTHING_STATED: StatedSettings = {
  setting: null,
  speedMmPerS: null,
  passes: null,
  focusMm: null,
  focusStepMm: 0,
};

/**
 * The best that a machine can do about a sheet: the one solver for what it could be cut with. It stays within the machine's ceiling and
 * firing floor, the material's clean speed and the passes that are ordinary for its source, and keeps what was stated. Another lens is
 * proposed only where the set-up's own does not do. Null where the machine gives no power at the setting asked for.
 */
export function bestRecipe(question: RecipeQuestion): BestRecipe | null {
  const searches = searchesOf(question);
  if (searches === null) return null;
  const [own, ...others] = searches;
  const found = quickest(own, question) ?? fastestOf(others.map((other) => quickest(other, question)));
  return summedUp(question, own, surestOf(searches.map(surestUnder)), found);
}

/** The same where no lens is fitted yet: the one under which the sheet is cut fastest, and what each of them makes of it. */
export function bestUnderAnyLens(
  question: RecipeQuestion,
): (BestRecipe & { readonly byLens: readonly LensRecipe[] }) | null {
  const searches = searchesOf(question);
  if (searches === null) return null;
  const surest = searches.map(surestUnder);
  const byLens = searches.map((search, i): LensRecipe => {
    const one = surest[i]!;
    const found = quickest(search, question);
    return { lens: one.recipe.lens, surest: one.recipe, proposed: found ?? ifSure(one, question) };
  });
  const found = fastestOf(byLens.map(({ proposed }) => proposed));
  return { ...summedUp(question, searches[0], surestOf(surest), found), byLens };
}

function searchesOf(question: RecipeQuestion): [LensSearch, ...LensSearch[]] | null {
  const { setup, otherLenses } = question;
  const own = searchUnder(setup, question);
  if (own === null) return null;
  const others = otherLenses.flatMap((lens) => {
    const under = setUpUnder(setup, lens);
    return (under && searchUnder(under, question)) ?? [];
  });
  return [own, ...others];
}

/** What a recipe under one lens is judged by: coupons under that lens count there alone. */
const limitUnder = (grounds: Grounds, { limit }: RecipeQuestion): number => limit ?? limitOf(grounds);

const quickest = (search: LensSearch, question: RecipeQuestion): Recipe | null =>
  search.quickest(limitUnder(search.grounds, question));

/** A lens's surest recipe, and what it is judged by. */
interface Surest {
  readonly recipe: Recipe;
  readonly by: Grounds;
}

const surestUnder = (search: LensSearch): Surest => ({ recipe: search.surest(), by: search.grounds });

function ifSure({ recipe, by }: Surest, question: RecipeQuestion): Recipe | null {
  return recipe.throughProbability >= limitUnder(by, question) ? recipe : null;
}

function summedUp(question: RecipeQuestion, own: LensSearch, surest: Surest, found: Recipe | null): BestRecipe {
  const { setup, otherLenses } = question;
  return {
    surest: surest.recipe,
    // Between the speeds that one types, the slowest may suffice alone.
    proposed: found ?? ifSure(surest, question),
    limitedBy: own.bounds(otherLenses.length === 0 && setup.machine.lenses.length > 1),
    limit: limitUnder(surest.by, question),
    errorLimit: errorLimitOf(surest.by),
  };
}

function surestOf(recipes: readonly Surest[]): Surest {
  return recipes.reduce((best, one) => (one.recipe.throughProbability > best.recipe.throughProbability ? one : best));
}

/** The one that takes the least time over a stretch; of equals the first. */
export function fastestOf(recipes: readonly (Recipe | null)[]): Recipe | null {
  return recipes.reduce((best, one) => {
    if (one === null || best === null) return one ?? best;
    return one.passes / one.speedMmPerS < best.passes / best.speedMmPerS ? one : best;
  }, null);
}
