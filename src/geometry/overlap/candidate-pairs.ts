import { GrowingIndex } from '../index/growing-index.ts';
import { LineIndex } from '../index/line-index.ts';
import { SegmentIndex } from '../index/segment-index.ts';
import type { Box } from '../outlines/outline.ts';
import { grown } from '../segments/grow-array.ts';
import { type SameSegments, sameSegments } from '../segments/same-segments.ts';
import { type Segments, totalLengthMm } from '../segments/segments.ts';
import { Apartness, ROUNDING } from './apartness.ts';
import { meetingsOf } from './meetings.ts';
import { PARALLEL } from './piece-matcher.ts';

/** Longest parts of the index, mm. */
const LONGEST_PART_MM = 3;

/** Where so many segments may run along one, it is crowded. */
const MOST_NEAR = 11;

/** Neighbours that are searched for together, and the widest box around them in parts of the index. */
const GROUP = 16;
const GROUP_WIDTH = 8;

/** So many segments are first asked in small squares of the sheet whom they meet. */
const MANY = 50_000;

/** What may run along the segment is in `pairs`, unless both are crowded. */
const PAIRED = 1;
export const CROWDED = 2;

/** What may run along each other, before it is measured. */
export interface CandidatePairs {
  /** Which segments are the same as others; null when none is crowded. */
  same: SameSegments | null;
  /** For each segment 0 where nothing runs along it, else `PAIRED` or `CROWDED`. */
  touched: Uint8Array;
  /** `later × count + earlier` for each pair of which one is not crowded, ascending. */
  pairs: Float64Array;
  /** An index, still empty, to search for the crowded segments in; null when there are none. */
  crowds: GrowingIndex | null;
  /** Of the segments, those that were compared with all near them; below 1 where the work limit was reached. */
  share: number;
}

/**
 * Finds the pairs of segments of which a part may run along a part of the other. Where more than a few run along one, only that is noted,
 * so that work and memory stay within bounds however often a line is run along.
 */
export function findCandidatePairs(
  segments: Segments,
  allowance: Float32Array,
  toleranceMm: number,
  mostParts: number,
): CandidatePairs {
  // Parts about as long as the segments: longer ones meet many that are nowhere near, shorter ones make long segments dear.
  const meanMm = totalLengthMm(segments) / Math.max(1, segments.count);
  const partMm = Math.max(4 * toleranceMm, Math.min(LONGEST_PART_MM, meanMm));
  const apartness = new Apartness(segments, allowance, toleranceMm);
  const met = segments.count < MANY ? null : meetingsOf(segments, allowance, apartness, toleranceMm, meanMm, MOST_NEAR);
  const sifted = met && numbersOf(met.times);
  if (sifted && met.pairs) return candidatesOf(segments, met.times, met.pairs.sort(), sifted, partMm);
  const same = sameSegments(segments, sifted ?? undefined);
  const finder = new PairFinder(segments, same, sifted, partMm, allowance, apartness, toleranceMm);
  const share = finder.run(mostParts);
  const { touched } = finder;
  const crowds = touched.includes(CROWDED) ? new GrowingIndex(segments, partMm) : null;
  return { same, touched, pairs: finder.sorted(), crowds, share };
}

function candidatesOf(
  segments: Segments,
  times: Uint8Array,
  pairs: Float64Array,
  sifted: Uint32Array,
  partMm: number,
): CandidatePairs {
  if (!times.includes(MOST_NEAR)) {
    return { same: null, touched: times.map((met) => Math.min(met, PAIRED)), pairs, crowds: null, share: 1 };
  }
  const { count } = segments;
  const isCrowded = (i: number): boolean => times[i] === MOST_NEAR;
  return {
    same: sameSegments(segments, sifted),
    touched: times.map((met) => (met === MOST_NEAR ? CROWDED : Math.min(met, PAIRED))),
    pairs: pairs.filter((pair) => !isCrowded(Math.floor(pair / count)) || !isCrowded(pair % count)),
    crowds: new GrowingIndex(segments, partMm),
    share: 1,
  };
}

/** The numbers of the segments that meet any. */
function numbersOf(times: Uint8Array): Uint32Array {
  let count = 0;
  for (let i = 0; i < times.length; i++) if (times[i] !== 0) count++;
  const numbers = new Uint32Array(count);
  for (let i = 0, at = 0; at < count; i++) if (times[i] !== 0) numbers[at++] = i;
  return numbers;
}

/** Whether a segment is drawn so often that it is crowded by its like alone. */
const isCrowd = ({ first, times }: SameSegments, i: number): boolean => times[first[i]!]! > MOST_NEAR;

