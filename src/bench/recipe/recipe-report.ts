import { wrapAnsi } from 'fast-wrap-ansi';
import { assumedText, inventedText } from '../../facts/assumed/assumed-text.ts';
import {
  isFound,
  type NoRecipe,
  type PricedRecipe,
  type RecipeAnswer,
  type RecipeFound,
} from '../../facts/recipes/recipe-answer-model.ts';
import type { Recipe } from '../../facts/recipes/recipe-fact.ts';
import { boundsText } from '../../facts/recipes/recipe-text.ts';
import { CAUTION, materialCaution } from '../../findings/caution.ts';
import { SOURCE_NAMES } from '../../job/machine/source-names.ts';
import { columns } from '../../units/columns.ts';
import {
  formatBar,
  formatChance,
  formatChanceShortOf,
  formatCount,
  formatFocus,
  formatMm,
  formatMoney,
  formatPercent,
  formatSpeed,
  formatTime,
  formatWatts,
  significant,
} from '../../units/format.ts';
import { inARow } from '../../units/in-a-row.ts';
import { atStart, inSentence, stopped } from '../../units/sentence.ts';
import { writtenMm } from '../../units/written.ts';

/** Fewer characters a line are not wrapped to. */
const NARROWEST = 40;

/** The answer for the person at the machine: the recipe in the first line, unless the material asks to be reconsidered first. */
export function recipeReport(answer: RecipeAnswer, screenColumns: number): string {
  const width = Math.max(NARROWEST, screenColumns);
  const lines = isFound(answer) ? found(answer) : noRecipe(answer);
  return [...lines.flatMap((line) => wrapped(line, width)), CAUTION, ''].join('\n');
}

/** A table's rows and commands are left as they are: they are no sentences. */
function wrapped(line: string, width: number): string[] {
  return line.includes('  ') || line === '' ? [line] : wrapAnsi(line, width).split('\n');
}

function noRecipe({ standing, reason, cutBy }: NoRecipe): string[] {
  const others = cutBy.map((kind) => `a ${SOURCE_NAMES[kind]} source`);
  return [
    `No recipe: ${stopped(reason)}`,
    standing === 'never'
      ? 'Take another material, one that is sold for laser cutting and comes with a safety data sheet.'
      : others.length === 0
        ? 'No kind of source known here cuts it: take another material.'
        : `Take another material; what cuts it: ${inARow(others, 'or')}.`,
  ];
}

function found(answer: RecipeFound): string[] {
  const caution = materialCaution({ name: answer.material, hazard: answer.hazard });
  const isFirst = answer.hazard.class === 'reconsider';
  return [
    ...(isFirst ? [caution, ''] : []),
    ...headLines(answer),
    '',
    ...columns([['', 'power', 'mm/s', 'passes', 'focus', 'lens', 'chance', 'a metre'], ...choiceRows(answer)]),
    '',
    ...(answer.limitedBy.length === 0 ? [] : [`Held back by ${boundsText(answer.limitedBy)}.`]),
    ...(answer.standing === 'out-of-reach' ? [] : testLines(answer)),
    ...insteadLines(answer),
    ...(isFirst ? [] : [caution]),
    ...[assumedText(answer), inventedText(answer.machine, answer.inventedMachine)].filter((said) => said !== ''),
  ];
}

function headLines(answer: RecipeFound): string[] {
  const { standing, recipe, limit, errorLimit, machine, material, thicknessMm, source, basis } = answer;
  const { throughProbability } = recipe;
  const sheet = `${formatMm(thicknessMm)} ${inSentence(material)} on ${machine} (${source}; ${basis})`;
  if (standing === 'sure') {
    return [`${settingsLine(answer)}.`, `${atStart(formatChance(throughProbability))} likely to part ${sheet}.`];
  }
  if (standing === 'prove') {
    const chance = atStart(formatChanceShortOf(throughProbability, limit));
    const asked = `${formatPercent(limit)} is asked of a recipe`;
    return [`Prove it on a coupon: ${settingsLine(answer)}.`, `${chance} likely to part ${sheet}; ${asked}.`];
  }
  const chance = formatChanceShortOf(throughProbability, errorLimit);
  return [`Out of reach: at best ${chance} likely to part.`, `${atStart(sheet)}.`];
}

