import type { CutFact, JobFacts } from '../facts.ts';

/** The through cut that is least likely to part; null when none was predicted. */
export function leastSure(facts: JobFacts): CutFact | null {
  const through = facts.cuts.filter((cut) => cut.aim === 'through' && cut.prediction);
  return through.reduce<CutFact | null>(
    (worst, cut) => (!worst || cut.prediction!.throughProbability < worst.prediction!.throughProbability ? cut : worst),
    null,
  );
}
