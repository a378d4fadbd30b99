import type { JobMeasures } from './comparing/comparison.ts';
import type { JobResult } from './result.ts';

/** The least likely of the job's cuts that are to part the sheet; null when there is none that was predicted. */
export function leastThroughProbability(job: JobResult): number | null {
  const through = job.cuts.filter((cut) => cut.aim === 'through').map((cut) => cut.throughProbability);
  const known = through.filter((p) => p !== null);
  return known.length === 0 ? null : known.reduce((a, b) => Math.min(a, b));
}

export function measuresOf(job: JobResult): JobMeasures {
  return {
    verdict: job.verdict,
    throughProbability: leastThroughProbability(job),
    timeS: job.time?.totalS ?? null,
    atStake: job.waste?.atStake ?? null,
    expectedWaste: job.waste?.expected ?? null,
    currency: job.waste?.currency ?? null,
    lengthMm: job.toolpath?.cutLengthMm ?? job.artwork?.lengthMm ?? null,
  };
}
