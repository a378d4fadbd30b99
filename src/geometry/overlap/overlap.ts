import type { Segments } from '../segments/segments.ts';
import { type CandidatePairs, CROWDED, findCandidatePairs } from './candidate-pairs.ts';
import { PieceMatcher } from './piece-matcher.ts';
import { Coverings, Pieces } from './pieces.ts';
import { splitIntoStretches } from './splitting.ts';
import type { Stretches } from './stretches.ts';
import { directionAllowances } from './turning.ts';

export type { Stretch, Stretches } from './stretches.ts';

/** Candidates from crowded places that are measured before the search gives up, for each segment and in all. */
const CANDIDATES_EACH = 20;
const MOST_CANDIDATES = 20_000_000;

export interface OverlapOptions {
  /** Lines within this of each other are the same line, mm (default 0.05). */
  toleranceMm?: number;
  /** Candidates from crowded places that are measured before the search gives up. */
  mostCandidates?: number;
  /** Parts of segments that are looked at for candidates before the search gives up. */
  mostParts?: number;
}

/**
 * Finds where segments run along the same line again: forwards or backwards, split at other places, as an arc here and
 * as chords there. Taken in order, each part of a segment either runs along an earlier piece (within `toleranceMm`
 * over its whole shared length, in about the same direction) or becomes a piece of its own. Crossings at an angle and
 * neighbours that merely touch do not count. The time grows with the number of segments and their summed length.
 */
export function findOverlaps(segments: Segments, options: OverlapOptions = {}): Stretches {
  const tolerance = options.toleranceMm ?? 0.05;
  const mostCandidates = options.mostCandidates ?? MOST_CANDIDATES + CANDIDATES_EACH * segments.count;
  const allowance = directionAllowances(segments);
  const candidates = findCandidatePairs(segments, allowance, tolerance, options.mostParts);
  const pieces = new Pieces(segments.count);
  const coverings = new Coverings();
  const matcher = new PieceMatcher(segments, pieces, allowance, tolerance);
  const sharedAll = shareOut(segments, candidates, matcher, coverings, { tolerance, mostCandidates });
  const endedEarly =
    sharedAll && candidates.complete
      ? null
      : 'so many lines lie on each other or close together that not all of them could be compared';
  return splitIntoStretches(segments, { touched: candidates.touched, pieces, coverings, endedEarly }, tolerance);
}

/**
 * Takes the segments in order and shares out those that something may run along. What is crowded is searched for in an index that holds
 * only what has pieces: of a thousand runs along one line, the first. False when that became too much.
 */
function shareOut(
  { count, x0, y0, x1, y1 }: Segments,
  { touched, pairs, crowds }: CandidatePairs,
  matcher: PieceMatcher,
  coverings: Coverings,
  { tolerance, mostCandidates }: { tolerance: number; mostCandidates: number },
): boolean {
  let sharedAll = true;
  let candidates = 0;
  let at = 0;
  const measure = (earlier: number): void => {
    candidates++;
    matcher.measure(earlier);
  };
  for (let s = 0; s < count; s++) {
    const what = touched[s]!;
    if (what === 0) continue;
    matcher.start(s);
    for (const first = s * count; pairs[at]! < first + count; at++) matcher.measure(pairs[at]! - first);
    if (what === CROWDED && candidates < mostCandidates) {
      crowds?.visit(x0[s]!, y0[s]!, x1[s]!, y1[s]!, tolerance, measure);
    } else if (what === CROWDED) sharedAll = false;
    if (matcher.settle(coverings) > 0 && what === CROWDED) crowds?.insert(s);
  }
  return sharedAll;
}
