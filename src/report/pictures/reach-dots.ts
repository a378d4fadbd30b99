import { symbol, symbolCircle, symbolCross, symbolDiamond, symbolSquare } from 'd3-shape';
import type { DrawnCoupon, DrawnCut, ReachGoal } from '../../facts/drawing/drawing-model.ts';
import { citedSentence } from '../../facts/evidence/cited-text.ts';
import type { PublishedDot } from '../../facts/evidence/published-dots.ts';
import { formatChance, formatCount, formatSpeed } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { marginClass } from './margin-scale.ts';
import { coordinate, rectangle, straightLine } from './picture-parts.ts';
import type { Scales } from './reach-scales.ts';

/** Sizes of the dots, px². */
const CUT = 90;
const HERE = 190;

/** The least sure cut: a large dot on the line of the sheet, and a bar over the band of its own depth. */
export function herePart(cut: DrawnCut, thicknessMm: number, scales: Scales): string[] {
  const { x, y, room } = scales;
  const speed = cut.speedMmPerS ?? 1;
  const [at, line] = [x(speed), y(thicknessMm)];
  keepDotFree(scales, at, line);
  return [
    straightLine(at, y(cut.depthLowMm ?? 0), at, y(cut.depthHighMm ?? 0), 'p-line'),
    rectangle(at - 6, y(cut.depthMm ?? 0) - 1, 12, 2, 'p-ink'),
    dot(cut, at, line, HERE),
    room.place(
      {
        text: `you are here: ${formatSpeed(speed)}, ${formatChance(cut.probability ?? 0)}`,
        size: 14,
        classes: 't-bold halo',
      },
      around(at, line, 14),
    ),
  ];
}

/** Where it should go: a ring around a dot. */
export function goalPart(goal: ReachGoal, thicknessMm: number, scales: Scales): string[] {
  const { x, y, room } = scales;
  const [at, line] = [x(goal.speedMmPerS), y(thicknessMm)];
  keepDotFree(scales, at, line);
  const text = `go to here: ${formatCount(goal.passes, 'pass', 'passes')}, ${formatSpeed(goal.speedMmPerS)}, ${formatChance(goal.probability)}`;
  return [
    `<circle class="p-thin" cx="${coordinate(at)}" cy="${coordinate(line)}" r="11"/>`,
    `<circle class="p-ink" cx="${coordinate(at)}" cy="${coordinate(line)}" r="4"/>`,
    room.place({ text, size: 14, classes: 't-bold halo' }, around(at, line, 14)),
  ];
}

/** The other cuts, each with its number where there is room. Many cuts of one speed are one dot. */
export function cutDots(
  cuts: readonly DrawnCut[],
  here: DrawnCut | null,
  thicknessMm: number,
  scales: Scales,
): string[] {
  const { x, y, room } = scales;
  const line = y(thicknessMm);
  const seen = new Set(here === null ? [] : [Math.round(x(here.speedMmPerS ?? 1))]);
  return cuts.flatMap((cut) => {
    const at = x(cut.speedMmPerS ?? 1);
    if (seen.has(Math.round(at))) return [];
    seen.add(Math.round(at));
    return [
      dot(cut, at, line, CUT),
      room.place({ text: `cut ${cut.cut + 1}`, size: 13, classes: 'halo' }, [
        { x: at + 9, y: line + 17 },
        { x: at + 9, y: line - 9 },
      ]),
    ];
  });
}

function dot(cut: DrawnCut, at: number, line: number, size: number): string {
  const circle = symbol(symbolCircle, size).digits(2)() ?? '';
  return `<path class="p-dot ${marginClass(cut).css}" transform="translate(${coordinate(at)} ${coordinate(line)})" d="${circle}"/>`;
}

function keepDotFree({ room }: Scales, at: number, line: number): void {
  room.keepOff(at, line, 8);
}

/** Places for words around a dot, the nearest first. */
function around(at: number, line: number, size: number): { x: number; y: number }[] {
  const rows = [-15, size + 12, -32, size + 30, -50, size + 48, -68, size + 66];
  return rows.flatMap((off) => [at + 4, at - 60, at - 140, at - 260, at - 340].map((x) => ({ x, y: line + off })));
}

/** A square stands where a coupon parted, a cross where it did not or where its depth was measured. */
export function couponPart({ thicknessMm, speedMmPerS, through, depthMm }: DrawnCoupon, { x, y }: Scales): string {
  const mm = through === null ? (depthMm ?? thicknessMm) : thicknessMm;
  const shape = symbol(through === true ? symbolSquare : symbolCross, 60).digits(2)();
  return `<path class="p-thin" transform="translate(${coordinate(x(speedMmPerS))} ${coordinate(y(mm))})" d="${shape ?? ''}"/>`;
}

/** A full diamond where a published cut parted, an empty one where it did not. */
export function publishedPart({ speedMmPerS, cut }: PublishedDot, { x, y }: Scales): string {
  const shape = symbol(symbolDiamond, 50).digits(2)() ?? '';
  const css = cut.outcome === 'not' ? 'p-thin' : 'p-ink';
  return `<path class="${css}" transform="translate(${coordinate(x(speedMmPerS))} ${coordinate(y(cut.thicknessMm))})" d="${shape}"><title>${escapeHtml(citedSentence(cut))}</title></path>`;
}
