import { shareDone } from '../../units/work.ts';
import { COST_OF_ENTRY } from '../index/growing-index.ts';
import type { SameSegments } from '../segments/same-segments.ts';
import type { Segments } from '../segments/segments.ts';
import { type CandidatePairs, CROWDED, findCandidatePairs } from './candidate-pairs.ts';
import { PieceMatcher } from './piece-matcher.ts';
import { Coverings, Pieces } from './pieces.ts';
import { splitIntoStretches } from './splitting.ts';
import type { Stretches } from './stretches.ts';
import { directionAllowances } from './turning.ts';

export type { Stretch, Stretches } from './stretches.ts';

export interface OverlapOptions {
  /** Lines within this of each other are the same line, mm (default 0.05). */
  toleranceMm?: number;
  /** Parts of segments that are looked at for candidates, and candidates from crowded places that are measured, before the search gives up. */
  mostWork?: number;
  /**
   * How often each owner's segments are run along, by its number, where owners that are drawn again are given once (default once each). It
   * counts in `passes`; in the list of owners each stands once for all its times.
   */
  timesOf?: ArrayLike<number>;
}

/**
 * Finds where segments run along the same line again: forwards or backwards, split at other places, as an arc here and
 * as chords there. Taken in order, each part of a segment either runs along an earlier piece (within `toleranceMm`
 * over its whole shared length, in about the same direction) or becomes a piece of its own. Crossings at an angle and
 * neighbours that merely touch do not count. The time grows with the number of segments and their summed length.
 */
export function findOverlaps(segments: Segments, options: OverlapOptions = {}): Stretches {
  const tolerance = options.toleranceMm ?? 0.05;
  const mostWork = options.mostWork ?? Infinity;
  const allowance = directionAllowances(segments);
  const candidates = findCandidatePairs(segments, allowance, tolerance, mostWork);
  const pieces = new Pieces(segments.count);
  const coverings = new Coverings();
  const matcher = new PieceMatcher(segments, pieces, allowance, tolerance);
  const shares = new SharingOut(segments, candidates, matcher, pieces, coverings);
  const share = Math.min(candidates.share, shares.run(tolerance, mostWork));
  const endedEarly =
    share === 1
      ? null
      : `so many lines lie on each other or close together that ${shareDone(share)} of them were compared`;
  const { touched } = candidates;
  const { timesOf = null } = options;
  return splitIntoStretches(segments, { touched, pieces, coverings, timesOf, endedEarly }, tolerance);
}

/**
 * Takes the segments in order and shares out those that something may run along. What is crowded is searched for in an index that holds
 * only what has pieces: of a thousand runs along one line, the first.
 */
class SharingOut {
  readonly #segments: Segments;
  readonly #same: SameSegments | null;
  readonly #candidates: CandidatePairs;
  readonly #matcher: PieceMatcher;
  readonly #pieces: Pieces;
  readonly #coverings: Coverings;
  /** For the first of each kind of segment: how many pieces there were when the last of its kind was shared out, and its coverings. */
  readonly #piecesThen: Uint32Array;
  readonly #coveringsFrom: Uint32Array;
  readonly #coveringsTo: Uint32Array;
  #work = 0;

  constructor(
    segments: Segments,
    candidates: CandidatePairs,
    matcher: PieceMatcher,
    pieces: Pieces,
    coverings: Coverings,
  ) {
    this.#segments = segments;
    this.#same = candidates.same;
    this.#candidates = candidates;
    this.#matcher = matcher;
    this.#pieces = pieces;
    this.#coverings = coverings;
    const kinds = candidates.crowds === null ? 0 : segments.count;
    this.#piecesThen = new Uint32Array(kinds);
    this.#coveringsFrom = new Uint32Array(kinds);
    this.#coveringsTo = new Uint32Array(kinds);
  }

  /** Answers with the share of the segments that were compared with all that they may run along. */
  run(tolerance: number, mostWork: number): number {
    const { count, x0, y0, x1, y1 } = this.#segments;
    const { touched, pairs, crowds } = this.#candidates;
    const first = this.#same?.first;
    let left = 0;
    let at = 0;
    for (let s = 0; s < count; s++) {
      if (touched[s] === 0) continue;
      const from = at;
      while (pairs[at]! < (s + 1) * count) at++;
      if (touched[s] === CROWDED && this.#asBefore(s)) continue;
      const coveringsFrom = this.#coverings.count;
      this.#matcher.start(s);
      for (let k = from; k < at; k++) this.#matcher.measure(pairs[k]! - s * count);
      if (touched[s] !== CROWDED) {
        this.#matcher.settle(this.#coverings);
        continue;
      }
      const searched = this.#work + COST_OF_ENTRY * (crowds?.entriesMade ?? 0) < mostWork;
      if (searched) crowds?.visit(x0[s]!, y0[s]!, x1[s]!, y1[s]!, tolerance, this.#measure);
      else left++;
      if (this.#matcher.settle(this.#coverings) > 0 && searched) crowds?.insert(s);
      this.#remember(first![s]!, coveringsFrom, s);
    }
    return left === 0 ? 1 : 1 - left / count;
  }

  readonly #measure = (earlier: number): void => {
    this.#work++;
    this.#matcher.measure(earlier);
  };

  /** Shares a segment out as the last that was the same, where there is no piece that was not there then. */
  #asBefore(s: number): boolean {
    const first = this.#same!.first[s]!;
    const then = this.#piecesThen[first]!;
    if (then === 0 || then !== this.#pieces.count) return false;
    const { piece, from, to } = this.#coverings;
    const begin = this.#coveringsFrom[first]!;
    const end = this.#coveringsTo[first]!;
    this.#coveringsFrom[first] = this.#coverings.count;
    for (let c = begin; c < end; c++) this.#coverings.add(piece[c]!, from[c]!, to[c]!, s);
    this.#coveringsTo[first] = this.#coverings.count;
    return true;
  }

  /** Keeps what a segment was shared out to, if it left no piece of its own, for those of its kind that follow. */
  #remember(kind: number, coveringsFrom: number, s: number): void {
    const { count, segment } = this.#pieces;
    this.#piecesThen[kind] = count > 0 && segment[count - 1] === s ? 0 : count;
    this.#coveringsFrom[kind] = coveringsFrom;
    this.#coveringsTo[kind] = this.#coverings.count;
  }
}
