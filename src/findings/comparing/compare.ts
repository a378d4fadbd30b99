import { countsIn } from '../../units/format.ts';
import { type Finding, SEVERITIES } from '../finding.ts';
import { measuresOf } from '../job-measures.ts';
import type { RunResult } from '../result.ts';
import type { Change, Comparison, FindingChange, JobComparison } from './comparison.ts';
import { comparisonHeadline } from './comparison-headline.ts';
import { type FindingPair, pairFindings } from './pair-findings.ts';
import { type JobPair, pairJobs } from './pair-jobs.ts';

/** How a run is held against its base. */
export interface ComparingOptions {
  /** Rules that report once a run: in which job they do may change with any other job. */
  oncePerRun: ReadonlySet<string>;
  /** Whether a file of the base is still there. */
  isThere: (file: string) => boolean;
  gate: Comparison['gate'];
}

/** The jobs of a run. */
type Jobs = Pick<RunResult, 'jobs'>;

/** What became of a run since its base; both made by one kerflint, settings and shop, which is for the caller to see to. */
export function compareResults(base: RunResult, now: Jobs, options: ComparingOptions): Comparison {
  const { pairs, notInRun } = pairJobs(base.jobs, now.jobs, options.isThere);
  const findings: Comparison['findings'] = { new: 0, risen: 0, changed: 0, gone: 0, same: 0 };
  const wanders = wandering(base, now, options.oncePerRun);
  const jobs = pairs.map((pair) => {
    const changes = pairFindings(pair).flatMap((one): FindingChange[] => {
      const change = changeOf(one);
      if (change === null || ((change === 'new' || change === 'gone') && wanders((one.after ?? one.before)!))) {
        if (one.after !== null) findings.same++;
        return [];
      }
      findings[change]++;
      return [told(change, one)];
    });
    return jobComparison(pair, changes);
  });
  const { verdict, summary } = base;
  const changed = jobs.filter(isChanged);
  const comparison = {
    gate: options.gate,
    base: {
      verdict,
      jobs: summary.jobs,
      errors: summary.errors,
      warnings: summary.warnings,
      notes: summary.notes,
    },
    findings,
    jobs: changed,
    unchangedJobs: jobs.length - changed.length,
    notInRun,
  };
  return { headline: comparisonHeadline(comparison), ...comparison };
}

function jobComparison({ before, after }: JobPair, findings: FindingChange[]): JobComparison {
  const is = before === null ? 'new' : after === null ? 'gone' : before.name === after.name ? 'same' : 'renamed';
  return {
    name: (after ?? before)!.name,
    is,
    baseName: before?.name ?? null,
    before: before && measuresOf(before),
    after: after && measuresOf(after),
    findings,
  };
}

function isChanged({ is, before, after, findings }: JobComparison): boolean {
  return is !== 'same' || findings.length > 0 || JSON.stringify(before) !== JSON.stringify(after);
}

/** Null when nothing is told: the finding is as it was, wherever it stands now. */
function changeOf({ before, after }: FindingPair): Change | null {
  if (before === null) return 'new';
  if (after === null) return 'gone';
  const rank = (finding: Finding) => SEVERITIES.indexOf(finding.severity);
  const nowOpen = after.status === 'open' && before.status !== 'open';
  if (nowOpen || rank(after) < rank(before) || counts(after, before)) return 'risen';
  const same = after.message === before.message && after.severity === before.severity && after.status === before.status;
  return same ? null : 'changed';
}

/** Whether a finding that stands for many stands for more than it did. */
function counts(after: Finding, before: Finding): boolean {
  const had = countsIn(before.message);
  return [...countsIn(after.message)].some(([what, count]) => count > (had.get(what) ?? count));
}

/** Notes that are given once a run, and that the other run has as well: in which job is of no meaning. */
function wandering(base: Jobs, now: Jobs, oncePerRun: ReadonlySet<string>): (finding: Finding) => boolean {
  const key = ({ rule, messageId }: Finding) => `${rule}\n${messageId}`;
  const isOnce = ({ rule, severity, status }: Finding) =>
    severity === 'note' && status === 'open' && oncePerRun.has(rule);
  const keysOf = (run: Jobs) => new Set(run.jobs.flatMap((job) => job.findings.filter(isOnce).map(key)));
  const [before, after] = [keysOf(base), keysOf(now)];
  return (finding) => isOnce(finding) && before.has(key(finding)) && after.has(key(finding));
}

function told(change: Change, { before, after }: FindingPair): FindingChange {
  const { rule, severity, status, message, location, fingerprint } = (after ?? before)!;
  const what = { change, rule, severity, status, message, file: location.file, line: location.line, fingerprint };
  if (before === null || after === null) return what;
  return { ...what, before: { severity: before.severity, status: before.status, message: before.message } };
}
