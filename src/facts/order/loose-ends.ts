import { SegmentIndex } from '../../geometry/index/segment-index.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import { distanceToSegment, type Segments } from '../../geometry/segments/segments.ts';
import type { StrokeContour } from '../strokes/stroke-contours.ts';

/** A loose end this near to another cut ends on it: half a kerf and what programs round, mm. */
const ON_ANOTHER_MM = 0.3;
/** Parts of the index, mm: ends have no length. */
const PART_MM = 1;
/** Consecutive segments of a contour that are searched for together. */
const TOGETHER = 8;

/**
 * Numbers of the open contours with an end that does not lie on another contour, ascending. The ends are indexed and all
 * contours pass by them: ends are few beside what they may lie on.
 */
export function looseEnds(contours: readonly StrokeContour[]): number[] {
  const ends = endsOfOpen(contours);
  const index = new SegmentIndex(ends, PART_MM);
  const loose = new Uint8Array(ends.count).fill(1);
  let left = ends.count;
  /** Takes the ends that lie on segments `from … to − 1` of contour `c` from the loose ones. */
  const takeThoseOn = (c: number, xy: Float64Array, from: number, to: number): void => {
    const near = index.searchBox(boxOf(xy, from, to), ON_ANOTHER_MM);
    for (let k = 0; k < index.foundCount; k++) {
      const end = near[k]!;
      if (loose[end] === 0 || ends.owner[end] === c) continue;
      if (!passesBy(ends.x0[end]!, ends.y0[end]!, xy, from, to)) continue;
      loose[end] = 0;
      left--;
    }
  };
  for (let c = 0; c < contours.length && left > 0; c++) {
    const { xy, closed } = contours[c]!;
    const points = xy.length >> 1;
    const segments = closed ? points : points - 1;
    for (let from = 0; from < segments; from += TOGETHER) {
      takeThoseOn(c, xy, from, Math.min(from + TOGETHER, segments));
    }
  }
  const open = new Set<number>();
  for (let end = 0; end < ends.count; end++) if (loose[end] === 1) open.add(ends.owner[end]!);
  return [...open];
}

/** Box around points `from … to` of a contour; the one after the last is the first. */
function boxOf(xy: Float64Array, from: number, to: number): Box {
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (let point = from; point <= to; point++) {
    const at = (2 * point) % xy.length;
    box.minX = Math.min(box.minX, xy[at]!);
    box.minY = Math.min(box.minY, xy[at + 1]!);
    box.maxX = Math.max(box.maxX, xy[at]!);
    box.maxY = Math.max(box.maxY, xy[at + 1]!);
  }
  return box;
}

/** Whether one of the segments `from … to − 1` of a contour comes near to a place. */
function passesBy(x: number, y: number, xy: Float64Array, from: number, to: number): boolean {
  for (let i = from; i < to; i++) {
    const next = (2 * i + 2) % xy.length;
    if (distanceToSegment(x, y, xy[2 * i]!, xy[2 * i + 1]!, xy[next]!, xy[next + 1]!) <= ON_ANOTHER_MM) return true;
  }
  return false;
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
