import { scaleLinear, scaleLog } from 'd3-scale';
import { area, line, symbol, symbolDiamond } from 'd3-shape';
import type { ReachDepth, ReachLens, ReachModel } from '../../facts/bench/reach-model.ts';
import { fixed, formatMm, trimmed } from '../../units/format.ts';
import { SPEED_TICKS, spaced } from './familiar-ticks.ts';
import { coordinate } from './picture-parts.ts';
import { INK, pageRule, pageText } from './wall-chart-parts.ts';

/** Where a panel stands on the page, mm. */
export interface PanelFrame {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** One lens: depth over speed, with its doubt, the floor, and the sheets that are sold. */
export function reachPanel(
  model: ReachModel,
  lens: ReachLens,
  frame: PanelFrame,
  highestMm: number,
  labelled: boolean,
): string[] {
  const first = lens.points[0]?.speedMmPerS ?? 1;
  const last = lens.points.at(-1)?.speedMmPerS ?? 10;
  const inset = 7;
  const left = frame.x + inset;
  const right = frame.x + frame.width;
  const bottom = frame.y + frame.height - 6;
  const top = frame.y + 14;
  const x = scaleLog([first, last], [left, right]);
  const y = scaleLinear([0, highestMm], [bottom, top]);
  const clipped = (mm: number) => y(Math.min(mm, highestMm));
  const band = area<ReachDepth>(
    (p) => x(p.speedMmPerS),
    (p) => clipped(p.lowMm),
    (p) => clipped(p.highMm),
  ).digits(2);
  const median = line<ReachDepth>(
    (p) => x(p.speedMmPerS),
    (p) => y(p.depthMm),
  ).digits(2);
  const sure = line<ReachDepth>(
    (p) => x(p.speedMmPerS),
    (p) => y(p.sureMm),
  ).digits(2);
  const medians = lens.points.filter((point) => point.depthMm <= highestMm);
  const sures = lens.points.filter((point) => point.sureMm <= highestMm);
  const parts = [
    pageText(left, frame.y + 4, `${lens.id} lens`, { size: 4.8, weight: 'bold' }),
    pageText(
      left,
      frame.y + 8.5,
      `spot ${formatMm(lens.spotMm, 2)}, in focus over ${formatMm(lens.depthOfFocusMm, 1)}`,
      {
        size: 2.9,
        fill: INK.soft,
      },
    ),
    `<path d="${band(lens.points) ?? ''}" fill="${INK.band}"/>`,
  ];
  for (const mm of spaced(
    model.choices.map(({ thicknessMm }) => thicknessMm).filter((sold) => sold <= highestMm),
    (mm) => y(mm),
    3.4,
  )) {
    parts.push(pageRule(left, y(mm), right, y(mm), { stroke: INK.rule, width: 0.15 }));
    parts.push(pageText(left - 1.2, y(mm) + 1.1, trimmed(mm, 2), { size: 3, anchor: 'end' }));
  }
  for (const speed of spaced(
    SPEED_TICKS.filter((tick) => tick >= first && tick <= last),
    (tick) => x(tick),
    8,
  )) {
    parts.push(pageRule(x(speed), bottom, x(speed), bottom + 1.2, { stroke: INK.text, width: 0.2 }));
    parts.push(pageText(x(speed), bottom + 4.4, trimmed(speed, 1), { size: 3, anchor: 'middle' }));
  }
  parts.push(pageRule(left, bottom, right, bottom, { stroke: INK.text, width: 0.3 }));
  parts.push(pageRule(left, top, left, bottom, { stroke: INK.text, width: 0.3 }));
  if (medians.length > 1)
    parts.push(`<path d="${median(medians) ?? ''}" fill="none" stroke="${INK.text}" stroke-width="0.25"/>`);
  if (sures.length > 1)
    parts.push(`<path d="${sure(sures) ?? ''}" fill="none" stroke="${INK.text}" stroke-width="0.9"/>`);
  if (model.floorMmPerS !== null && model.floorMmPerS >= first && model.floorMmPerS <= last) {
    const at = x(model.floorMmPerS);
    parts.push(
      `<rect x="${coordinate(left)}" y="${coordinate(top)}" width="${coordinate(at - left)}" height="${coordinate(bottom - top)}" fill="${INK.page}" fill-opacity="0.55"/>`,
    );
    parts.push(pageRule(at, top, at, bottom, { stroke: INK.text, width: 0.35, dash: '1.6 1' }));
    parts.push(pageText(at + 0.8, top + 2.4, 'clean from here →', { size: 2.6, halo: true }));
  }
  parts.push(...publishedParts(model, { first, last, highestMm }, x, y));
  parts.push(...choiceParts(model, lens.id, { first, last, highestMm }, x, y));
  const { greatest } = lens;
  if (greatest.sureMm <= highestMm) {
    const at = { x: x(greatest.speedMmPerS), y: y(greatest.sureMm) };
    parts.push(
      pageText(at.x + 2.2, at.y - 1, `90 %: ${formatMm(greatest.sureMm, 1)}`, {
        size: 3.2,
        weight: 'bold',
        halo: true,
      }),
    );
    const range = `median ${fixed(greatest.depthMm, 1)}, likely ${fixed(greatest.lowMm, 1)}–${fixed(greatest.highMm, 1)}`;
    parts.push(pageText(at.x + 2.2, at.y + 2.6, range, { size: 2.8, halo: true }));
  }
  if (labelled) {
    parts.push(pageText(left, bottom + 9.5, 'speed, mm/s →', { size: 3.2, fill: INK.soft }));
    parts.push(pageText(left + 1, top - 0.6, '↑ thickness, mm', { size: 3.2, fill: INK.soft }));
  }
  return parts;
}

/** The table's sheets that this lens cuts, each at its speed: a dot, a ring where it is to be proved; passes beside it where there are several. */
function choiceParts(
  { choices }: ReachModel,
  lens: string,
  within: { first: number; last: number; highestMm: number },
  x: (speed: number) => number,
  y: (mm: number) => number,
): string[] {
  return choices.flatMap(({ thicknessMm, standing, recipe }) => {
    const { speedMmPerS: speed, passes } = recipe;
    if (standing === 'out-of-reach' || recipe.lens !== lens) return [];
    if (speed < within.first || speed > within.last || thicknessMm > within.highestMm) return [];
    const [cx, cy] = [coordinate(x(speed)), coordinate(y(thicknessMm))];
    const fill = standing === 'sure' ? INK.text : INK.page;
    const dot = `<circle cx="${cx}" cy="${cy}" r="0.9" fill="${fill}" stroke="${INK.text}" stroke-width="0.35"/>`;
    if (passes === 1) return [dot];
    return [dot, pageText(x(speed) + 1.6, y(thicknessMm) + 1, `${passes}×`, { size: 2.8, halo: true })];
  });
}

/** Published cuts that lie within the panel: a full diamond where it parted, an empty one where it did not. */
function publishedParts(
  { published }: ReachModel,
  within: { first: number; last: number; highestMm: number },
  x: (speed: number) => number,
  y: (mm: number) => number,
): string[] {
  const shape = symbol(symbolDiamond, 3).digits(2)() ?? '';
  return published
    .filter(
      ({ speedMmPerS: speed, cut }) =>
        speed >= within.first && speed <= within.last && cut.thicknessMm <= within.highestMm,
    )
    .map(({ speedMmPerS, cut }) => {
      const fill = cut.outcome === 'not' ? INK.page : INK.text;
      const at = `${coordinate(x(speedMmPerS))} ${coordinate(y(cut.thicknessMm))}`;
      return `<path d="${shape}" transform="translate(${at})" fill="${fill}" stroke="${INK.text}" stroke-width="0.3"/>`;
    });
}
