import { scaleLinear, scaleLog } from 'd3-scale';
import { area, line } from 'd3-shape';
import type { ReachChoice, ReachDepth, ReachLens, ReachModel } from '../../facts/bench/reach-model.ts';
import { fixed, formatCount, formatFocus, formatMm, formatPercent, formatSpeed, trimmed } from '../../units/format.ts';
import { writtenMm } from '../../units/written.ts';
import { escapeHtml } from '../escape.ts';

/** A4, landscape, in mm: it is made to be printed in greys and pinned beside the machine. */
const PAGE = { width: 297, height: 210, margin: 12 };
const TABLE = { width: 74, top: 44 };
const PANELS = { left: PAGE.margin + TABLE.width + 8, top: 38, gap: 7, bottom: 22 };
const MOST_ACROSS = 3;
/** Ink from black to the page: told apart by lightness, never by hue. */
const INK = { text: '#111111', soft: '#555555', band: '#d4d4d4', rule: '#bbbbbb', mark: '#eeeeee', page: '#ffffff' };
const SPEED_TICKS = [1, 2, 3, 4, 5, 8, 10, 15, 20, 30, 50, 80, 100, 150, 200, 300, 400];

interface PanelFrame {
  x: number;
  y: number;
  width: number;
  height: number;
}

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
    text(PAGE.margin, 20, title, { size: 8, weight: 'bold' }),
    text(PAGE.margin, 28, under, { size: 3.8, fill: INK.soft }),
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

/** The sheets, those that are out of reach of every lens and of nothing thicker in one row at the end. */
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
  const rowHeight = Math.min(9, (PAGE.height - TABLE.top - PANELS.bottom - 8) / Math.max(1, rows.length));
  const size = Math.min(5.4, rowHeight * 0.62);
  const right = margin + TABLE.width;
  const parts = [
    text(margin, TABLE.top - 3, 'sheet', { size: 3.8, fill: INK.soft }),
    text(margin + 26, TABLE.top - 3, 'lens', { size: 3.8, fill: INK.soft }),
    text(right, TABLE.top - 3, 'no faster than', { size: 3.8, fill: INK.soft, anchor: 'end' }),
  ];
  rows.forEach((choice, i) => {
    const top = TABLE.top + i * rowHeight;
    const base = top + rowHeight * 0.7;
    if (i % 2 === 0)
      parts.push(
        `<rect x="${margin - 2}" y="${n(top)}" width="${TABLE.width + 4}" height="${n(rowHeight)}" fill="${INK.mark}"/>`,
      );
    parts.push(text(margin, base, choice.sheet, { size, weight: 'bold' }));
    if (choice.lens === null || choice.speedMmPerS === null) {
      parts.push(text(margin + 26, base, 'too thick: see below', { size: size * 0.85, fill: INK.soft }));
    } else {
      parts.push(text(margin + 26, base, choice.lens, { size, weight: 'bold' }));
      parts.push(text(right, base, formatSpeed(choice.speedMmPerS), { size, anchor: 'end' }));
    }
  });
  return parts;
}

function panels(model: ReachModel): string[] {
  const count = model.lenses.length;
  const across = Math.min(MOST_ACROSS, count);
  const down = Math.ceil(count / across);
  const width = (PAGE.width - PAGE.margin - PANELS.left - (across - 1) * PANELS.gap) / across;
  const height = (PAGE.height - PANELS.top - PANELS.bottom - (down - 1) * 14) / down;
  const highest = highestShown(model);
  return model.lenses.flatMap((lens, i) => {
    const x = PANELS.left + (i % across) * (width + PANELS.gap);
    const y = PANELS.top + Math.floor(i / across) * (height + 14);
    return panel(model, lens, { x, y, width, height: height - 10 }, highest, i % across === 0);
  });
}

/** All panels share the scale of thickness: up to what any lens may reach at the floor, no further than a little above the thickest sheet. */
function highestShown(model: ReachModel): number {
  const reached = Math.max(...model.lenses.map((lens) => lens.greatest.highMm));
  const sold = Math.max(...model.soldMm);
  return Math.max(Math.min(reached * 1.15, sold * 1.2), Math.min(...model.soldMm) * 1.5);
}

