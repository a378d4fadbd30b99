import { wrapAnsi } from 'fast-wrap-ansi';
import type { ReachChoice, ReachModel } from '../../facts/bench/reach-model.ts';
import { CAUTION, materialCaution } from '../../findings/caution.ts';
import { formatCount, formatFocus, formatPercent, formatSpeed, formatWatts, trimmed } from '../../units/format.ts';
import { writtenMm } from '../../units/written.ts';
import { escapeHtml } from '../escape.ts';
import { coordinate } from './picture-parts.ts';
import { reachPanel } from './reach-panel.ts';
import { INK, PAGE, pageText } from './wall-chart-parts.ts';

const TABLE = { width: 74, top: 44 };
const PANELS = { left: PAGE.margin + TABLE.width + 8, top: 38, gap: 7 };
const MOST_ACROSS = 3;
/** Six or seven lines stand below the panels; letters are 1.45 mm wide on average, so that the longest line still fits between the margins. */
const FOOT = { lineMm: 4.1, sizeMm: 2.9, bottomMm: 7, widthInLetters: 185 };

/** The reach chart as an SVG file: which lens for which sheet, and a panel for each lens with its doubt. */
export function reachPicture(model: ReachModel): string {
  const title = `${model.material} on ${model.machine}`;
  const under = [`${model.source} at ${formatPercent(model.setting)}`, `basis: ${model.basis}`].join(' · ');
  const parts = [
    `<rect width="${PAGE.width}" height="${PAGE.height}" fill="${INK.page}"/>`,
    pageText(PAGE.margin, 20, title, { size: 8, weight: 'bold' }),
    pageText(PAGE.margin, 28, under, { size: 3.8, fill: INK.soft }),
    ...choiceTable(model),
    ...panels(model),
    ...foot(model),
  ];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${PAGE.width}mm" height="${PAGE.height}mm" viewBox="0 0 ${PAGE.width} ${PAGE.height}" font-family="Helvetica, Arial, 'DejaVu Sans', sans-serif" role="img" aria-labelledby="title desc">`,
    `<title id="title">${escapeHtml(`What cuts ${title}`)}</title>`,
    `<desc id="desc">${escapeHtml(describe(model))}</desc>`,
    ...parts,
    '</svg>',
    '',
  ].join('\n');
}

function describe(model: ReachModel): string {
  return model.choices
    .map(({ thicknessMm, standing, recipe }) =>
      standing === 'out-of-reach'
        ? `${writtenMm(thicknessMm)}: out of reach`
        : `${writtenMm(thicknessMm)}: ${recipe.lens} lens, ${formatCount(recipe.passes, 'pass', 'passes')} at ${formatSpeed(recipe.speedMmPerS)}, focus ${formatFocus(recipe.focusMm)}${standing === 'prove' ? ', to be proved' : ''}`,
    )
    .join('; ');
}

/** The sheets up to the thickest in reach; all thicker ones share one row at the end. */
function shownChoices(model: ReachModel): (ReachChoice & { sheet: string })[] {
  const lastInReach = model.choices.findLastIndex(({ standing }) => standing !== 'out-of-reach');
  return model.choices.slice(0, lastInReach + 2).map((choice, i) => ({
    ...choice,
    sheet: `${writtenMm(choice.thicknessMm)}${i > lastInReach && i + 1 < model.choices.length ? ' +' : ''}`,
  }));
}

/** Where the columns of the table stand, mm from the margin: the last one is set flush right. */
const COLUMNS = { lens: 18, focus: 32, run: TABLE.width };

function choiceTable(model: ReachModel): string[] {
  const { margin } = PAGE;
  const rows = shownChoices(model);
  const rowHeight = Math.min(9, (PAGE.height - TABLE.top - footHeight(model) - 8) / Math.max(1, rows.length));
  const size = Math.min(4.2, rowHeight * 0.62);
  const head = { size: 2.7, fill: INK.soft };
  const parts = [
    pageText(margin, TABLE.top - 3, 'sheet', head),
    pageText(margin + COLUMNS.lens, TABLE.top - 3, 'lens', head),
    pageText(margin + COLUMNS.focus, TABLE.top - 3, 'focus, mm', head),
    pageText(margin + COLUMNS.run, TABLE.top - 3, 'passes × speed', { ...head, anchor: 'end' }),
  ];
  rows.forEach((choice, i) => {
    const top = TABLE.top + i * rowHeight;
    const base = top + rowHeight * 0.7;
    if (i % 2 === 0)
      parts.push(
        `<rect x="${margin - 2}" y="${coordinate(top)}" width="${TABLE.width + 4}" height="${coordinate(rowHeight)}" fill="${INK.mark}"/>`,
      );
    parts.push(pageText(margin, base, choice.sheet, { size, weight: 'bold' }), ...choiceWords(choice, base, size));
  });
  return parts;
}

