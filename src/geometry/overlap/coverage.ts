import type { Found } from '../../units/found.ts';
import { shareDone } from '../../units/work.ts';
import { partLengthMm, SegmentIndex } from '../index/segment-index.ts';
import { sameSegments } from '../segments/same-segments.ts';
import { distanceToSegment, type Segments, segmentLengthMm } from '../segments/segments.ts';
import { directionAllowances } from './turning.ts';

export interface CoverageOptions {
  /** How far a covering line may lie from the covered one, mm. */
  toleranceMm: number;
  /** Added to the tolerance where the covering outlines are drawn wider or narrower, such as half a kerf, mm. */
  offsetMm?: number;
  /** Pairs that are compared before the search gives up. */
  mostWork?: number;
}

/** A run of one owner's segments that nothing covers. */
export interface MissingPlace {
  readonly owner: number;
  /** First segment of the run. */
  readonly segment: number;
  /** Ends of the run, mm. */
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly lengthMm: number;
}

export interface CoveringPair {
  readonly ownerA: number;
  readonly ownerB: number;
  readonly lengthMm: number;
}

/** What of A lies along B. Where the search ended early, what it did not come to is neither covered nor missing. */
export interface Coverage {
  readonly coveredMm: number;
  readonly missingMm: number;
  /** Covered length of each segment of A, mm. */
  readonly coveredBySegmentMm: Float64Array;
  /** In order of A's segments. */
  readonly missing: Found<MissingPlace>;
  /** Which owner of B lies along which owner of A: each part of A counts for the nearest line of B only. */
  readonly pairs: Found<CoveringPair>;
}

/** Directions may differ by this much, beyond what two flattenings of a curve differ by. */
const LOOSE = 3 * (Math.PI / 180);

/** Part of a segment that a line of B runs along, mm from its start. */
interface CoveredRun {
  from: number;
  to: number;
  offMm: number;
  owner: number;
}

/**
 * For each part of A: does a line of B run along it within the tolerance and the offset? Ask the other way round too,
 * to learn what B has besides. With an offset, corners count as covered as far as the offset reaches.
 */
export function coverageOf(a: Segments, b: Segments, options: CoverageOptions): Coverage {
  const reach = options.toleranceMm + Math.abs(options.offsetMm ?? 0);
  const allowanceA = directionAllowances(a);
  const allowanceB = directionAllowances(b);
  const index = new SegmentIndex(b, Math.max(2 * reach, partLengthMm(b)), firstOnes(b, allowanceB));
  const tally = new Tally(a);
  const { first, times } = sameSegments(a);
  const known = new Map<number, readonly CoveredRun[]>();
  const mostWork = options.mostWork ?? Infinity;
  const runsOn = (i: number): readonly CoveredRun[] => {
    const runs: CoveredRun[] = [];
    const found = index.search(a.x0[i]!, a.y0[i]!, a.x1[i]!, a.y1[i]!, reach);
    for (let k = 0; k < index.foundCount; k++) {
      const j = found[k]!;
      const run = runAlong(a, i, b, j, reach, allowanceA[i]! + allowanceB[j]! + LOOSE);
      if (run) runs.push(run);
    }
    return runs.sort((p, q) => p.offMm - q.offMm || p.owner - q.owner || p.from - q.from);
  };
  let i = 0;
  for (; i < a.count && index.partsMet < mostWork; i++) {
    const kind = first[i]!;
    const isAgain = times[kind]! > 1 && allowanceA[kind] === allowanceA[i];
    let runs = isAgain ? known.get(kind) : undefined;
    if (!runs) {
      runs = runsOn(i);
      if (isAgain) known.set(kind, runs);
    }
    tally.put(i, runs, reach);
  }
  return tally.finish(
    i === a.count ? null : `so many lines lie close together that ${shareDone(i / a.count)} of them were compared`,
  );
}

/**
 * Numbers of the segments that are not the same as an earlier one, which covers all that they would; all, where none are. How far a
 * direction may differ comes from the neighbours, so that it counts too.
 */
function firstOnes(segments: Segments, allowance: Float32Array): Uint32Array | undefined {
  const { first, kinds } = sameSegments(segments);
  if (kinds === segments.count) return undefined;
  return Uint32Array.from(first.keys()).filter((i) => first[i] === i || allowance[first[i]!] !== allowance[i]);
}

