import { SegmentGrid } from '../geometry/grid.ts';
import { distanceToSegment, type Segments } from '../geometry/segments.ts';
import type { StrokeContour } from './stroke-contours.ts';

/** A loose end this near to another cut ends on it: half a kerf and what programs round, mm. */
const ON_ANOTHER_MM = 0.3;
/** Cells of the index of ends, mm. */
const CELL_MM = 1;

/**
 * Numbers of the open contours with an end that does not lie on another contour, at most `most`, ascending. The ends are
 * indexed and all contours pass by them: ends are few beside what they may lie on.
 */
export function looseEnds(contours: readonly StrokeContour[], most: number): number[] {
  const ends = endsOfOpen(contours);
  const grid = new SegmentGrid(ends, CELL_MM).insertAll();
  const loose = new Uint8Array(ends.count).fill(1);
  let left = ends.count;
  const pass = (contour: number, x0: number, y0: number, x1: number, y1: number): void => {
    const found = grid.search(x0, y0, x1, y1, ON_ANOTHER_MM);
    for (let k = 0; k < grid.foundCount; k++) {
      const end = found[k]!;
      if (loose[end] === 0 || ends.owner[end] === contour) continue;
      if (distanceToSegment(ends.x0[end]!, ends.y0[end]!, x0, y0, x1, y1) > ON_ANOTHER_MM) continue;
      loose[end] = 0;
      left--;
    }
  };
  for (let c = 0; c < contours.length && left > 0; c++) {
    const { xy, closed } = contours[c]!;
    const last = xy.length - 2;
    for (let at = 0; at < last; at += 2) pass(c, xy[at]!, xy[at + 1]!, xy[at + 2]!, xy[at + 3]!);
    if (closed) pass(c, xy[last]!, xy[last + 1]!, xy[0]!, xy[1]!);
  }
  const open = new Set<number>();
  for (let end = 0; end < ends.count && open.size < most; end++) if (loose[end] === 1) open.add(ends.owner[end]!);
  return [...open];
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
