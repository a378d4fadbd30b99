import { formatCount, formatMm, formatSpeed, formatWatts, trimmed } from '../../units/format.ts';
import type { FoundRecipe } from './recipes-found.ts';

/** From here on a length is said in metres. */
const METRE_MM = 1000;
const OFTEN = ['never', 'once', 'twice'];

/** What is asked of a recipe: "12 cuts, 1.8 m, once at 48 W, 12 mm/s: must these part the sheet?" */
export function recipeQuestion(recipe: FoundRecipe): string {
  const { pieces, lengthMm, powerW, speedMmPerS, selectors } = recipe;
  const length = lengthMm < METRE_MM ? formatMm(lengthMm, 0) : `${trimmed(lengthMm / METRE_MM, 1)} m`;
  const speed = speedMmPerS === null ? 'without a feed' : formatSpeed(speedMmPerS);
  const others = selectors.length > 1 ? ', and otherwise in other passes' : '';
  const these = pieces === 1 ? 'must it' : 'must these';
  return `${formatCount(pieces, 'cut')}, ${length}, ${passesText(recipe)} at ${formatWatts(powerW)}, ${speed}${others}: ${these} part the sheet?`;
}

function passesText({ fewestPasses, mostPasses }: FoundRecipe): string {
  const most = OFTEN[mostPasses] ?? `${mostPasses} times`;
  return fewestPasses === mostPasses ? most : `${OFTEN[fewestPasses] ?? fewestPasses} to ${most}`;
}