/**
 * The segments that need to be found: of those that are the same just as many as crowd what lies beside them. All of `sifted`, or all there are
 * where that is null, where there is no crowd.
 */
function enough(same: SameSegments, sifted: Uint32Array | null): Uint32Array | undefined {
  const { first, times } = same;
  if (!times.some((count) => count > MOST_NEAR)) return sifted ?? undefined;
  const shown = new Uint32Array(first.length);
  const all = sifted ?? Uint32Array.from(first.keys());
  return all.filter((i) => !isCrowd(same, i) || shown[first[i]!]!++ < MOST_NEAR);
}

/** Compares each segment with those that the index finds near it. */
class PairFinder {
  readonly touched: Uint8Array;
  readonly #segments: Segments;
  readonly #index: SegmentIndex;
  readonly #partMm: number;
  readonly #allowance: Float32Array;
  readonly #apartness: Apartness;
  readonly #tolerance: number;
  #mostParts = 0;
  #pairs = new Float64Array(1024);
  #count = 0;
  /** 1 for segments whose pairs are all kept: whoever comes upon one later knows the pair already. */
  readonly #kept: Uint8Array;
  /** The segments at hand, the box around them, and the boxes around each, widened by the tolerance. */
  readonly #group = new Uint32Array(GROUP);
  #size = 0;
  readonly #box: Box = { minX: 0, minY: 0, maxX: 0, maxY: 0 };
  readonly #boxes = new Float64Array(4 * GROUP);
  /** What may run along segment k of the group is `#near[k × MOST_NEAR]` and what follows. */
  readonly #near = new Uint32Array(GROUP * MOST_NEAR);
  readonly #nearCount = new Uint32Array(GROUP);
  #crowded = 0;

  /** @param sifted the segments that have any company; null where that was not asked */
  constructor(
    segments: Segments,
    same: SameSegments,
    sifted: Uint32Array | null,
    partMm: number,
    allowance: Float32Array,
    apartness: Apartness,
    toleranceMm: number,
  ) {
    this.#segments = segments;
    this.#partMm = partMm;
    this.#index = new SegmentIndex(segments, partMm, enough(same, sifted));
    this.#allowance = allowance;
    this.#apartness = apartness;
    this.#tolerance = toleranceMm;
    this.touched = new Uint8Array(segments.count);
    this.#kept = new Uint8Array(segments.count);
    // Those that are drawn so often crowd each other: that is known without a search.
    for (let i = 0; i < segments.count; i++) if (isCrowd(same, i)) this.touched[i] = CROWDED;
  }

  sorted(): Float64Array {
    return this.#pairs.subarray(0, this.#count).sort();
  }

  /** Answers with the share of the segments that it came to, before it had looked at so many parts of the index. */
  run(mostParts: number): number {
    this.#mostParts = mostParts;
    const order = this.#index.inPlaceOrder().filter((i) => this.touched[i] !== CROWDED);
    const slanted = order.filter((i) => this.#isSlanted(i));
    let compared = this.#compareGroups(slanted.length === 0 ? order : order.filter((i) => !this.#isSlanted(i)));
    // The others have not found what runs along slanted lines only, nor what they were too crowded to keep.
    compared += this.touched.includes(CROWDED) ? this.#compareGroups(slanted) : this.#compareLines(slanted);
    return order.length === 0 ? 1 : compared / order.length;
  }

  /** A long straight line across many rows and columns: a search along it meets every line that it crosses. */
  #isSlanted(i: number): boolean {
    const { x0, y0, x1, y1 } = this.#segments;
    const across = Math.min(Math.abs(x1[i]! - x0[i]!), Math.abs(y1[i]! - y0[i]!));
    return across > this.#partMm && this.#allowance[i]! <= PARALLEL;
  }

