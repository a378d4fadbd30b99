import type { ReachChoice, ReachModel, ReachOverview } from '../../facts/bench/reach-model.ts';
import { citedOutcome, citedPower } from '../../facts/evidence/cited-text.ts';
import type { Recipe } from '../../facts/recipes/recipe-fact.ts';
import { CAUTION, materialCaution } from '../../findings/caution.ts';
import { HAZARD_WORDS, hazardLine } from '../../job/material/names/hint-text.ts';
import { columns } from '../../units/columns.ts';
import {
  formatChance,
  formatCount,
  formatDepth,
  formatMm,
  formatPercent,
  formatSpeed,
  formatWatts,
} from '../../units/format.ts';
import { inSentence } from '../../units/sentence.ts';
import { writtenMm } from '../../units/written.ts';

/** The chart as text: what each sheet takes, lens by lens, and the greatest thickness of each lens. */
export function reachTable(model: ReachModel): string {
  const { lenses, floorMmPerS, choices } = model;
  const greatest = lenses.map((lens) => [
    lens.id,
    formatMm(lens.spotMm, 2),
    formatMm(lens.depthOfFocusMm, 1),
    formatDepth(lens.greatest.depthMm, lens.greatest.lowMm, lens.greatest.highMm),
    formatMm(lens.greatest.sureMm, 1),
  ]);
  const floor =
    floorMmPerS === null
      ? `${formatSpeed(lenses[0]?.greatest.speedMmPerS ?? 1)} (no clean-speed floor)`
      : `the clean-speed floor, ${formatSpeed(floorMmPerS)}`;
  return [
    `${model.material} on ${model.machine} (${model.source} at ${formatPercent(model.setting)}), basis: ${model.basis}`,
    hazardLine(model.hazard),
    ...(model.onlyIf === null ? [] : [`Only if the sheet is ${model.onlyIf}.`]),
    '',
    'What each sheet takes; the focus is that of the first pass, below (-) the face:',
    '',
    ...columns([['sheet', 'take', 'passes', 'focus', 'power', 'speed', 'chance'], ...choices.map(choiceRow)]),
    '',
    ...(choices.some(({ standing }) => standing === 'prove')
      ? [`Prove it: less than ${formatPercent(model.limit)}; cut a coupon of it before the sheet.`, '']
      : []),
    ...byLens(model),
    `Greatest thickness at ${floor}, ${formatCount(model.passes, 'pass', 'passes')}:`,
    '',
    ...columns([['lens', 'spot', 'depth of focus', 'median (5 to 95 %)', '90 %'], ...greatest]),
    '',
    ...publishedLines(model),
    materialCaution({ name: model.material, hazard: model.hazard }),
    'Predicted, not measured: prove a setting on a scrap of the same sheet (kerflint coupon) before you rely on it.',
    CAUTION,
    '',
  ].join('\n');
}

function choiceRow({ thicknessMm, standing, recipe }: ReachChoice): string[] {
  const chance = formatChance(recipe.throughProbability);
  if (standing === 'out-of-reach') return [writtenMm(thicknessMm), 'none', '', '', '', '', `at best ${chance}`];
  const { lens, passes, focusMm, focusStepMm, setting, speedMmPerS } = recipe;
  return [
    writtenMm(thicknessMm),
    lens,
    String(passes),
    `${writtenMm(focusMm)}${focusStepMm === 0 ? '' : `, then ${writtenMm(focusStepMm)} each`}`,
    formatPercent(setting),
    formatSpeed(speedMmPerS),
    standing === 'sure' ? chance : `${chance}, prove it`,
  ];
}

/** Lens by lens, where there is more than one to choose from. */
function byLens({ lenses, choices, limit }: ReachModel): string[] {
  if (lenses.length < 2) return [];
  const rows = choices.map((choice) => [writtenMm(choice.thicknessMm), ...choice.byLens.map(runText)]);
  return [
    `Passes and speed under each lens, with a probability of ${formatPercent(limit)} or more:`,
    '',
    ...columns([['sheet', ...lenses.map(({ id }) => id)], ...rows]),
    '',
  ];
}

/** "2 x 6.5 mm/s". */
function runText(recipe: Recipe | null): string {
  if (recipe === null) return '-';
  return `${recipe.passes === 1 ? '' : `${recipe.passes} x `}${formatSpeed(recipe.speedMmPerS)}`;
}

/** What others published of the material, beside what is predicted. */
function publishedLines({ published, publishedElse, passes, powerW, material }: ReachModel): string[] {
  if (published.length + publishedElse === 0) return [];
  const more = `${formatCount(publishedElse, 'more is', 'more are')} of other passes, or less well stated.`;
  const rows = published.map(({ speedMmPerS, cut }) => [
    writtenMm(cut.thicknessMm),
    citedPower(cut),
    formatSpeed(cut.speedMmPerS),
    formatSpeed(speedMmPerS),
    citedOutcome(cut),
    formatChance(cut.throughProbability),
    `${cut.source} ${cut.id}`,
  ]);
  return [
    `Cuts of ${inSentence(material)} that others published, ${formatCount(passes, 'pass', 'passes')}; here: the speed scaled to ${formatWatts(powerW)}; catalogue: the chance that it gives the cut:`,
    '',
    ...(rows.length === 0
      ? ['none']
      : columns([['sheet', 'power', 'speed', 'here', 'outcome', 'catalogue', 'row'], ...rows])),
    '',
    `${publishedElse === 0 ? '' : `${more} `}Citations: kerflint evidence.`,
    '',
  ];
}

/** All materials of a machine as text. */
export function overviewTable(overview: ReachOverview): string {
  const rows = overview.rows.map((row) => [
    row.name,
    HAZARD_WORDS[row.hazard],
    ...row.greatest.map((at) => (at === null ? 'no beam' : formatDepth(at.depthMm, at.lowMm, at.highMm))),
    row.basis,
  ]);
  return [
    `${overview.machine} (${overview.source} at ${formatPercent(overview.setting)}), ${formatCount(overview.passes, 'pass', 'passes')}`,
    'Greatest thickness by lens at the clean-speed floor (1 mm/s where a material has none): median (5 to 95 %)',
    '',
    ...columns([['material', 'hazard', ...overview.lenses, 'basis'], ...rows]),
    '',
    `${formatCount(overview.leftOut, 'material is', 'materials are')} left out: this kind of source does not cut them, or they are never cut.`,
    'Predicted, not measured. For one material with its lenses: --material <id>.',
    CAUTION,
    '',
  ].join('\n');
}
