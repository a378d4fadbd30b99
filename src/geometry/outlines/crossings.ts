import type { Found } from '../../units/found.ts';
import { shareDone } from '../../units/work.ts';
import { partLengthMm, SegmentIndex } from '../index/segment-index.ts';
import { type Neighbours, neighbours } from '../segments/neighbours.ts';
import { distanceToSegment, type Segments, segmentsOf } from '../segments/segments.ts';
import { loopAt } from './crossing-loop.ts';
import { type BetweenKinds, type Crossing, toldOfEach } from './crossings-told.ts';
import { type EqualOutlines, equalOutlines } from './equal-outlines.ts';
import type { Polyline } from './outline.ts';

export type { Crossing };

/** Crossings that are found before the search stops: nobody looks at more. */
export const MOST_CROSSINGS = 10_000;

/** Ends this near to another line touch it, mm: drawing programs round to about a thousandth. */
const TOUCH_MM = 2e-3;

/**
 * Finds where outlines cross themselves or each other, in order of the segments. Lines that only touch, end on another line
 * or run along the same line (parts that share an edge) do not cross. Crossings at corners count when the lines really
 * change sides. Outlines that are drawn several times are compared once, and their crossings told of each. `mostWork` bounds the pairs of
 * segments that are compared.
 */
export function findCrossings(
  lines: readonly Polyline[],
  mostWork = Infinity,
  equal: EqualOutlines = equalOutlines(lines),
): Found<Crossing> {
  const search = new CrossingSearch(lines, equal);
  const share = search.run(mostWork);
  const places = toldOfEach(search.between(), lines, equal, MOST_CROSSINGS);
  return { items: places.slice(0, MOST_CROSSINGS), endedEarly: whyEnded(places.length > MOST_CROSSINGS, share) };
}

function whyEnded(isFull: boolean, share: number): string | null {
  if (isFull) return `lines cross at more than ${MOST_CROSSINGS} places, where the search for crossings stops`;
  if (share === 1) return null;
  return `so many lines lie close together that ${shareDone(share)} of them were searched for crossings`;
}

/** Compares one outline of each kind. */
class CrossingSearch {
  readonly #s: Segments;
  readonly #n: Neighbours;
  readonly #equal: EqualOutlines;
  readonly #between = new Map<number, BetweenKinds>();
  /** Pairs that come up in another order than they would of the lines themselves: [later, earlier], measured last. */
  readonly #reversed: [number, number][] = [];
  /** Crossings that there are at least. */
  #count = 0;

  constructor(lines: readonly Polyline[], equal: EqualOutlines) {
    const kinds = equal.firsts.map((i) => lines[i]!);
    this.#s = segmentsOf(kinds);
    this.#n = neighbours(this.#s, kinds);
    this.#equal = equal;
  }

