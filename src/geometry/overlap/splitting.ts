import { type Segments, segmentLengthMm } from '../segments/segments.ts';
import type { Coverings, Pieces } from './pieces.ts';
import { Stretches } from './stretches.ts';

const NO_OWNERS: readonly number[] = [];

/** What was found along a set of segments. */
export interface Shares {
  /** 0 where a segment is one piece that nothing runs along; it is then not among the pieces. */
  touched: Uint8Array;
  pieces: Pieces;
  coverings: Coverings;
  /** How often each owner is run along; null for once each. */
  timesOf: ArrayLike<number> | null;
  /** Why not all could be found; null when all was. */
  endedEarly: string | null;
}

/** Turns pieces and the coverings found on them into elementary stretches. */
export function splitIntoStretches(segments: Segments, shares: Shares, toleranceMm: number): Stretches {
  const { touched, pieces, coverings } = shares;
  const stretches = new Stretches(segments, shares.timesOf, toleranceMm, shares.endedEarly);
  const splitter = new Splitter(segments, pieces, coverings, stretches);
  const { start, order } = coverings.byPiece(pieces.count);
  let p = 0;
  for (let s = 0; s < segments.count; s++) {
    if (touched[s] === 0) {
      const first = s;
      while (s + 1 < segments.count && touched[s + 1] === 0) s++;
      stretches.addWhole(first, s + 1);
      continue;
    }
    for (; pieces.isOf(p, s); p++) {
      const found = start[p + 1]! - start[p]!;
      if (found > 1) splitter.split(p, order.subarray(start[p]!, start[p + 1]!));
      else if (found === 1) splitter.splitOnce(p, order[start[p]!]!);
      else if (pieces.to[p]! - pieces.from[p]! === segmentLengthMm(segments, s)) stretches.addWhole(s, s + 1);
      else stretches.addPart(s, pieces.from[p]!, pieces.to[p]!, NO_OWNERS);
    }
  }
  stretches.closeSlivers();
  return stretches;
}

/** Cuts pieces where the coverings on them begin and end. */
class Splitter {
  readonly #segments: Segments;
  readonly #pieces: Pieces;
  readonly #coverings: Coverings;
  readonly #stretches: Stretches;

  constructor(segments: Segments, pieces: Pieces, coverings: Coverings, stretches: Stretches) {
    this.#segments = segments;
    this.#pieces = pieces;
    this.#coverings = coverings;
    this.#stretches = stretches;
  }

  /** Appends the stretches of a piece with one covering: before it, along it and after it. */
  splitOnce(p: number, c: number): void {
    const { from, to, segment } = this.#coverings;
    const start = this.#pieces.from[p]!;
    const end = this.#pieces.to[p]!;
    const play = Math.min(this.#stretches.toleranceMm, (to[c]! - from[c]!) / 2, (end - start) / 4);
    const low = from[c]! - start <= play ? start : from[c]!;
    const high = end - to[c]! <= play ? end : to[c]!;
    const own = this.#pieces.segment[p]!;
    if (low > start) this.#stretches.addPart(own, start, low, NO_OWNERS);
    this.#stretches.addPart(own, low, high, [this.#segments.owner[segment[c]!]!]);
    if (high < end) this.#stretches.addPart(own, high, end, NO_OWNERS);
  }

  /** Appends the stretches of a piece; `found`: its coverings. */
  split(p: number, found: Uint32Array): void {
    const { from, to, segment } = this.#coverings;
    const cuts = this.#cuts(this.#pieces.from[p]!, this.#pieces.to[p]!, found);
    const starts: number[][] = Array.from({ length: cuts.length }, () => []);
    const last = cuts.length - 1;
    for (const c of found) starts[nearest(cuts, from[c]!)]!.push(c);
    let running: number[] = [];
    let before: number[] | null = null;
    for (let k = 0; k < last; k++) {
      running = running.filter((c) => nearest(cuts, to[c]!) > k);
      for (const c of starts[k]!) if (nearest(cuts, to[c]!) > k) running.push(c);
      const owners = running.map((c) => this.#segments.owner[segment[c]!]!).sort((a, b) => a - b);
      if (before && sameList(before, owners)) this.#stretches.extendPart(cuts[k + 1]!);
      else this.#stretches.addPart(this.#pieces.segment[p]!, cuts[k]!, cuts[k + 1]!, owners);
      before = owners;
    }
  }

  /** Where the coverings of a piece begin and end: places closer than the joints of two splittings are one. */
  #cuts(pieceFrom: number, pieceTo: number, found: Uint32Array): number[] {
    const ends: { at: number; play: number }[] = [];
    for (const c of found) {
      const from = this.#coverings.from[c]!;
      const to = this.#coverings.to[c]!;
      const play = Math.min(this.#stretches.toleranceMm, (to - from) / 2);
      ends.push({ at: from, play }, { at: to, play });
    }
    ends.sort((a, b) => a.at - b.at);
    const edge = Math.min(this.#stretches.toleranceMm, (pieceTo - pieceFrom) / 4);
    const cuts = [pieceFrom];
    for (const { at, play } of ends) {
      const previous = cuts[cuts.length - 1]!;
      if (at - previous <= Math.min(play, edge) || pieceTo - at <= Math.min(play, edge)) continue;
      cuts.push(at);
    }
    cuts.push(pieceTo);
    return cuts;
  }
}

/** Index of the cut nearest to a place; `cuts` ascend. */
function nearest(cuts: readonly number[], at: number): number {
  let low = 0;
  let high = cuts.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (cuts[middle]! <= at) low = middle;
    else high = middle;
  }
  return at - cuts[low]! <= cuts[high]! - at ? low : high;
}

function sameList(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
