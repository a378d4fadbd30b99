import { type Alongside, CROWDED, findAlongside } from './alongside.ts';
import { PieceMatcher } from './claims.ts';
import { SegmentGrid } from './grid.ts';
import { Coverings, Pieces } from './pieces.ts';
import { type Segments, totalLengthMm } from './segments.ts';
import { splitIntoStretches } from './splitting.ts';
import type { Stretches } from './stretches.ts';
import { directionAllowances } from './turning.ts';

export type { Stretch, Stretches } from './stretches.ts';

/** Candidates from crowded places that are measured before the search gives up. */
const MOST_CANDIDATES = 60_000_000;

/** Cells of the index where pieces are long, mm. */
const WIDEST_CELL_MM = 1;

/**
 * Finds where segments run along the same line again: forwards or backwards, split at other places, as an arc here and
 * as chords there. Taken in order, each part of a segment either runs along an earlier piece (within `toleranceMm`
 * over its whole shared length, in about the same direction) or becomes a piece of its own. Crossings at an angle and
 * neighbours that merely touch do not count. The time grows with the number of segments and their summed length.
 */
export function findOverlaps(segments: Segments, options: { toleranceMm?: number } = {}): Stretches {
  const tolerance = options.toleranceMm ?? 0.05;
  const allowance = directionAllowances(segments);
  // Cells about as long as the pieces: wider ones hold many that are nowhere near, narrower ones make long pieces dear.
  const cellMm = Math.max(
    4 * tolerance,
    Math.min(WIDEST_CELL_MM, totalLengthMm(segments) / Math.max(1, segments.count)),
  );
  const grid = new SegmentGrid(segments, cellMm, tolerance / 2).insertAll();
  const alongside = findAlongside(segments, allowance, grid, tolerance);
  grid.clear();
  const pieces = new Pieces(segments.count);
  const coverings = new Coverings();
  const matcher = new PieceMatcher(segments, pieces, allowance, tolerance);
  const complete = shareOut(segments, alongside, grid, matcher, coverings, tolerance);
  return splitIntoStretches(segments, { touched: alongside.touched, pieces, coverings, complete }, tolerance);
}

/**
 * Takes the segments in order and shares out those that something may run along. In crowded places the index is searched,
 * which there holds only what has pieces: of a thousand runs along one line, the first. False when that became too much.
 */
function shareOut(
  { count, x0, y0, x1, y1 }: Segments,
  { touched, pairs }: Alongside,
  grid: SegmentGrid,
  matcher: PieceMatcher,
  coverings: Coverings,
  tolerance: number,
): boolean {
  let candidates = 0;
  let at = 0;
  for (let s = 0; s < count; s++) {
    if (touched[s] === 0) continue;
    matcher.start(s);
    for (const first = s * count; pairs[at]! < first + count; at++) {
      if (pairs[at] !== pairs[at - 1]) matcher.measure(pairs[at]! - first);
    }
    const crowded = touched[s] === CROWDED && candidates < MOST_CANDIDATES;
    if (crowded) {
      const found = grid.search(x0[s]!, y0[s]!, x1[s]!, y1[s]!, tolerance / 2);
      candidates += grid.foundCount;
      for (let k = 0; k < grid.foundCount; k++) matcher.measure(found[k]!);
    }
    if (matcher.settle(coverings) > 0 && crowded) grid.insert(s);
  }
  return candidates < MOST_CANDIDATES;
}