  /** Answers with how many it compared. */
  #compareGroups(order: Uint32Array): number {
    const { x0, y0, x1, y1 } = this.#segments;
    for (let at = 0; at < order.length; at += this.#size) {
      if (this.#index.partsMet > this.#mostParts) return at;
      this.#takeGroup(order, at);
      const first = this.#group[0]!;
      // A long line alone is searched for along its length; a group by the box around it.
      if (this.#size > 1) this.#index.visitParts(this.#box, this.#tolerance, this.#compareAll);
      else this.#index.visit(x0[first]!, y0[first]!, x1[first]!, y1[first]!, this.#tolerance, this.#compareFirst);
      for (let k = 0; k < this.#size; k++) this.#settle(k);
    }
    return order.length;
  }

  #compareLines(slanted: Uint32Array): number {
    const lines = new LineIndex(this.#segments, slanted);
    let most = 0;
    for (const i of slanted) most = Math.max(most, this.#allowance[i]!);
    for (const [at, i] of slanted.entries()) {
      if (this.#index.partsMet + lines.met > this.#mostParts) return at;
      this.#group[0] = i;
      this.#size = 1;
      this.#begin();
      lines.visit(i, this.#allowance[i]! + most + PARALLEL + ROUNDING, this.#tolerance + ROUNDING, this.#compareFirst);
      this.#settle(0);
    }
    return slanted.length;
  }

  /** The next segments, one at least, as long as the box around them stays small. */
  #takeGroup(order: Uint32Array, from: number): void {
    const { x0, y0, x1, y1 } = this.#segments;
    const most = Math.min(GROUP, order.length - from);
    const box = this.#box;
    const widest = GROUP_WIDTH * this.#partMm;
    for (let k = 0; k < most; k++) {
      const i = order[from + k]!;
      const minX = Math.min(x0[i]!, x1[i]!);
      const minY = Math.min(y0[i]!, y1[i]!);
      const maxX = Math.max(x0[i]!, x1[i]!);
      const maxY = Math.max(y0[i]!, y1[i]!);
      if (k === 0) Object.assign(box, { minX, minY, maxX, maxY });
      else {
        const width = Math.max(box.maxX, maxX) - Math.min(box.minX, minX);
        const height = Math.max(box.maxY, maxY) - Math.min(box.minY, minY);
        if (Math.max(width, height) > widest) break;
        box.minX = Math.min(box.minX, minX);
        box.minY = Math.min(box.minY, minY);
        box.maxX = Math.max(box.maxX, maxX);
        box.maxY = Math.max(box.maxY, maxY);
      }
      this.#group[k] = i;
      this.#boxes[4 * k] = minX - this.#tolerance;
      this.#boxes[4 * k + 1] = minY - this.#tolerance;
      this.#boxes[4 * k + 2] = maxX + this.#tolerance;
      this.#boxes[4 * k + 3] = maxY + this.#tolerance;
      this.#size = k + 1;
    }
    this.#begin();
  }

  #begin(): void {
    this.#nearCount.fill(0);
    this.#crowded = 0;
  }

  /** Compares a candidate with the segments at hand; true when all of those are crowded. */
  readonly #compareAll = (candidate: number): boolean => {
    const boxes = this.#boxes;
    if (this.#kept[candidate] === 1) return false;
    const { shownBox } = this.#index;
    const minX = shownBox[0]!;
    const minY = shownBox[1]!;
    const maxX = shownBox[2]!;
    const maxY = shownBox[3]!;
    for (let k = 0; k < this.#size; k++) {
      // Most candidates lie far from most of the group, and comparing boxes tells so at little cost.
      if (minX > boxes[4 * k + 2]! || maxX < boxes[4 * k]! || minY > boxes[4 * k + 3]! || maxY < boxes[4 * k + 1]!)
        continue;
      this.#compare(k, candidate);
    }
    return this.#crowded === this.#size;
  };

  readonly #compareFirst = (candidate: number): boolean => {
    if (this.#kept[candidate] === 0) this.#compare(0, candidate);
    return this.#crowded === 1;
  };

  #compare(k: number, candidate: number): void {
    const own = this.#group[k]!;
    const count = this.#nearCount[k]!;
    if (candidate === own || count === MOST_NEAR) return;
    if (this.#apartness.areApart(Math.min(own, candidate), Math.max(own, candidate))) return;
    const first = k * MOST_NEAR;
    for (let at = 0; at < count; at++) if (this.#near[first + at] === candidate) return;
    this.#near[first + count] = candidate;
    this.#nearCount[k] = count + 1;
    if (count + 1 === MOST_NEAR) this.#crowded++;
  }

  /** Keeps the pairs of segment k of the group, unless it is crowded: then its partners keep them, where they are not. */
  #settle(k: number): void {
    const own = this.#group[k]!;
    const near = this.#nearCount[k]!;
    if (near === MOST_NEAR) {
      this.touched[own] = CROWDED;
      return;
    }
    this.#kept[own] = 1;
    for (let at = k * MOST_NEAR; at < k * MOST_NEAR + near; at++) {
      const other = this.#near[at]!;
      // A pair within the group was kept with the first of the two.
      if (this.#kept[other] === 1) continue;
      this.touched[own] ||= PAIRED;
      this.touched[other] ||= PAIRED;
      if (this.#count === this.#pairs.length) this.#pairs = grown(this.#pairs, 2 * this.#count);
      this.#pairs[this.#count++] = Math.max(own, other) * this.#segments.count + Math.min(own, other);
    }
  }
}
