import { findRemedies } from '../../physics/search/find-remedies.ts';
import { formatMm, formatPercent, formatSpeed } from '../../units/format.ts';
import type { PassFact, RemedyFact } from '../cuts/cut-fact.ts';
import { limitOf } from '../cuts/limits.ts';
import type { ShortCut } from '../cuts/one-cut.ts';
import { CutPredictor, MOST_PASSES } from '../cuts/prediction.ts';
import { remedyFact, unchanged } from '../cuts/remedy-text.ts';
import { settingChoices } from '../cuts/setting-choices.ts';
import { setUpUnder } from '../cuts/setup.ts';
import { bestRecipe, NOTHING_STATED, type RecipeQuestion } from './best-recipe.ts';
import type { Recipe } from './recipe-fact.ts';
import { focusText } from './recipe-text.ts';
import { stackedSheets } from './thinner-sheets.ts';

/**
 * Changes that would bring a cut through, cheapest first: one setting or the lens; where no single change does it, another recipe
 * altogether, thinner sheet stacked, or the word that it is out of reach, as the one solver has it. Each asks for many predictions, so they
 * are sought for a task's worst cuts only.
 */
export function remediesOf(predictor: CutPredictor, passes: readonly PassFact[], short: ShortCut): RemedyFact[] {
  const { setup } = predictor;
  const { machine, material, lens } = setup;
  const powerChoices = settingChoices(machine, short.at).map(({ setting, powerW }) => ({ fraction: setting, powerW }));
  const others = machine.lenses.filter(({ id }) => id !== lens.id);
  const underOthers = others.flatMap((other) => setUpUnder(setup, other) ?? []);
  const found = findRemedies({
    cut: predictor.inputFor(passes, short.spread),
    limit: limitOf(setup.grounds),
    powerChoices,
    cleanSpeedMmPerS: material.cleanSpeedMmPerS[machine.source.kind],
    maxPasses: MOST_PASSES[machine.source.kind],
    focusMoves: short.focusMoves,
    otherLenses: underOthers.map((under) => ({
      id: under.lens.id,
      cut: new CutPredictor(under).inputFor(passes, short.spread),
      limit: limitOf(under.grounds),
    })),
    cutTimeS: short.cutTimeS,
  });
  if (found.length > 0) {
    return found.map((remedy) => {
      const under = underOthers.find((one) => remedy.kind === 'other-lens' && one.lens.id === remedy.lensId);
      const { offsetMm } = (under ?? setup).grounds.focus;
      return remedyFact(remedy, passes, powerChoices, offsetMm);
    });
  }
  return [
    anotherWay({
      setup,
      otherLenses: others,
      at: short.at,
      fastestMmPerS: machine.motion.speedMmPerS,
      focusMoves: short.focusMoves,
      stated: NOTHING_STATED,
    }),
  ];
}

/** What is left where no single change of the plan does it. */
function anotherWay(question: RecipeQuestion): RemedyFact {
  const best = bestRecipe(question);
  const fitted = question.setup.lens.id;
  if (best?.proposed) {
    const text = `Cut ${settingsText(best.proposed, fitted)}`;
    return ofRecipe(unchanged('other-recipe', text, best.proposed.throughProbability), best.proposed, fitted);
  }
  const stacked = stackedSheets(question);
  if (stacked) {
    const { layers, layerMm, recipe } = stacked;
    const text = `Cut ${layers} layers of ${formatMm(layerMm)} ${settingsText(recipe, fitted)}, and stack them`;
    const fact = unchanged('stack', text, recipe.throughProbability);
    return ofRecipe({ ...fact, layers, layerThicknessMm: layerMm }, recipe, fitted);
  }
  return unchanged(
    'none',
    'No setting within the machine’s ceiling and the material’s clean speed is sure enough to part it: use thinner stock or a stronger source',
    best?.surest.throughProbability ?? 0,
  );
}

function settingsText(recipe: Recipe, fitted: string): string {
  const { passes, setting, speedMmPerS, lens } = recipe;
  const other = lens === fitted ? '' : ` with the ${lens} lens`;
  const times = passes === 1 ? 'in 1 pass' : `in ${passes} passes`;
  return `${times} at ${formatPercent(setting)} and ${formatSpeed(speedMmPerS)}${other}, ${focusText(recipe)}`;
}

function ofRecipe(fact: RemedyFact, recipe: Recipe, fitted: string): RemedyFact {
  const { powerW, setting, speedMmPerS, passes, focusMm, focusStepMm, lens } = recipe;
  return { ...fact, powerW, setting, speedMmPerS, passes, focusMm, focusStepMm, lens: lens === fitted ? null : lens };
}
