import type { CutFact } from './cut-fact.ts';

/** The through cut that is least likely to part; null when none was predicted. */
export function leastSure(cuts: readonly CutFact[]): CutFact | null {
  const through = cuts.filter((cut) => cut.aim === 'through' && cut.prediction);
  return through.reduce<CutFact | null>(
    (worst, cut) => (!worst || cut.prediction!.throughProbability < worst.prediction!.throughProbability ? cut : worst),
    null,
  );
}
