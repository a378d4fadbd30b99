import type { Lens } from '../../job/model.ts';
import { errorLimitOf, limitOf } from '../cuts/limits.ts';
import type { Setup } from '../cuts/prediction.ts';
import { setUpUnder } from '../cuts/set-up-under.ts';
import { type LensSearch, type SearchRange, searchUnder } from './lens-search.ts';
import type { BestRecipe, LensRecipe, Recipe, StatedSettings } from './recipe-fact.ts';

/** One sheet on one machine: what is asked of the solver. */
export interface RecipeQuestion extends SearchRange {
  readonly setup: Setup;
  /** Lenses that may be fitted in place of the set-up's; empty where the lens is fixed. */
  readonly otherLenses: readonly Lens[];
  /** Probability that a recipe is held to; left out: that of the material. */
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
  const limit = limitFor(question);
  const found = own.quickest(limit) ?? fastestOf(others.map((other) => other.quickest(limit)));
  return summedUp(question, own, surestOf(searches.map((search) => search.surest())), found);
}

/** The same where no lens is fitted yet: the one under which the sheet is cut fastest, and what each of them makes of it. */
export function bestUnderAnyLens(
  question: RecipeQuestion,
): (BestRecipe & { readonly byLens: readonly LensRecipe[] }) | null {
  const searches = searchesOf(question);
  if (searches === null) return null;
  const limit = limitFor(question);
  const byLens = searches.map((search): LensRecipe => {
    const surest = search.surest();
    const found = search.quickest(limit);
    return { lens: surest.lens, surest, proposed: found ?? (surest.throughProbability >= limit ? surest : null) };
  });
  const found = fastestOf(byLens.map(({ proposed }) => proposed));
  return { ...summedUp(question, searches[0], surestOf(byLens.map(({ surest }) => surest)), found), byLens };
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

const limitFor = ({ limit, setup }: RecipeQuestion): number => limit ?? limitOf(setup.material);

function summedUp(question: RecipeQuestion, own: LensSearch, surest: Recipe, found: Recipe | null): BestRecipe {
  const { setup, otherLenses } = question;
  const limit = limitFor(question);
  return {
    surest,
    // Between the speeds that one types, the slowest may suffice alone.
    proposed: found ?? (surest.throughProbability >= limit ? surest : null),
    limitedBy: own.bounds(otherLenses.length === 0 && setup.machine.lenses.length > 1),
    limit,
    errorLimit: errorLimitOf(setup.material),
  };
}

function surestOf(recipes: readonly Recipe[]): Recipe {
  return recipes.reduce((best, one) => (one.throughProbability > best.throughProbability ? one : best));
}

/** The one that takes the least time over a stretch; of equals the first. */
export function fastestOf(recipes: readonly (Recipe | null)[]): Recipe | null {
  return recipes.reduce((best, one) => {
    if (one === null || best === null) return one ?? best;
    return one.passes / one.speedMmPerS < best.passes / best.speedMmPerS ? one : best;
  }, null);
}
