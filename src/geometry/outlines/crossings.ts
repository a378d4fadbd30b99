import { SegmentIndex } from '../index/segment-index.ts';
import { type Neighbours, neighbours } from '../segments/neighbours.ts';
import { distanceToSegment, type Segments, segmentsOf } from '../segments/segments.ts';
import type { Polyline } from './outline.ts';

/** A place where outlines cross; `contourA === contourB` where an outline crosses itself. */
export interface Crossing {
  x: number;
  y: number;
  /** Indices of the polylines, the lower first. */
  contourA: number;
  contourB: number;
}

export interface Crossings {
  /** At most `MOST_KEPT`, in order of the segments. */
  places: Crossing[];
  /** All that were found. */
  count: number;
  /** False when the work limit was reached before every pair was looked at. */
  complete: boolean;
}

/** Crossings that are kept with their places. */
export const MOST_KEPT = 10_000;

/** Candidates, each pair from both sides, before the search gives up. */
const MOST_CANDIDATES = 40_000_000;

/** Ends this near to another line touch it, mm: drawing programs round to about a thousandth. */
const TOUCH_MM = 2e-3;

/**
 * Finds where outlines cross themselves or each other. Lines that only touch, end on another line or run along the same
 * line (parts that share an edge) do not cross. Crossings at corners count when the lines really change sides.
 */
export function findCrossings(lines: readonly Polyline[]): Crossings {
  const segments = segmentsOf(lines);
  const search = new CrossingSearch(segments, neighbours(segments, lines));
  return search.run();
}

class CrossingSearch {
  readonly #s: Segments;
  readonly #n: Neighbours;
  readonly #places: Crossing[] = [];
  readonly #seen = new Set<string>();
  #count = 0;

  constructor(segments: Segments, near: Neighbours) {
    this.#s = segments;
    this.#n = near;
  }

  run(): Crossings {
    const { count, x0, y0, x1, y1 } = this.#s;
    const index = new SegmentIndex(this.#s, 1);
    let candidates = 0;
    for (let i = 0; i < count && candidates < MOST_CANDIDATES; i++) {
      const found = index.search(x0[i]!, y0[i]!, x1[i]!, y1[i]!, TOUCH_MM);
      candidates += index.foundCount;
      for (const j of found.subarray(0, index.foundCount).sort()) {
        if (j >= i) break;
        this.#measure(i, j);
      }
    }
    return { places: this.#places, count: this.#count, complete: candidates < MOST_CANDIDATES };
  }

  #measure(i: number, j: number): void {
    if (this.#n.after[i] === j || this.#n.before[i] === j) return;
    const { x0, y0, x1, y1 } = this.#s;
    // Distances of the ends of each from the line through the other.
    const i0 = this.#off(j, x0[i]!, y0[i]!);
    const i1 = this.#off(j, x1[i]!, y1[i]!);
    if (i0 * i1 > 0 && Math.min(Math.abs(i0), Math.abs(i1)) > TOUCH_MM) return;
    const j0 = this.#off(i, x0[j]!, y0[j]!);
    const j1 = this.#off(i, x1[j]!, y1[j]!);
    if (j0 * j1 > 0 && Math.min(Math.abs(j0), Math.abs(j1)) > TOUCH_MM) return;
    const clear = Math.min(Math.abs(i0), Math.abs(i1), Math.abs(j0), Math.abs(j1)) > TOUCH_MM;
    if (clear) {
      const share = i0 / (i0 - i1);
      this.#put(i, j, x0[i]! + share * (x1[i]! - x0[i]!), y0[i]! + share * (y1[i]! - y0[i]!));
      return;
    }
    this.#atCorner(i, j);
    this.#atCorner(j, i);
  }

  /** The start corner of segment `v` may lie on segment `e`, or on one of its ends. */
  #atCorner(v: number, e: number): void {
    const { x0, y0, x1, y1 } = this.#s;
    const before = this.#n.before[v]!;
    if (before < 0) return;
    const x = x0[v]!;
    const y = y0[v]!;
    if (before === e || this.#n.after[v] === e) return;
    if (distanceToSegment(x, y, x0[e]!, y0[e]!, x1[e]!, y1[e]!) > TOUCH_MM) return;
    const atStart = Math.hypot(x - x0[e]!, y - y0[e]!) <= 2 * TOUCH_MM;
    const atEnd = Math.hypot(x - x1[e]!, y - y1[e]!) <= 2 * TOUCH_MM;
    let into = e;
    let out = e;
    if (atStart) into = this.#n.before[e]!;
    else if (atEnd) out = this.#n.after[e]!;
    if (into < 0 || out < 0) return;
    if (this.#interleaved(x, y, before, v, into, out)) this.#put(v, e, x, y);
  }

  /** Whether two paths through one place (each: a segment that comes in, one that goes out) change sides there. */
  #interleaved(x: number, y: number, inA: number, outA: number, inB: number, outB: number): boolean {
    const { x0, y0, x1, y1 } = this.#s;
    const a0 = Math.atan2(y0[inA]! - y, x0[inA]! - x);
    const a1 = Math.atan2(y1[outA]! - y, x1[outA]! - x);
    const b0 = Math.atan2(y0[inB]! - y, x0[inB]! - x);
    const b1 = Math.atan2(y1[outB]! - y, x1[outB]! - x);
    const opening = turnFrom(a0, a1);
    const first = turnFrom(a0, b0);
    const second = turnFrom(a0, b1);
    const play = 2e-3;
    for (const angle of [first, second]) {
      // Along the same line for a while: the overlap finder's business.
      if (angle < play || 2 * Math.PI - angle < play || Math.abs(angle - opening) < play) return false;
    }
    return first < opening !== second < opening;
  }

  #off(line: number, x: number, y: number): number {
    const { x0, y0, x1, y1 } = this.#s;
    const dx = x1[line]! - x0[line]!;
    const dy = y1[line]! - y0[line]!;
    return (dx * (y - y0[line]!) - dy * (x - x0[line]!)) / Math.hypot(dx, dy);
  }

  #put(i: number, j: number, x: number, y: number): void {
    const a = Math.min(this.#s.owner[i]!, this.#s.owner[j]!);
    const b = Math.max(this.#s.owner[i]!, this.#s.owner[j]!);
    if (this.#seen.size < MOST_KEPT) {
      // A crossing at a corner is met by several pairs of segments.
      const grain = 4 * TOUCH_MM;
      const column = Math.round(x / grain);
      const row = Math.round(y / grain);
      for (let dx = -1; dx <= 1; dx++) {
        for (let dy = -1; dy <= 1; dy++) if (this.#seen.has(`${a} ${b} ${column + dx} ${row + dy}`)) return;
      }
      this.#seen.add(`${a} ${b} ${column} ${row}`);
      this.#places.push({ x, y, contourA: a, contourB: b });
    }
    this.#count++;
  }
}

const turnFrom = (from: number, to: number): number => (to - from + 4 * Math.PI) % (2 * Math.PI);
