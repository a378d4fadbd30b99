import { gatedCounts } from './comparing/brought.ts';
import { type Finding, type NotChecked, SEVERITIES, type Severity } from './finding.ts';
import { headlineOfJob } from './headline.ts';
import type { JobResult, RunEnd, Verdict } from './result.ts';

/** Verdict of one job: `incomplete` when something could not be checked, else `fail` when an open error stands. */
function verdictOfJob(job: {
  findings: readonly Finding[];
  notChecked: readonly NotChecked[];
  incomplete: readonly string[];
}): Verdict {
  if (job.incomplete.length > 0 || job.notChecked.some((one) => one.kind === 'failed')) return 'incomplete';
  return job.findings.some((one) => one.status === 'open' && one.severity === 'error') ? 'fail' : 'pass';
}

/** A job with its verdict and headline, worked out from what is in it. */
export function withVerdict(job: Omit<JobResult, 'verdict' | 'headline'>): JobResult {
  const verdict = verdictOfJob(job);
  const headline = headlineOfJob({ ...job, verdict });
  const { name, ...rest } = job;
  // What is to be read first stands in front.
  return Object.assign({ name, verdict, headline }, rest, { verdict, headline });
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
export function exitCodeOf(result: Pick<RunEnd, 'verdict' | 'summary' | 'comparison'>, level: FailLevel): 0 | 1 | 3 {
  if (result.verdict === 'incomplete') return 3;
  const reached = SEVERITIES.slice(0, SEVERITIES.indexOf(level.failOn) + 1);
  const count = gatedCounts(result);
  if (reached.some((severity) => count[severity] > 0)) return 1;
  return level.maxWarnings !== null && count.warning > level.maxWarnings ? 1 : 0;
}
