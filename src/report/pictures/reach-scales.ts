import { scaleLinear, scaleLog } from 'd3-scale';
import type { ReachCurves } from '../../facts/bench/reach-model.ts';
import type { DrawnCut, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { PlacedWords } from './placed-words.ts';

/** Wide, since speeds span two powers of ten; words have the size of those around it on a screen that is wide enough. */
export const PLOT = { width: 720, height: 390, left: 58, right: 700, top: 58, bottom: 336 };
/** Room above the thickest thing shown, and beyond the fastest. */
const HEADROOM = 1.15;
/** Where a lens parts less than this share of the sheet, faster tells nothing more. */
const THIN_SHARE = 0.25;

/** The scales of a chart. */
export interface Scales {
  readonly x: ReturnType<typeof scaleLog<number, number>>;
  readonly y: ReturnType<typeof scaleLinear<number, number>>;
  readonly highestMm: number;
  readonly room: PlacedWords;
}

/** Scales that hold the sheet, the job's own cuts, what is proposed, and of the curves what tells something about the sheet. */
export function scalesOf(
  drawing: JobDrawing,
  model: ReachCurves,
  cuts: readonly DrawnCut[],
  thicknessMm: number,
): Scales {
  const { coupons, goTo } = drawing;
  const dots = [...cuts, ...coupons, ...(goTo ? [goTo] : [])]
    .map((one) => one.speedMmPerS ?? 0)
    .filter((speed) => speed > 0);
  const points = model.lenses.flatMap((lens) => lens.points);
  const slowest = least([...points.map((point) => point.speedMmPerS), ...dots]);
  const telling = points.filter((point) => point.depthMm >= thicknessMm * THIN_SHARE).map((point) => point.speedMmPerS);
  const fastest = Math.max(most([...telling, ...dots]) * HEADROOM, slowest * 4);
  const reached = most(model.lenses.map(({ greatest }) => greatest.sureMm));
  const shown = [thicknessMm, ...coupons.map((one) => one.thicknessMm)];
  const highestMm = Math.max(most(shown) * 1.3, Math.min(reached * HEADROOM, 2.2 * thicknessMm));
  return {
    x: scaleLog([slowest, fastest], [PLOT.left, PLOT.right]).clamp(true),
    y: scaleLinear([0, highestMm], [PLOT.bottom, PLOT.top]).clamp(true),
    highestMm,
    room: new PlacedWords({ left: PLOT.left, top: PLOT.top - 16, right: PLOT.width, bottom: PLOT.bottom }),
  };
}

const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), 0);
