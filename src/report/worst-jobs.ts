import type { JobPictures } from '../facts/drawing/drawing-model.ts';
import type { JobResult } from '../findings/result.ts';
import { wholeRun } from '../findings/run-tally.ts';
import { FirstKept } from '../units/first-kept.ts';
import type { Format, ReportContext } from './report-context.ts';
import { addWaste, compareWorstJobFirst, type RankedJob, rankOf } from './result-texts.ts';
import type { Beyond, ShownRun } from './shown-run.ts';

/** So many jobs are shown by a report that people read from its top; the others are counted. */
export const JOBS_SHOWN = 500;

/** A report that is made at the end, of the worst jobs of a run and their pictures. */
export function ofWorstJobs(make: (run: ShownRun, context: ReportContext) => string, picturesShown = 0): Format {
  return {
    open(context) {
      const kept = new FirstKept<KeptJob>(JOBS_SHOWN, (a, b) => compareWorstJobFirst(a.ranked, b.ranked));
      const drawn = new FirstKept<KeptPictures>(picturesShown, (a, b) => compareWorstJobFirst(a.ranked, b.ranked));
      const beyond = nothingBeyond();
      let count = 0;
      return {
        job(result, pictures) {
          const ranked = rankOf(result);
          const job = { ranked, at: count++, result };
          if (pictures !== null && picturesShown > 0) drawn.add({ ranked, pictures });
          const out = kept.add(job);
          if (out !== null) countBeyond(out.result, beyond);
          return '';
        },
        end(run) {
          const jobs = kept.sorted().sort((a, b) => a.at - b.at);
          const shown: ShownRun = wholeRun(
            jobs.map(({ result }) => result),
            run,
          );
          if (beyond.jobs > 0) shown.beyond = beyond;
          const pictures = new Map(drawn.sorted().map(({ ranked, pictures }) => [ranked.name, pictures] as const));
          return [make(shown, { ...context, pictures })];
        },
      };
    },
  };
}

interface KeptJob {
  ranked: RankedJob;
  /** Its place in the run. */
  at: number;
  result: JobResult;
}

interface KeptPictures {
  ranked: RankedJob;
  pictures: JobPictures;
}

function nothingBeyond(): Beyond {
  return { jobs: 0, findings: 0, openFindings: 0, waived: 0, notApplicable: 0, waste: new Map() };
}

function countBeyond(job: JobResult, beyond: Beyond): void {
  beyond.jobs++;
  beyond.findings += job.findings.length;
  for (const { status } of job.findings) {
    if (status === 'open') beyond.openFindings++;
    else if (status === 'waived') beyond.waived++;
  }
  beyond.notApplicable += job.notChecked.filter(({ kind }) => kind === 'not-applicable').length;
  addWaste(beyond.waste, job);
}
