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
  let open = 0;
  for (const { closed } of contours) if (!closed) open++;
  const x = new Float64Array(2 * open);
  const y = new Float64Array(2 * open);
  const owner = new Uint32Array(2 * open);
  let at = 0;
  for (let c = 0; c < contours.length; c++) {
    const { xy, closed } = contours[c]!;
    if (closed) continue;
    for (const point of [0, xy.length - 2]) {
      x[at] = xy[point]!;
      y[at] = xy[point + 1]!;
      owner[at++] = c;
    }
  }
  return { count: x.length, x0: x, y0: y, x1: x, y1: y, owner, ignored: 0 };
}
