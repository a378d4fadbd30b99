import { scaleLinear, scaleLog } from 'd3-scale';
import { area, line, symbol, symbolCircle, symbolCross, symbolDiamond, symbolSquare } from 'd3-shape';
import type { ReachCurves, ReachDepth } from '../../facts/bench/reach-model.ts';
import type { DrawnCoupon, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { citedSentence } from '../../facts/evidence/cited-text.ts';
import type { PublishedDot } from '../../facts/evidence/published-dots.ts';
import {
  formatCount,
  formatDepth,
  formatMm,
  formatPercent,
  formatSpeed,
  formatWatts,
  trimmed,
} from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { chanceText, marginClass } from './margin-scale.ts';
import { coordinate, type Picture, rectangle, straightLine, svgText } from './picture-parts.ts';

/** As wide as a phone at the machine shows at its own size, so that the words stay as large as those around. */
const PLOT = { width: 380, height: 310, left: 50, right: 366, top: 44, bottom: 262 };
/** Room above the thickest thing shown. */
const HEADROOM = 1.15;
/** Labels of dots keep this distance, px. */
const APART = 16;

/** Thickness against speed for the job's machine, lens and material, with the job's cuts and the material's coupons; null without a model. */
export function reachOfJob(drawing: JobDrawing, thicknessMm: number | null): Picture | null {
  const lens = drawing.reach?.lenses[0];
  if (!drawing.reach || !lens || lens.points.length < 2 || thicknessMm === null) return null;
  const model = drawing.reach;
  const dots = drawing.cuts.filter(
    (cut) => cut.aim === 'through' && cut.depthMm !== null && (cut.speedMmPerS ?? 0) > 0,
  );
  const { coupons } = drawing;
  const speeds = [...lens.points, ...dots, ...coupons].map((one) => one.speedMmPerS ?? 0).filter((speed) => speed > 0);
  const x = scaleLog([least(speeds), most(speeds)], [PLOT.left, PLOT.right]);
  const shown = [thicknessMm, ...dots.map((cut) => cut.depthHighMm ?? 0), ...coupons.map((one) => one.thicknessMm)];
  const highest = most([most(shown) * HEADROOM, Math.min(lens.greatest.highMm, 2 * thicknessMm)]);
  const y = scaleLinear([0, highest], [PLOT.bottom, PLOT.top]).nice().clamp(true);
  const band = area<ReachDepth>(
    (point) => x(point.speedMmPerS),
    (point) => y(point.lowMm),
    (point) => y(point.highMm),
  ).digits(2);
  const median = line<ReachDepth>(
    (point) => x(point.speedMmPerS),
    (point) => y(point.depthMm),
  ).digits(2);
  const published = publishedOnChart(model, x, highest);
  const recipe = `${formatCount(model.passes, 'pass', 'passes')} at ${formatPercent(model.setting)}, ${formatWatts(model.powerW)}`;
  const parts = [
    svgText(PLOT.left, 18, 15, `${lens.id} lens, ${recipe}`, 't-bold'),
    svgText(PLOT.left, 33, 11, `basis: ${model.basis}`, 't-soft'),
    `<path class="p-band" d="${band(lens.points) ?? ''}"/>`,
    ...scaleMarks(x, y),
    `<path class="p-line" d="${median(lens.points) ?? ''}"/>`,
    ...floorParts(model.floorMmPerS, x),
    ...sheetLine(thicknessMm, y),
    ...published.map((dot) => publishedPart(dot, x, y)),
    ...coupons.map((coupon) => couponPart(coupon, x, y)),
    ...dotParts(dots, thicknessMm, x, y),
  ];
  return {
    viewBox: { x: 0, y: 0, width: PLOT.width, height: PLOT.height },
    title: `Reach of ${model.machine} in ${model.material}`,
    description: [
      `Under the ${lens.id} lens, ${recipe}:`,
      model.floorMmPerS === null
        ? `at ${formatSpeed(lens.greatest.speedMmPerS)}`
        : `at the clean-speed floor of ${formatSpeed(model.floorMmPerS)}`,
      `the median depth is ${formatDepth(lens.greatest.depthMm, lens.greatest.lowMm, lens.greatest.highMm)}; the sheet has ${formatMm(thicknessMm)}.`,
      ...(published.length === 0 ? [] : [`${formatCount(published.length, 'published cut')} beside it.`]),
      ...dots.map((cut) => `Cut ${cut.cut + 1}: ${formatSpeed(cut.speedMmPerS ?? 0)}, ${chanceText(cut)}.`),
    ].join(' '),
    body: parts.join('\n'),
  };
}

type Across = ReturnType<typeof scaleLog<number, number>>;
type Up = (mm: number) => number;

function scaleMarks(x: Across, y: ReturnType<typeof scaleLinear<number, number>>): string[] {
  const label = x.tickFormat(5, '~g');
  return [
    ...y
      .ticks(6)
      .map(
        (mm) =>
          straightLine(PLOT.left - 5, y(mm), PLOT.left, y(mm), 'p-axis') +
          svgText(PLOT.left - 8, y(mm) + 4, 11, trimmed(mm, 2), 't-end'),
      ),
    ...x
      .ticks()
      .map(
        (speed) =>
          straightLine(x(speed), PLOT.bottom, x(speed), PLOT.bottom + 5, 'p-axis') +
          svgText(x(speed), PLOT.bottom + 18, 11, label(speed), 't-mid'),
      ),
    straightLine(PLOT.left, PLOT.bottom, PLOT.right, PLOT.bottom, 'p-axis'),
    straightLine(PLOT.left, PLOT.top, PLOT.left, PLOT.bottom, 'p-axis'),
    svgText((PLOT.left + PLOT.right) / 2, PLOT.bottom + 38, 12, 'speed, mm/s', 't-mid t-soft'),
    `<g transform="translate(14 ${coordinate((PLOT.top + PLOT.bottom) / 2)}) rotate(-90)">${svgText(0, 0, 12, 'thickness and depth, mm', 't-mid t-soft')}</g>`,
  ];
}

function floorParts(floor: number | null, x: Across): string[] {
  const [first = 0, last = 0] = x.domain();
  if (floor === null || floor <= first || floor >= last) return [];
  const at = x(floor);
  return [
    straightLine(at, PLOT.top, at, PLOT.bottom, 'p-dash'),
    svgText(at + 5, PLOT.bottom - 8, 11, 'clean from here →', 'halo'),
  ];
}

function sheetLine(thicknessMm: number, y: Up): string[] {
  return [
    straightLine(PLOT.left, y(thicknessMm), PLOT.right, y(thicknessMm), 'p-dash'),
    svgText(PLOT.right, y(thicknessMm) - 6, 12, `this sheet, ${formatMm(thicknessMm)}`, 't-end t-bold halo'),
  ];
}

/** A square stands where a coupon parted, a cross where it did not or where its depth was measured. */
function couponPart({ thicknessMm, speedMmPerS, through, depthMm }: DrawnCoupon, x: Across, y: Up): string {
  const mm = through === null ? (depthMm ?? thicknessMm) : thicknessMm;
  const shape = symbol(through === true ? symbolSquare : symbolCross, 60).digits(2)();
  return `<path class="p-thin" transform="translate(${coordinate(x(speedMmPerS))} ${coordinate(y(mm))})" d="${shape ?? ''}"/>`;
}

/** Published cuts that lie on the chart: it is laid out for the job's own. */
function publishedOnChart(model: ReachCurves, x: Across, highestMm: number): PublishedDot[] {
  const [first = 0, last = 0] = x.domain();
  return model.published.filter(
    ({ speedMmPerS, cut }) => speedMmPerS >= first && speedMmPerS <= last && cut.thicknessMm <= highestMm,
  );
}

/** A full diamond where a published cut parted, an empty one where it did not. */
function publishedPart({ speedMmPerS, cut }: PublishedDot, x: Across, y: Up): string {
  const shape = symbol(symbolDiamond, 50).digits(2)() ?? '';
  const css = cut.outcome === 'not' ? 'p-thin' : 'p-ink';
  return `<path class="${css}" transform="translate(${coordinate(x(speedMmPerS))} ${coordinate(y(cut.thicknessMm))})" d="${shape}"><title>${escapeHtml(citedSentence(cut))}</title></path>`;
}

/** Each cut as a dot on the sheet's thickness, a bar over the band of its own depth, and its number. */
function dotParts(dots: JobDrawing['cuts'], thicknessMm: number, x: Across, y: Up): string[] {
  const circle = symbol(symbolCircle, 90).digits(2)() ?? '';
  const groups = new Map<number, number[]>();
  for (const cut of dots) {
    const at = Math.round(x(cut.speedMmPerS ?? 1) / APART);
    groups.set(at, [...(groups.get(at) ?? []), cut.cut + 1]);
  }
  return dots.map((cut) => {
    const at = x(cut.speedMmPerS ?? 1);
    const { css } = marginClass(cut);
    const bar =
      straightLine(at, y(cut.depthLowMm ?? 0), at, y(cut.depthHighMm ?? 0), 'p-line') +
      rectangle(at - 5, y(cut.depthMm ?? 0) - 1, 10, 2, 'p-ink');
    const dot = `<path class="p-dot ${css}" transform="translate(${coordinate(at)} ${coordinate(y(thicknessMm))})" d="${circle}"/>`;
    const [first, ...more] = groups.get(Math.round(at / APART)) ?? [];
    if (first !== cut.cut + 1) return bar + dot;
    const label =
      more.length === 0
        ? `cut ${first}`
        : `cuts ${[first, ...more].slice(0, 4).join(', ')}${more.length > 3 ? ' …' : ''}`;
    return bar + dot + svgText(at + 9, y(thicknessMm) + 16, 11, label, 't-bold halo');
  });
}

function least(values: readonly number[]): number {
  return values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
}

function most(values: readonly number[]): number {
  return values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
}
