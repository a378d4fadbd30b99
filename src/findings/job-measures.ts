import type { JobMeasures } from './comparing/comparison.ts';
import type { JobResult } from './result.ts';

/** The chance of the least likely of the job's cuts that are to part the sheet; null when there is none that was predicted. */
export const leastThroughProbability = (job: JobResult): number | null => leastSureCut(job)?.throughProbability ?? null;

function leastSureCut({ cuts }: JobResult) {
  let least: (typeof cuts)[number] | undefined;
  for (const cut of cuts) {
    if (cut.aim !== 'through' || cut.throughProbability === null) continue;
    if (least === undefined || cut.throughProbability < least.throughProbability!) least = cut;
  }
  return least;
}

export function measuresOf(job: JobResult): JobMeasures {
  const cut = leastSureCut(job);
  return {
    verdict: job.verdict,
    throughProbability: cut?.throughProbability ?? null,
    depthMm: cut?.depthMm ?? null,
    thicknessMm: job.thicknessMm,
    timeS: job.time?.totalS ?? null,
    atStake: job.waste?.atStake ?? null,
    expectedWaste: job.waste?.expected ?? null,
    currency: job.waste?.currency ?? null,
    lengthMm: job.toolpath?.cutLengthMm ?? job.artwork?.lengthMm ?? null,
  };
}
