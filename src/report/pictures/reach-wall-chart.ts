import { wrapAnsi } from 'fast-wrap-ansi';
import type { ReachChoice, ReachModel } from '../../facts/bench/reach-model.ts';
import { CAUTION, materialCaution } from '../../findings/caution.ts';
import { formatCount, formatFocus, formatPercent, formatSpeed, formatWatts } from '../../units/format.ts';
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
  const under = [
    `${model.source} at ${formatPercent(model.setting)}`,
    formatCount(model.passes, 'pass', 'passes'),
    `focus ${formatFocus(model.focusMm)}`,
    `basis: ${model.basis}`,
  ].join(' · ');
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
    .map((choice) =>
      choice.lens === null || choice.speedMmPerS === null
        ? `${writtenMm(choice.thicknessMm)}: no lens`
        : `${writtenMm(choice.thicknessMm)}: ${choice.lens} lens at ${formatSpeed(choice.speedMmPerS)}`,
    )
    .join('; ');
}

/** The sheets up to the thickest that a lens parts; all thicker ones share one row at the end. */
function shownChoices(model: ReachModel): (ReachChoice & { sheet: string })[] {
  const lastInReach = model.choices.findLastIndex((choice) => choice.lens !== null);
  return model.choices.slice(0, lastInReach + 2).map((choice, i) => ({
    ...choice,
    sheet: `${writtenMm(choice.thicknessMm)}${i > lastInReach && i + 1 < model.choices.length ? ' +' : ''}`,
  }));
}

function choiceTable(model: ReachModel): string[] {
  const { margin } = PAGE;
  const rows = shownChoices(model);
  const rowHeight = Math.min(9, (PAGE.height - TABLE.top - footHeight(model) - 8) / Math.max(1, rows.length));
  const size = Math.min(5.4, rowHeight * 0.62);
  const right = margin + TABLE.width;
  const parts = [
    pageText(margin, TABLE.top - 3, 'sheet', { size: 3.8, fill: INK.soft }),
    pageText(margin + 26, TABLE.top - 3, 'lens', { size: 3.8, fill: INK.soft }),
    pageText(right, TABLE.top - 3, 'no faster than', { size: 3.8, fill: INK.soft, anchor: 'end' }),
  ];
  rows.forEach((choice, i) => {
    const top = TABLE.top + i * rowHeight;
    const base = top + rowHeight * 0.7;
    if (i % 2 === 0)
      parts.push(
        `<rect x="${margin - 2}" y="${coordinate(top)}" width="${TABLE.width + 4}" height="${coordinate(rowHeight)}" fill="${INK.mark}"/>`,
      );
    parts.push(pageText(margin, base, choice.sheet, { size, weight: 'bold' }));
    if (choice.lens === null || choice.speedMmPerS === null) {
      parts.push(pageText(margin + 26, base, 'too thick: see below', { size: size * 0.85, fill: INK.soft }));
    } else {
      parts.push(pageText(margin + 26, base, choice.lens, { size, weight: 'bold' }));
      parts.push(pageText(right, base, formatSpeed(choice.speedMmPerS), { size, anchor: 'end' }));
    }
  });
  return parts;
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
  const sold = Math.max(...model.soldMm);
  return Math.max(Math.min(reached * 1.15, sold * 1.2), Math.min(...model.soldMm) * 1.5);
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
  return [
    `Line: the median depth. Grey: the 5 to 95 % range. ${floor} Thin lines: sheet as it is sold.`,
    `Table: the lens that parts the sheet fastest with a probability of ${formatPercent(model.limit)}. Too thick: make more passes, or take thinner sheet or a stronger source.`,
    ...publishedLine(model),
    'Predicted, not measured: prove a setting on a scrap of the same sheet.',
    ...[materialCaution({ name: model.material, hazard: model.hazard }), CAUTION].flatMap((text) =>
      wrapAnsi(text, FOOT.widthInLetters).split('\n'),
    ),
  ];
}