/** The part of segment i of A that lies within reach of segment j of B; null when there is none. */
function runAlong(a: Segments, i: number, b: Segments, j: number, reach: number, angle: number): CoveredRun | null {
  const length = segmentLengthMm(a, i);
  const ux = (a.x1[i]! - a.x0[i]!) / length;
  const uy = (a.y1[i]! - a.y0[i]!) / length;
  const sx = b.x0[j]! - a.x0[i]!;
  const sy = b.y0[j]! - a.y0[i]!;
  const ex = b.x1[j]! - a.x0[i]!;
  const ey = b.y1[j]! - a.y0[i]!;
  const s = sx * ux + sy * uy;
  const e = ex * ux + ey * uy;
  const sOff = sy * ux - sx * uy;
  const eOff = ey * ux - ex * uy;
  const slope = Math.abs(eOff - sOff) / Math.hypot(e - s, eOff - sOff);
  if (slope > Math.sin(Math.min(angle, Math.PI / 3))) {
    // A chord of a rounded corner, shorter than the reach, turns away from the edges that it joins.
    const near = (x: number, y: number): boolean =>
      distanceToSegment(x, y, b.x0[j]!, b.y0[j]!, b.x1[j]!, b.y1[j]!) <= reach;
    const covered = length <= reach && near(a.x0[i]!, a.y0[i]!) && near(a.x1[i]!, a.y1[i]!);
    return covered ? { from: 0, to: length, offMm: reach, owner: b.owner[j]! } : null;
  }
  let from = Math.max(0, Math.min(s, e) - reach);
  let to = Math.min(length, Math.max(s, e) + reach);
  const perMm = (eOff - sOff) / (e - s);
  if (Math.abs(perMm) > 1e-9) {
    const p = s + (reach - sOff) / perMm;
    const q = s + (-reach - sOff) / perMm;
    from = Math.max(from, Math.min(p, q));
    to = Math.min(to, Math.max(p, q));
  } else if (Math.abs(sOff) > reach) return null;
  if (!(to > from)) return null;
  const middle = Math.min(Math.max((from + to) / 2, Math.min(s, e)), Math.max(s, e));
  return { from, to, offMm: Math.abs(sOff + (middle - s) * perMm), owner: b.owner[j]! };
}

/** Adds up what is covered and joins what is not. */
class Tally {
  readonly #a: Segments;
  readonly #covered: Float64Array;
  readonly #missing: { -readonly [K in keyof MissingPlace]: MissingPlace[K] }[] = [];
  readonly #pairs = new Map<number, Map<number, number>>();
  #coveredMm = 0;
  #missingMm = 0;

  constructor(a: Segments) {
    this.#a = a;
    this.#covered = new Float64Array(a.count);
  }

  put(i: number, runs: readonly CoveredRun[], reach: number): void {
    const length = segmentLengthMm(this.#a, i);
    let free: [number, number][] = [[0, length]];
    for (const run of runs) {
      if (free.length === 0) break;
      const left: [number, number][] = [];
      for (const [from, to] of free) {
        const low = Math.max(from, run.from);
        const high = Math.min(to, run.to);
        if (high <= low) {
          left.push([from, to]);
          continue;
        }
        this.#pair(this.#a.owner[i]!, run.owner, high - low);
        if (low > from) left.push([from, low]);
        if (high < to) left.push([high, to]);
      }
      free = left;
    }
    const sliver = Math.min(reach, length / 2);
    let missing = 0;
    for (const [from, to] of free) {
      if (to - from <= sliver && runs.length > 0) continue;
      missing += to - from;
      this.#miss(i, from, to, length);
    }
    this.#covered[i] = length - missing;
    this.#coveredMm += length - missing;
    this.#missingMm += missing;
  }

  finish(endedEarly: string | null): Coverage {
    const pairs: CoveringPair[] = [];
    for (const [ownerA, row] of this.#pairs) {
      for (const [ownerB, lengthMm] of row) pairs.push({ ownerA, ownerB, lengthMm });
    }
    pairs.sort((p, q) => p.ownerA - q.ownerA || p.ownerB - q.ownerB);
    return {
      coveredMm: this.#coveredMm,
      missingMm: this.#missingMm,
      coveredBySegmentMm: this.#covered,
      missing: { items: this.#missing, endedEarly },
      pairs: { items: pairs, endedEarly },
    };
  }

  #pair(ownerA: number, ownerB: number, lengthMm: number): void {
    let row = this.#pairs.get(ownerA);
    if (!row) {
      row = new Map();
      this.#pairs.set(ownerA, row);
    }
    row.set(ownerB, (row.get(ownerB) ?? 0) + lengthMm);
  }

  #miss(i: number, from: number, to: number, length: number): void {
    const { x0, y0, x1, y1, owner } = this.#a;
    const ux = (x1[i]! - x0[i]!) / length;
    const uy = (y1[i]! - y0[i]!) / length;
    const fromX = x0[i]! + ux * from;
    const fromY = y0[i]! + uy * from;
    const toX = x0[i]! + ux * to;
    const toY = y0[i]! + uy * to;
    const last = this.#missing[this.#missing.length - 1];
    if (last && last.owner === owner[i] && Math.hypot(last.x1 - fromX, last.y1 - fromY) < 1e-3) {
      last.x1 = toX;
      last.y1 = toY;
      last.lengthMm += to - from;
      return;
    }
    this.#missing.push({
      owner: owner[i]!,
      segment: i,
      x0: fromX,
      y0: fromY,
      x1: toX,
      y1: toY,
      lengthMm: to - from,
    });
  }
}
