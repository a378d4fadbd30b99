import { CAUTION } from './caution.ts';
import type { JobResult, RunEnd, RunResult, RunStart, Verdict } from './result.ts';
import { RunHeadline } from './run-headline.ts';
import { withVerdict } from './verdict.ts';

/** What a run tells besides its jobs and what follows from them. */
export type RunRest = Omit<RunEnd, keyof RunStart | 'verdict' | 'headline' | 'caution' | 'summary'>;

/** Nothing was searched, so nothing was left out. */
export const NOTHING_BESIDES: RunRest = {
  notCheckedFiles: [],
  leftOut: [],
  passedBy: { excluded: 0, git: 0, nodeModules: 0, hiddenFolders: 0, otherFiles: 0 },
};

/**
 * Verdict, counts and headline of a run, from its jobs one by one in their order: none of them is kept.
 */
export class RunTally {
  readonly #headline = new RunHeadline();
  readonly #summary: RunResult['summary'] = {
    jobs: 0,
    errors: 0,
    warnings: 0,
    notes: 0,
    waived: 0,
    baselined: 0,
    notChecked: 0,
  };
  #verdict: Verdict = 'pass';

  /** Counts a job in. Gives it with the verdict and the headline that follow from what is in it now. */
  take(judged: Omit<JobResult, 'verdict' | 'headline'>): JobResult {
    const job = withVerdict(judged);
    this.#verdict = worse(this.#verdict, job.verdict);
    this.#headline.take(job);
    this.#summary.jobs++;
    this.#summary.notChecked += job.notChecked.length;
    for (const { status, severity } of job.findings) {
      if (status !== 'open') this.#summary[status]++;
      else this.#summary[({ error: 'errors', warning: 'warnings', note: 'notes' } as const)[severity]]++;
    }
    return job;
  }

  /** What is told of the run, once the last job is counted in. */
  end({ schemaVersion, tool }: RunStart, rest: RunRest): RunEnd {
    const verdict = rest.leftOut.some(({ incomplete }) => incomplete) ? 'incomplete' : this.#verdict;
    const said = {
      verdict,
      headline: this.#headline.text(rest.leftOut),
      caution: CAUTION,
      summary: { ...this.#summary, notChecked: this.#summary.notChecked + rest.notCheckedFiles.length },
    };
    return Object.assign({ schemaVersion, tool, ...said }, rest, said);
  }
}

/** The worst of two: `incomplete` beats `fail`. */
function worse(a: Verdict, b: Verdict): Verdict {
  return (['incomplete', 'fail'] as const).find((one) => one === a || one === b) ?? 'pass';
}

/** The run with its verdicts, headlines and summary, worked out from what is in it: for runs that are held whole. */
export function withVerdicts(run: Omit<RunResult, 'verdict' | 'headline' | 'summary' | 'caution'>): RunResult {
  const { schemaVersion, tool, jobs, ...rest } = run;
  const tally = new RunTally();
  const judged = jobs.map((job) => tally.take(job));
  return wholeRun(judged, tally.end({ schemaVersion, tool }, rest));
}

/** A run that is held whole, in the order in which it is shown. */
export function wholeRun(
  jobs: JobResult[],
  { schemaVersion, tool, verdict, headline, caution, summary, ...rest }: RunEnd,
): RunResult {
  return { schemaVersion, tool, verdict, headline, caution, summary, ...rest, jobs };
}