/** "85 %, 24 mm/s, 1 pass, focus 1.0 mm below the face, 2in lens, air 1 bar". */
export function settingsLine({ recipe, airBar }: Pick<RecipeFound, 'recipe' | 'airBar'>): string {
  const { setting, speedMmPerS, passes, focusMm, focusStepMm, lens } = recipe;
  const step = focusStepMm < 0 ? ` and ${formatMm(-focusStepMm)} lower after each` : '';
  return [
    formatPercent(setting),
    formatSpeed(speedMmPerS),
    formatCount(passes, 'pass', 'passes'),
    `focus ${formatFocus(focusMm)}${step}`,
    `${lens} lens`,
    airBar === null ? 'air on' : `air ${formatBar(airBar)}`,
  ].join(', ');
}

function choiceRows({ standing, recipe, fastest, surest, onePass }: RecipeFound): string[][] {
  const names: [string, PricedRecipe | null][] = [
    [{ sure: 'proposed', prove: 'to prove', 'out-of-reach': 'nearest' }[standing], recipe],
    ['fastest', fastest],
    ['surest', surest],
    ['one pass', onePass],
  ];
  return names.flatMap(([name, one], i) => {
    if (one === null) return [];
    return [i > 0 && isSame(one, recipe) ? [name, 'same'] : choiceRow(name, one)];
  });
}

function isSame(a: PricedRecipe, b: PricedRecipe): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function choiceRow(name: string, recipe: PricedRecipe): string[] {
  const { setting, speedMmPerS, passes, focusMm, focusStepMm, lens, throughProbability, timeSPerM, costPerM } = recipe;
  return [
    name,
    formatPercent(setting),
    significant(speedMmPerS),
    String(passes),
    `${writtenMm(focusMm)}${focusStepMm === 0 ? '' : `, ${writtenMm(focusStepMm)}`}`,
    lens,
    formatChance(throughProbability),
    `${formatTime(timeSPerM)}${costPerM === null ? '' : `, ${formatMoney(costPerM)}`}`,
  ];
}

function testLines(answer: RecipeFound): string[] {
  const { slower, surest, recipe } = answer;
  const differs = surest.throughProbability > recipe.throughProbability;
  const next = slower ?? (differs ? surest : null);
  const then =
    next === null
      ? ''
      : ` If it hangs, ${formatSpeed(next.speedMmPerS)} is ${formatChance(next.throughProbability)} likely.`;
  return [
    `First on scrap of this very sheet: a 20 mm square at these settings.${then} Then a test piece:`,
    '',
    ...couponCommand(answer),
    '',
  ];
}

/** The command in lines that fit, as a shell takes them. */
function couponCommand({ machine, materialId, thicknessMm, recipe }: RecipeFound): string[] {
  const { lens, passes, focusMm, focusStepMm } = recipe;
  const settings = [
    `--thickness "${writtenMm(thicknessMm)}"`,
    ...(passes === 1 ? [] : [`--passes ${passes}`]),
    ...(focusMm === 0 ? [] : [`--focus "${writtenMm(focusMm)}"`]),
    ...(focusStepMm === 0 ? [] : [`--focus-step "${writtenMm(focusStepMm)}"`]),
  ].join(' ');
  return [`  kerflint coupon --machine ${machine} --lens ${lens} --material ${materialId} \\`, `    ${settings}`];
}

function insteadLines({ instead, material }: RecipeFound): string[] {
  if (instead === null) return [];
  const { stacked, lens, source, thickestMm } = instead;
  const ways = [
    ...(stacked === null
      ? []
      : [
          `Stack ${stacked.layers} layers of ${formatMm(stacked.layerMm)}: each ${runText(stacked.recipe)}, ${formatChance(stacked.recipe.throughProbability)} likely.`,
        ]),
    ...(lens === null
      ? []
      : [
          `Fit ${lens.id === null ? `a lens of ${formatMm(lens.focalMm, 1)} focal length` : `the ${lens.id} lens`}: ${runText(lens.recipe)}, ${formatChance(lens.recipe.throughProbability)} likely.`,
        ]),
    ...(source === null
      ? []
      : [
          `A ${SOURCE_NAMES[source.kind]} source of ${formatWatts(source.powerW)} at the work would do: ${runText(source.recipe)}.`,
        ]),
    ...(thickestMm === null
      ? []
      : [
          `The thickest ${inSentence(material)} on sale that this machine is sure to part has ${formatMm(thickestMm)}.`,
        ]),
  ];
  if (ways.length > 0) return ['Instead, and sure:', ...ways];
  return ['No stack, lens or source known here would be sure.'];
}

function runText({ setting, speedMmPerS, passes, focusMm }: Recipe): string {
  return `${formatCount(passes, 'pass', 'passes')} at ${formatPercent(setting)} and ${formatSpeed(speedMmPerS)}, focus ${formatFocus(focusMm)}`;
}
