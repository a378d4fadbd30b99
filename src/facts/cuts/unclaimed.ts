import type { Location } from '../../source/place.ts';
import type { CutFact } from './cut-fact.ts';

/** Strokes of the toolpath that belong to no planned task. */
export interface UnclaimedStrokes {
  readonly strokes: number;
  readonly lengthMm: number;
  /** The first of them. */
  readonly location: Location;
  /** Of the least sure of them; null where that was not predicted. */
  readonly throughProbability: number | null;
}

/** What the strokes that no planned task claims will do; nobody has said what they are for. */
export interface UnclaimedFact {
  /** Predicted to part the sheet with the probability that a through cut is held to; null when there are none. */
  readonly parting: UnclaimedStrokes | null;
  /** All others: lines that somebody wants, or cuts that fall short. */
  readonly open: UnclaimedStrokes | null;
}

/** @param orphans index of the implied task of such strokes; −1 when there are none. */
export function unclaimedOf(cuts: readonly CutFact[], orphans: number): UnclaimedFact {
  const own = cuts.filter(({ taskIndex }) => taskIndex === orphans);
  const parts = ({ prediction }: CutFact) => prediction !== null && prediction.throughProbability >= prediction.limit;
  return { parting: summed(own.filter(parts)), open: summed(own.filter((cut) => !parts(cut))) };
}

function summed(cuts: readonly CutFact[]): UnclaimedStrokes | null {
  const [first] = cuts;
  if (first === undefined) return null;
  const chances = cuts.map(({ prediction }) => prediction?.throughProbability ?? null);
  return {
    strokes: cuts.reduce((sum, cut) => sum + cut.strokes.length, 0),
    lengthMm: cuts.reduce((sum, cut) => sum + cut.lengthMm, 0),
    location: first.location,
    throughProbability: chances.includes(null) ? null : Math.min(...(chances as number[])),
  };
}
