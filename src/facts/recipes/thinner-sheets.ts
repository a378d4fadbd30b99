import { thicknessSpreadMm } from '../cuts/prediction.ts';
import { bestRecipe, type RecipeQuestion } from './best-recipe.ts';
import type { Recipe, StackedSheets, ThinnerSheets } from './recipe-fact.ts';
import { soldMm } from './sold-sheets.ts';

/** More layers are a nuisance to align and glue (a definition of this project). */
const MOST_LAYERS = 6;
/** A stack may be so much thicker or thinner than what was asked for, as a share of it (a definition of this project). */
const MOST_OFF = 0.1;

/** Thinner sheets of the same material, each asked of the solver. */
export function thinnerSheets(question: RecipeQuestion): ThinnerSheets {
  return { stacked: stackedSheets(question), thickestMm: thickestInReach(question) };
}

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
    const recipe = sureAt(layerMm, question);
    if (recipe !== null) return { layers, layerMm, recipe };
  }
  return null;
}

/** From the thickest down: what is in reach is found after few. */
function thickestInReach(question: RecipeQuestion): number | null {
  const { setup } = question;
  const thinner = soldMm(setup.material).filter((mm) => mm < setup.thicknessMm);
  return thinner.reverse().find((thicknessMm) => sureAt(thicknessMm, question) !== null) ?? null;
}

/** The recipe that is sure to part a sheet of another thickness, as it is sold; null where none is. */
function sureAt(thicknessMm: number, question: RecipeQuestion): Recipe | null {
  const spreadMm = thicknessSpreadMm({ mm: thicknessMm, plusMinusMm: null, nominal: true });
  const setup = { ...question.setup, thicknessMm, thicknessSpreadMm: spreadMm };
  return bestRecipe({ ...question, setup })?.proposed ?? null;
}