function choiceWords({ standing, recipe }: ReachChoice, base: number, size: number): string[] {
  const { margin } = PAGE;
  if (standing === 'out-of-reach') {
    return [pageText(margin + COLUMNS.lens, base, 'too thick: see below', { size: size * 0.85, fill: INK.soft })];
  }
  const { lens, passes, focusMm, focusStepMm, speedMmPerS } = recipe;
  const fill = standing === 'sure' ? INK.text : INK.soft;
  const step = focusStepMm === 0 ? '' : `, ${trimmed(focusStepMm, 2)}`;
  const run = `${passes} × ${formatSpeed(speedMmPerS)}${standing === 'sure' ? '' : ' ?'}`;
  return [
    pageText(margin + COLUMNS.lens, base, lens, { size, weight: 'bold', fill }),
    pageText(margin + COLUMNS.focus, base, `${trimmed(focusMm, 2)}${step}`, { size, fill }),
    pageText(margin + COLUMNS.run, base, run, { size, fill, anchor: 'end' }),
  ];
}

function panels(model: ReachModel): string[] {
  const count = model.lenses.length;
  const across = Math.min(MOST_ACROSS, count);
  const down = Math.ceil(count / across);
  const width = (PAGE.width - PAGE.margin - PANELS.left - (across - 1) * PANELS.gap) / across;
  const height = (PAGE.height - PANELS.top - footHeight(model) - (down - 1) * 14) / down;
  const highest = highestShown(model);
  return model.lenses.flatMap((lens, i) => {
    const x = PANELS.left + (i % across) * (width + PANELS.gap);
    const y = PANELS.top + Math.floor(i / across) * (height + 14);
    return reachPanel(model, lens, { x, y, width, height: height - 10 }, highest, i % across === 0);
  });
}

/** All panels share the scale of thickness: up to what any lens may reach at the floor, no further than a little above the thickest sheet. */
function highestShown(model: ReachModel): number {
  const reached = Math.max(...model.lenses.map((lens) => lens.greatest.highMm));
  const inReach = model.choices.filter(({ standing }) => standing !== 'out-of-reach');
  const sheets = model.choices.map(({ thicknessMm }) => thicknessMm);
  const thickest = Math.max(0, ...inReach.map(({ thicknessMm }) => thicknessMm));
  return Math.max(Math.min(reached * 1.15, Math.max(...sheets) * 1.2), Math.min(...sheets) * 1.5, thickest * 1.1);
}

function publishedLine({ published, powerW, passes }: ReachModel): string[] {
  if (published.length === 0) return [];
  const recipe = `in ${formatCount(passes, 'pass', 'passes')}, speed scaled to ${formatWatts(powerW)}`;
  return [`Diamonds: cuts that others published (kerflint evidence), ${recipe}. Full: parted. Empty: did not.`];
}

/** What the lines at the foot of the page take, mm, with the margin below them. */
const footHeight = (model: ReachModel): number => FOOT.bottomMm + (footLines(model).length - 1) * FOOT.lineMm;

function foot(model: ReachModel): string[] {
  const lines = footLines(model);
  const first = PAGE.height - FOOT.bottomMm - (lines.length - 1) * FOOT.lineMm;
  return lines.map((each, i) =>
    pageText(PAGE.margin, first + i * FOOT.lineMm, each, { size: FOOT.sizeMm, fill: INK.soft }),
  );
}

function footLines(model: ReachModel): string[] {
  const floor =
    model.floorMmPerS === null
      ? 'No clean-speed floor is known for this material.'
      : `Dashed: ${formatSpeed(model.floorMmPerS)}, below which the edge chars, melts or flares.`;
  const focus = model.focusMm === null ? 'the focus where it serves best' : `the focus ${formatFocus(model.focusMm)}`;
  const limit = formatPercent(model.limit);
  return [
    `Bold line: what parts with 90 %, in ${formatCount(model.passes, 'pass', 'passes')}, ${focus}. Thin line: the median. Grey: the 5 to 95 % range. ${floor}`,
    `Table and dots: what each sheet takes with ${limit}; a second figure is how far the focus moves after each pass. With a "?" and as a ring: less than ${limit}, prove it on a coupon.`,
    'Level lines: sheet as it is sold. Too thick: take thinner sheet, stacked, or a stronger source (kerflint recipe tells).',
    ...publishedLine(model),
    'Predicted, not measured: prove a setting on a scrap of the same sheet.',
    ...[materialCaution({ name: model.material, hazard: model.hazard }), CAUTION].flatMap((text) =>
      wrapAnsi(text, FOOT.widthInLetters).split('\n'),
    ),
  ];
}
