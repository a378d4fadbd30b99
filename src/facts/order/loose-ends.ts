import type { Segments } from '../../geometry/segments/segments.ts';
import type { StrokeContour } from '../strokes/stroke-contours.ts';
import { EndSearch } from './end-search.ts';

/** Consecutive segments of a contour that are searched for together. */
const TOGETHER = 8;

/**
 * Numbers of the open contours with an end that does not lie on another contour, ascending. The ends are indexed and all
 * contours pass by them: ends are few beside what they may lie on.
 */
export function looseEnds(contours: readonly StrokeContour[]): number[] {
  const search = new EndSearch(endsOfOpen(contours));
  for (let c = 0; c < contours.length && search.left > 0; c++) {
    const { xy, closed } = contours[c]!;
    const points = xy.length >> 1;
    const segments = closed ? points : points - 1;
    for (let from = 0; from < segments; from += TOGETHER) {
      search.takeThoseOn(c, xy, from, Math.min(from + TOGETHER, segments));
    }
  }
  return search.owners();
}

/** The two ends of each open contour as segments without length, owned by the contour. */
function endsOfOpen(contours: readonly StrokeContour[]): Segments {
  const open = Array.from(contours.keys()).filter((c) => !contours[c]!.closed);
  const x = new Float64Array(2 * open.length);
  const y = new Float64Array(2 * open.length);
  const owner = new Uint32Array(2 * open.length);
  for (const [k, c] of open.entries()) {
    const { xy } = contours[c]!;
    x.set([xy[0]!, xy[xy.length - 2]!], 2 * k);
    y.set([xy[1]!, xy[xy.length - 1]!], 2 * k);
    owner.fill(c, 2 * k, 2 * k + 2);
  }
  return { count: x.length, x0: x, y0: y, x1: x, y1: y, owner, ignored: 0 };
}
