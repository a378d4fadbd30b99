import { area, line } from 'd3-shape';
import type { ReachCurves, ReachDepth, ReachLens } from '../../facts/bench/reach-model.ts';
import type { ReachGoal } from '../../facts/drawing/drawing-model.ts';
import { trimmed } from '../../units/format.ts';
import { SPEED_TICKS, spaced, THICKNESS_TICKS } from './familiar-ticks.ts';
import { coordinate, straightLine, svgText } from './picture-parts.ts';
import { fittedTo } from './placed-words.ts';
import { PLOT, type Scales } from './reach-scales.ts';

/** Lines of more lenses look alike again. */
const DASHES = 4;

/** Of each lens what parts with 90 %, bold, and the median, thin; of the first, the fitted one, the 5 to 95 % band. */
export function curveParts({ lenses }: ReachCurves, scales: Scales): string[] {
  const [fitted] = lenses;
  const medians = lenses.map(
    ({ points }) => `<path class="p-median" d="${curve(points, scales, (point) => point.depthMm)}"/>`,
  );
  const sures = lenses.map(
    ({ points }, i) => `<path class="p-sure l${i % DASHES}" d="${curve(points, scales, (point) => point.sureMm)}"/>`,
  );
  return [...(fitted ? [bandPart(fitted, scales)] : []), ...medians, ...sures];
}

/** What parts with 90 % with the passes, power and focus that are proposed. */
export function goalCurve({ points }: ReachGoal, scales: Scales): string[] {
  return points.length < 2 ? [] : [`<path class="p-goal" d="${curve(points, scales, (point) => point.sureMm)}"/>`];
}

function curve(points: readonly ReachDepth[], { x, y, highestMm }: Scales, mm: (point: ReachDepth) => number): string {
  const shown = line<ReachDepth>(
    (point) => x(point.speedMmPerS),
    (point) => y(mm(point)),
  ).digits(2);
  return shown(points.filter((point) => mm(point) <= highestMm && inDomain(x, point.speedMmPerS))) ?? '';
}

function bandPart({ points }: ReachLens, { x, y }: Scales): string {
  const band = area<ReachDepth>(
    (point) => x(point.speedMmPerS),
    (point) => y(point.lowMm),
    (point) => y(point.highMm),
  ).digits(2);
  return `<path class="p-band" d="${band(points.filter((point) => inDomain(x, point.speedMmPerS))) ?? ''}"/>`;
}

function inDomain(x: Scales['x'], speed: number): boolean {
  const [first = 0, last = 0] = x.domain();
  return speed >= first && speed <= last;
}

/** The name of each lens beside its bold line, where there is room. */
export function lensLabels({ lenses }: ReachCurves, { x, y, highestMm, room }: Scales): string[] {
  return lenses.map(({ id, points }) => {
    const along = points.filter((point) => point.sureMm <= highestMm && inDomain(x, point.speedMmPerS));
    // Begin in the middle, where curves lie apart, and try either way.
    const middle = Math.floor(along.length / 2);
    const order = along
      .map((_, i) => along[middle + (i % 2 === 0 ? i / 2 : -(i + 1) / 2)])
      .filter((point) => point !== undefined);
    const places = order.flatMap((point) => [
      { x: x(point.speedMmPerS) + 6, y: y(point.sureMm) - 7 },
      { x: x(point.speedMmPerS) - 60, y: y(point.sureMm) + 18 },
    ]);
    return room.place({ text: fittedTo(150, id, 14), size: 14, classes: 't-bold halo' }, places);
  });
}

/** Axes with the speeds that people set and the sheets that are sold, the sheet itself, and where clean edges begin. */
export function axisParts(model: ReachCurves, thicknessMm: number, scales: Scales): string[] {
  const { x, y, highestMm, room } = scales;
  const [first = 0, last = 0] = x.domain();
  const { left, right, top, bottom } = PLOT;
  const speeds = spaced(
    SPEED_TICKS.filter((tick) => tick >= first && tick <= last),
    (tick) => x(tick),
    34,
  );
  const sheets = spaced(
    THICKNESS_TICKS.filter((tick) => tick <= highestMm && tick >= highestMm / 20),
    (tick) => y(tick),
    20,
  );
  const floor = model.floorMmPerS;
  const floorAt = floor !== null && floor > first && floor < last ? x(floor) : null;
  return [
    ...sheets.map(
      (mm) =>
        straightLine(left, y(mm), right, y(mm), 'p-rule') + svgText(left - 8, y(mm) + 5, 13, trimmed(mm, 2), 't-end'),
    ),
    ...speeds.map(
      (speed) =>
        straightLine(x(speed), bottom, x(speed), bottom + 6, 'p-axis') +
        svgText(x(speed), bottom + 21, 13, trimmed(speed, 1), 't-mid'),
    ),
    straightLine(left, bottom, right, bottom, 'p-axis'),
    straightLine(left, top, left, bottom, 'p-axis'),
    svgText((left + right) / 2, bottom + 42, 13, 'speed, mm/s', 't-mid t-soft'),
    `<g transform="translate(16 ${coordinate((top + bottom) / 2)}) rotate(-90)">${svgText(0, 0, 13, 'thickness, mm', 't-mid t-soft')}</g>`,
    straightLine(left, y(thicknessMm), right, y(thicknessMm), 'p-dash'),
    ...(floorAt === null
      ? []
      : [
          straightLine(floorAt, top, floorAt, bottom, 'p-dash'),
          room.place({ text: 'clean from here →', size: 13, classes: 'halo' }, [
            { x: floorAt + 6, y: bottom - 8 },
            { x: floorAt + 6, y: top + 12 },
          ]),
        ]),
  ];
}
