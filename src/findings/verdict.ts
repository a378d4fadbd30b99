import { CAUTION } from './caution.ts';
import { gatedCounts } from './comparing/brought.ts';
import { type Finding, type NotChecked, SEVERITIES, type Severity } from './finding.ts';
import { headlineOfJob, headlineOfRun } from './headline.ts';
import type { JobResult, LeftOutFile, RunResult, Verdict } from './result.ts';

/** Verdict of one job: `incomplete` when something could not be checked, else `fail` when an open error stands. */
function verdictOfJob(job: {
  findings: readonly Finding[];
  notChecked: readonly NotChecked[];
  incomplete: readonly string[];
}): Verdict {
  if (job.incomplete.length > 0 || job.notChecked.some((one) => one.kind === 'failed')) return 'incomplete';
  return job.findings.some((one) => one.status === 'open' && one.severity === 'error') ? 'fail' : 'pass';
}

/** Verdict of the run: the worst of its jobs; `incomplete` too when something was left out that should have been judged. */
function verdictOfRun(
  jobs: readonly { verdict: Verdict }[],
  leftOut: readonly Pick<LeftOutFile, 'incomplete'>[] = [],
): Verdict {
  if (leftOut.some((one) => one.incomplete)) return 'incomplete';
  if (jobs.some((job) => job.verdict === 'incomplete')) return 'incomplete';
  return jobs.some((job) => job.verdict === 'fail') ? 'fail' : 'pass';
}

/** Counts over the run. Severities count open findings; `notChecked` counts what the jobs list and the files left out. */
function summarise(jobs: readonly JobResult[], notCheckedFiles: readonly unknown[]): RunResult['summary'] {
  const findings = jobs.flatMap((job) => job.findings);
  const open = (severity: Severity) =>
    findings.filter((one) => one.status === 'open' && one.severity === severity).length;
  return {
    jobs: jobs.length,
    errors: open('error'),
    warnings: open('warning'),
    notes: open('note'),
    waived: findings.filter((one) => one.status === 'waived').length,
    baselined: findings.filter((one) => one.status === 'baselined').length,
    notChecked: jobs.reduce((sum, job) => sum + job.notChecked.length, 0) + notCheckedFiles.length,
  };
}

/** A job with its verdict and headline, worked out from what is in it. */
export function withVerdict(job: Omit<JobResult, 'verdict' | 'headline'>): JobResult {
  const verdict = verdictOfJob(job);
  const headline = headlineOfJob({ ...job, verdict });
  const { name, ...rest } = job;
  // What is to be read first stands in front.
  return Object.assign({ name, verdict, headline }, rest, { verdict, headline });
}

/**
 * The run with its verdicts, headlines and summary, worked out from what is in it: also again, after findings changed their status or
 * shards were joined.
 */
export function withVerdicts(run: Omit<RunResult, 'verdict' | 'headline' | 'summary' | 'caution'>): RunResult {
  const jobs = run.jobs.map(withVerdict);
  const verdict = verdictOfRun(jobs, run.leftOut);
  const summary = summarise(jobs, run.notCheckedFiles);
  const headline = headlineOfRun({ verdict, jobs, leftOut: run.leftOut });
  const said = { verdict, headline, summary, caution: CAUTION };
  const { schemaVersion, tool, ...rest } = run;
  return Object.assign({ schemaVersion, tool, ...said }, rest, { jobs, ...said });
}

/** From which severity on findings make the run fail, and how many warnings are allowed (null: any number). */
export interface FailLevel {
  failOn: Severity;
  maxWarnings: number | null;
}

/**
 * 3 when the run is incomplete, 1 when an open finding is at or above the level or there are too many warnings, else 0. Where the run was
 * compared and only what is new is to fail it, other findings do not count.
 * (2, usage and configuration, is decided before there is a result.)
 */
export function exitCodeOf(result: RunResult, level: FailLevel): 0 | 1 | 3 {
  if (result.verdict === 'incomplete') return 3;
  const reached = SEVERITIES.slice(0, SEVERITIES.indexOf(level.failOn) + 1);
  const count = gatedCounts(result);
  if (reached.some((severity) => count[severity] > 0)) return 1;
  return level.maxWarnings !== null && count.warning > level.maxWarnings ? 1 : 0;
}
