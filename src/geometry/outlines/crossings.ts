import type { Found } from '../../units/found.ts';
import { SegmentIndex } from '../index/segment-index.ts';
import { type Neighbours, neighbours } from '../segments/neighbours.ts';
import { distanceToSegment, type Segments, segmentsOf } from '../segments/segments.ts';
import { type CrossingLoop, loopAt } from './crossing-loop.ts';
import type { Polyline } from './outline.ts';

/** A place where outlines cross; `contourA === contourB` where an outline crosses itself. */
export interface Crossing {
  x: number;
  y: number;
  /** Indices of the polylines, the lower first. */
  contourA: number;
  contourB: number;
  /** Where an outline crosses itself: the loop that it makes; null when it is too large to be measured, and between outlines. */
  loop: CrossingLoop | null;
}

/** Crossings that are found before the search stops: nobody looks at more. */
export const MOST_CROSSINGS = 10_000;

/** Candidates, each pair from both sides, before the search gives up. */
const MOST_CANDIDATES = 40_000_000;

/** Ends this near to another line touch it, mm: drawing programs round to about a thousandth. */
const TOUCH_MM = 2e-3;

/**
 * Finds where outlines cross themselves or each other, in order of the segments. Lines that only touch, end on another line
 * or run along the same line (parts that share an edge) do not cross. Crossings at corners count when the lines really
 * change sides. `mostCandidates` bounds the work.
 */
export function findCrossings(lines: readonly Polyline[], mostCandidates = MOST_CANDIDATES): Found<Crossing> {
  const segments = segmentsOf(lines);
  const search = new CrossingSearch(segments, neighbours(segments, lines));
  return search.run(mostCandidates);
}

class CrossingSearch {
  readonly #s: Segments;
  readonly #n: Neighbours;
  readonly #places: Crossing[] = [];
  readonly #seen = new Set<string>();
  /** One more crossing was met than is kept. */
  #isFull = false;

  constructor(segments: Segments, near: Neighbours) {
    this.#s = segments;
    this.#n = near;
  }

  run(mostCandidates: number): Found<Crossing> {
    const { count, x0, y0, x1, y1 } = this.#s;
    const index = new SegmentIndex(this.#s, 1);
    let candidates = 0;
    let i = 0;
    for (; i < count && candidates < mostCandidates && !this.#isFull; i++) {
      const found = index.search(x0[i]!, y0[i]!, x1[i]!, y1[i]!, TOUCH_MM);
      candidates += index.foundCount;
      for (const j of found.subarray(0, index.foundCount).sort()) {
        if (j >= i || this.#isFull) break;
        this.#measure(i, j);
      }
    }
    return { items: this.#places, endedEarly: this.#whyEnded(i === count) };
  }

  #whyEnded(sawAll: boolean): string | null {
    if (this.#isFull) return `lines cross at more than ${MOST_CROSSINGS} places, where the search for crossings stops`;
    return sawAll ? null : 'so many lines lie close together that not all of them could be searched for crossings';
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
      // They run along one line for a while: that is an overlap, which `findOverlaps` finds.
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
    // A crossing at a corner is met by several pairs of segments.
    const grain = 4 * TOUCH_MM;
    const column = Math.round(x / grain);
    const row = Math.round(y / grain);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) if (this.#seen.has(`${a} ${b} ${column + dx} ${row + dy}`)) return;
    }
    if (this.#places.length === MOST_CROSSINGS) {
      this.#isFull = true;
      return;
    }
    this.#seen.add(`${a} ${b} ${column} ${row}`);
    const loop = a === b ? loopAt(this.#s, this.#n, { x, y }, [i, j]) : null;
    this.#places.push({ x, y, contourA: a, contourB: b, loop });
  }
}

const turnFrom = (from: number, to: number): number => (to - from + 4 * Math.PI) % (2 * Math.PI);
