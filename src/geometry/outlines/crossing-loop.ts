import type { Neighbours } from '../segments/neighbours.ts';
import type { Segments } from '../segments/segments.ts';
import { convexHull, widthOfHull } from './hull.ts';

/** The loop that an outline makes between two passages of one place. */
export interface CrossingLoop {
  /** Least width of its hull, mm: nothing inside is wider than this. */
  widthMm: number;
  /** Area of its hull, mm²: at least its own. */
  areaMm2: number;
}

/** Corners of the greatest loop that is measured: what relieves a corner has a few, and what has more is looked at by a person. */
const MOST_CORNERS = 100;

/**
 * The smaller of the two loops into which an outline that crosses itself at x, y falls (an open one makes but one), by the narrower
 * hull; null when each has more corners than are looked at. `one` and `other` are the segments that cross.
 */
export function loopAt(
  segments: Segments,
  near: Neighbours,
  at: { x: number; y: number },
  [one, other]: readonly [number, number],
): CrossingLoop | null {
  const [first, second] = one < other ? [one, other] : [other, one];
  const loops = [loopFrom(segments, near, at, first, second), loopFrom(segments, near, at, second, first)];
  return loops.reduce((a, b) => (a === null || (b !== null && b.widthMm < a.widthMm) ? b : a));
}

/** The loop from the crossing along the outline to the crossing again; null when it ends before, or has too many corners. */
function loopFrom(
  { x1, y1 }: Segments,
  { after }: Neighbours,
  at: { x: number; y: number },
  from: number,
  to: number,
): CrossingLoop | null {
  const xy = [at.x, at.y];
  for (let i = from; i !== to; i = after[i]!) {
    if (i < 0 || xy.length > 2 * MOST_CORNERS) return null;
    xy.push(x1[i]!, y1[i]!);
  }
  const hull = convexHull(xy);
  return { widthMm: widthOfHull(hull), areaMm2: areaOf(hull) };
}

function areaOf(ring: ArrayLike<number>): number {
  let twice = 0;
  for (let a = ring.length - 2, b = 0; b < ring.length; a = b, b += 2) {
    twice += ring[a]! * ring[b + 1]! - ring[b]! * ring[a + 1]!;
  }
  return Math.abs(twice) / 2;
}
