import type { Finding, Severity } from '../finding.ts';
import type { JobResult, RunResult, RunStart } from '../result.ts';
import type { FindingChange } from './comparison.ts';

/** Whether a change brought a finding: it is new or risen. */
export function isBrought({ change }: FindingChange): boolean {
  return change === 'new' || change === 'risen';
}

/** Findings that a comparison calls new or risen, by job; of a run that was not compared none. */
export function broughtFindings(run: RunStart): (job: JobResult, finding: Finding) => boolean {
  const jobs = (run.comparison?.jobs ?? []).filter(({ is }) => is !== 'gone');
  const brought = new Map(
    jobs.map(({ name, findings }) => [name, new Set(findings.filter(isBrought).map((one) => one.fingerprint))]),
  );
  return (job, { fingerprint }) => brought.get(job.name)?.has(fingerprint) ?? false;
}

/** The findings that the exit code goes by: open ones and, where only what is new fails the run, of these what the change brought. */
export function gatedFindings(run: RunStart): (job: JobResult, finding: Finding) => boolean {
  const brought = run.comparison?.gate === 'new' ? broughtFindings(run) : () => true;
  return (job, finding) => finding.status === 'open' && brought(job, finding);
}

/** How many those are. */
export function gatedCounts({
  comparison,
  summary,
}: Pick<RunResult, 'comparison' | 'summary'>): Record<Severity, number> {
  if (comparison?.gate !== 'new') return { error: summary.errors, warning: summary.warnings, note: summary.notes };
  const counts: Record<Severity, number> = { error: 0, warning: 0, note: 0 };
  for (const one of comparison.jobs.flatMap((job) => job.findings))
    if (one.status === 'open' && isBrought(one)) counts[one.severity]++;
  return counts;
}
