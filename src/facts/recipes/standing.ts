import type { BestRecipe, Recipe, Standing } from './recipe-fact.ts';

/** The recipe to run, or to prove where none is sure; where the sheet is out of reach the one that comes nearest. */
export function recipeAndStanding(best: Pick<BestRecipe, 'proposed' | 'surest' | 'errorLimit'>): {
  standing: Standing;
  recipe: Recipe;
} {
  const { proposed, surest, errorLimit } = best;
  if (proposed !== null) return { standing: 'sure', recipe: proposed };
  return { standing: surest.throughProbability >= errorLimit ? 'prove' : 'out-of-reach', recipe: surest };
}