  /** Answers with the share of the segments that it came to; it stops where there are more crossings than are kept. */
  run(mostWork: number): number {
    const { count, x0, y0, x1, y1 } = this.#s;
    const index = new SegmentIndex(this.#s, partLengthMm(this.#s));
    let i = 0;
    for (; i < count && index.partsMet < mostWork && this.#count <= MOST_CROSSINGS; i++) {
      const found = index.search(x0[i]!, y0[i]!, x1[i]!, y1[i]!, TOUCH_MM);
      for (const j of found.subarray(0, index.foundCount).sort()) {
        if (j >= i || this.#count > MOST_CROSSINGS) break;
        this.#compare(i, j);
      }
    }
    this.#reversed.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    for (const [later, earlier] of this.#reversed) this.#measure(later, earlier, false);
    return count === 0 ? 1 : i / count;
  }

  between(): Iterable<BetweenKinds> {
    return this.#between.values();
  }

  /** Compares two segments as of each pair of outlines that has them. */
  #compare(i: number, j: number): void {
    if (this.#n.after[i] === j || this.#n.before[i] === j) return;
    const { owner } = this.#s;
    const { members } = this.#equal;
    const [ofI, ofJ] = [members[owner[i]!]!, members[owner[j]!]!];
    const within = owner[i] === owner[j];
    const crosses = this.#measure(i, j, within);
    if (!crosses) return;
    if (within) {
      if (ofI.length > 1) this.#reversed.push([i, j], [j, i]);
    } else if (ofI[0]! < ofJ[ofJ.length - 1]!) this.#reversed.push([j, i]);
  }

  /** Whether two segments cross. */
  #measure(i: number, j: number, within: boolean): boolean {
    const { x0, y0, x1, y1 } = this.#s;
    // Distances of the ends of each from the line through the other.
    const i0 = this.#off(j, x0[i]!, y0[i]!);
    const i1 = this.#off(j, x1[i]!, y1[i]!);
    if (i0 * i1 > 0 && Math.min(Math.abs(i0), Math.abs(i1)) > TOUCH_MM) return false;
    const j0 = this.#off(i, x0[j]!, y0[j]!);
    const j1 = this.#off(i, x1[j]!, y1[j]!);
    if (j0 * j1 > 0 && Math.min(Math.abs(j0), Math.abs(j1)) > TOUCH_MM) return false;
    const clear = Math.min(Math.abs(i0), Math.abs(i1), Math.abs(j0), Math.abs(j1)) > TOUCH_MM;
    if (clear) {
      const share = i0 / (i0 - i1);
      this.#put(i, j, within, x0[i]! + share * (x1[i]! - x0[i]!), y0[i]! + share * (y1[i]! - y0[i]!));
      return true;
    }
    const first = this.#crossAtCorner(i, j);
    if (first) this.#put(i, j, within, x0[i]!, y0[i]!);
    const second = this.#crossAtCorner(j, i);
    if (second) this.#put(i, j, within, x0[j]!, y0[j]!);
    return first || second;
  }

  /** The start corner of segment `v` may lie on segment `e`, or on one of its ends, and the outlines change sides there. */
  #crossAtCorner(v: number, e: number): boolean {
    const { x0, y0, x1, y1 } = this.#s;
    const before = this.#n.before[v]!;
    if (before < 0) return false;
    const x = x0[v]!;
    const y = y0[v]!;
    if (distanceToSegment(x, y, x0[e]!, y0[e]!, x1[e]!, y1[e]!) > TOUCH_MM) return false;
    const atStart = Math.hypot(x - x0[e]!, y - y0[e]!) <= 2 * TOUCH_MM;
    const atEnd = Math.hypot(x - x1[e]!, y - y1[e]!) <= 2 * TOUCH_MM;
    let into = e;
    let out = e;
    if (atStart) into = this.#n.before[e]!;
    else if (atEnd) out = this.#n.after[e]!;
    return into >= 0 && out >= 0 && this.#interleaved(x, y, before, v, into, out);
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

  #put(later: number, earlier: number, within: boolean, x: number, y: number): void {
    const { crossings, seen } = this.#betweenKinds(this.#s.owner[earlier]!, this.#s.owner[later]!, within);
    // A crossing at a corner is met by several pairs of segments.
    const grain = 4 * TOUCH_MM;
    const column = Math.round(x / grain);
    const row = Math.round(y / grain);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) if (seen.has(`${column + dx} ${row + dy}`)) return;
    }
    seen.add(`${column} ${row}`);
    this.#count++;
    const loop = within ? loopAt(this.#s, this.#n, { x, y }, [later, earlier]) : null;
    crossings.push({ later, earlier, x, y, loop });
  }

  #betweenKinds(kindEarlier: number, kindLater: number, within: boolean): BetweenKinds {
    const key = 2 * (kindEarlier * this.#equal.firsts.length + kindLater) + (within ? 1 : 0);
    let known = this.#between.get(key);
    if (!known) {
      known = { kindEarlier, kindLater, within, crossings: [], seen: new Set() };
      this.#between.set(key, known);
    }
    return known;
  }
}

const turnFrom = (from: number, to: number): number => (to - from + 4 * Math.PI) % (2 * Math.PI);