function panel(model: ReachModel, lens: ReachLens, frame: PanelFrame, highest: number, labelled: boolean): string[] {
  const first = lens.points[0]?.speedMmPerS ?? 1;
  const last = lens.points.at(-1)?.speedMmPerS ?? 10;
  const inset = 7;
  const left = frame.x + inset;
  const right = frame.x + frame.width;
  const bottom = frame.y + frame.height - 6;
  const top = frame.y + 14;
  const x = scaleLog([first, last], [left, right]);
  const y = scaleLinear([0, highest], [bottom, top]);
  const clipped = (mm: number) => y(Math.min(mm, highest));
  const band = area<ReachDepth>(
    (p) => x(p.speedMmPerS),
    (p) => clipped(p.lowMm),
    (p) => clipped(p.highMm),
  ).digits(2);
  const median = line<ReachDepth>(
    (p) => x(p.speedMmPerS),
    (p) => y(p.depthMm),
  ).digits(2);
  const drawn = lens.points.filter((point) => point.depthMm <= highest);
  const parts = [
    text(left, frame.y + 4, `${lens.id} lens`, { size: 4.8, weight: 'bold' }),
    text(left, frame.y + 8.5, `spot ${formatMm(lens.spotMm, 2)}, in focus over ${formatMm(lens.depthOfFocusMm, 1)}`, {
      size: 2.9,
      fill: INK.soft,
    }),
    `<path d="${band(lens.points) ?? ''}" fill="${INK.band}"/>`,
  ];
  for (const mm of spaced(
    model.soldMm.filter((sold) => sold <= highest),
    (mm) => y(mm),
    3.4,
  )) {
    parts.push(rule(left, y(mm), right, y(mm), { stroke: INK.rule, width: 0.15 }));
    parts.push(text(left - 1.2, y(mm) + 1.1, trimmed(mm, 2), { size: 3, anchor: 'end' }));
  }
  for (const speed of spaced(
    SPEED_TICKS.filter((tick) => tick >= first && tick <= last),
    (tick) => x(tick),
    8,
  )) {
    parts.push(rule(x(speed), bottom, x(speed), bottom + 1.2, { stroke: INK.text, width: 0.2 }));
    parts.push(text(x(speed), bottom + 4.4, trimmed(speed, 1), { size: 3, anchor: 'middle' }));
  }
  parts.push(rule(left, bottom, right, bottom, { stroke: INK.text, width: 0.3 }));
  parts.push(rule(left, top, left, bottom, { stroke: INK.text, width: 0.3 }));
  if (drawn.length > 1)
    parts.push(`<path d="${median(drawn) ?? ''}" fill="none" stroke="${INK.text}" stroke-width="0.7"/>`);
  if (model.floorMmPerS !== null && model.floorMmPerS >= first && model.floorMmPerS <= last) {
    const at = x(model.floorMmPerS);
    parts.push(
      `<rect x="${n(left)}" y="${n(top)}" width="${n(at - left)}" height="${n(bottom - top)}" fill="${INK.page}" fill-opacity="0.55"/>`,
    );
    parts.push(rule(at, top, at, bottom, { stroke: INK.text, width: 0.35, dash: '1.6 1' }));
    parts.push(text(at + 0.8, top + 2.4, 'clean from here →', { size: 2.6, halo: true }));
  }
  const { greatest } = lens;
  if (greatest.depthMm <= highest) {
    const at = { x: x(greatest.speedMmPerS), y: y(greatest.depthMm) };
    parts.push(
      `<circle cx="${n(at.x)}" cy="${n(at.y)}" r="1.1" fill="${INK.page}" stroke="${INK.text}" stroke-width="0.5"/>`,
    );
    parts.push(
      text(at.x + 2.2, at.y - 1, `median ${formatMm(greatest.depthMm, 1)}`, { size: 3.2, weight: 'bold', halo: true }),
    );
    const range = `likely ${fixed(greatest.lowMm, 1)}–${fixed(greatest.highMm, 1)}`;
    parts.push(text(at.x + 2.2, at.y + 2.6, range, { size: 2.8, halo: true }));
  }
  if (labelled) {
    parts.push(text(left, bottom + 9.5, 'speed, mm/s →', { size: 3.2, fill: INK.soft }));
    parts.push(text(left + 1, top - 0.6, '↑ thickness, mm', { size: 3.2, fill: INK.soft }));
  }
  return parts;
}

/** Of rising marks those that stand far enough apart to be read. */
function spaced(marks: readonly number[], at: (mark: number) => number, apart: number): number[] {
  const kept: number[] = [];
  for (const mark of marks) {
    const before = kept.at(-1);
    if (before === undefined || Math.abs(at(mark) - at(before)) >= apart) kept.push(mark);
  }
  return kept;
}

function foot(model: ReachModel): string[] {
  const floor =
    model.floorMmPerS === null
      ? 'No clean-speed floor is known for this material.'
      : `Dashed: ${formatSpeed(model.floorMmPerS)}, below which the edge chars, melts or flares.`;
  const lines = [
    `Line: the median depth. Grey: the 5 to 95 % range. ${floor} Thin lines: sheet as it is sold.`,
    `Table: the lens that parts the sheet fastest with a probability of ${formatPercent(model.limit)}. Too thick: make more passes, or take thinner sheet or a stronger source.`,
    'Predicted, not measured: prove a setting on a scrap of the same sheet. Never leave the machine unattended.',
    ...(model.caution === null ? [] : [`Reconsider this material: ${model.caution}.`]),
  ];
  return lines.map((each, i) => text(PAGE.margin, PAGE.height - 17 + i * 4.4, each, { size: 3.1, fill: INK.soft }));
}

function text(
  x: number,
  y: number,
  words: string,
  style: { size: number; weight?: string; fill?: string; anchor?: string; halo?: boolean },
): string {
  const { size, weight, fill = INK.text, anchor, halo } = style;
  const more = [
    weight === undefined ? '' : ` font-weight="${weight}"`,
    anchor === undefined ? '' : ` text-anchor="${anchor}"`,
    halo ? ` paint-order="stroke" stroke="${INK.page}" stroke-width="0.9"` : '',
  ].join('');
  return `<text x="${n(x)}" y="${n(y)}" font-size="${n(size)}" fill="${fill}"${more}>${escapeHtml(words)}</text>`;
}

function rule(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  style: { stroke: string; width: number; dash?: string },
): string {
  const dash = style.dash === undefined ? '' : ` stroke-dasharray="${style.dash}"`;
  return `<line x1="${n(x1)}" y1="${n(y1)}" x2="${n(x2)}" y2="${n(y2)}" stroke="${style.stroke}" stroke-width="${style.width}"${dash}/>`;
}

/** A coordinate with two decimals at most, free of "-0". */
function n(value: number): string {
  return trimmed(value, 2);
}
