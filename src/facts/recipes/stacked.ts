import { thicknessSpreadMm } from '../cuts/prediction.ts';
import { bestRecipe, type RecipeQuestion } from './best-recipe.ts';
import type { Recipe } from './recipe-fact.ts';
import { soldMm } from './sold-sheets.ts';

/** Equal layers of a thinner sheet that can be bought, in place of one that is out of reach. */
export interface StackedSheets {
  readonly layers: number;
  readonly layerMm: number;
  /** Of one layer. */
  readonly recipe: Recipe;
}

/** More layers are a nuisance to align and glue (a definition of this project). */
const MOST_LAYERS = 6;
/** A stack may be so much thicker or thinner than what was asked for, as a share of it (a definition of this project). */
const MOST_OFF = 0.1;

/** The layers that come nearest to the thickness asked for, of equally near ones the fewest, and that the machine is sure to part; null where there are none. */
export function stackedSheets(question: RecipeQuestion): StackedSheets | null {
  const { setup } = question;
  const wantedMm = setup.thicknessMm;
  const stacks = soldMm(setup.material)
    .filter((layerMm) => layerMm < wantedMm)
    .map((layerMm) => {
      const layers = Math.max(2, Math.round(wantedMm / layerMm));
      return { layers, layerMm, off: Math.abs(layers * layerMm - wantedMm) / wantedMm };
    })
    .filter(({ layers, off }) => layers <= MOST_LAYERS && off <= MOST_OFF)
    .sort((a, b) => a.off - b.off || a.layers - b.layers);
  for (const { layers, layerMm } of stacks) {
    const thickness = { mm: layerMm, plusMinusMm: null, nominal: true };
    const layer = { ...setup, thicknessMm: layerMm, thicknessSpreadMm: thicknessSpreadMm(thickness) };
    const recipe = bestRecipe({ ...question, setup: layer })?.proposed ?? null;
    if (recipe !== null) return { layers, layerMm, recipe };
  }
  return null;
}
