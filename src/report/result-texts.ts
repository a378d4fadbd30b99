import type { Finding } from '../findings/finding.ts';
import type { JobResult, Verdict } from '../findings/result.ts';
import { formatCount, formatMm, formatMoney } from '../units/format.ts';
import type { ShownRun } from './shown-run.ts';

export { leastThroughProbability } from '../findings/job-measures.ts';

/** Expected waste over all jobs, by currency in order of code: `[["EUR", 4.58]]`. */
export function wasteByCurrency({ jobs, beyond }: ShownRun): [currency: string, amount: number][] {
  const sums = new Map<string, number>(beyond?.waste);
  for (const job of jobs) addWaste(sums, job);
  return byCurrency(sums);
}

/** Adds what is expected to be lost in a job to the sums by currency. */
export function addWaste(sums: Map<string, number>, { waste }: JobResult): void {
  if (waste !== null) sums.set(waste.currency, (sums.get(waste.currency) ?? 0) + waste.expected);
}

/** Sums in order of the currency's code. */
export function byCurrency(sums: ReadonlyMap<string, number>): [currency: string, amount: number][] {
  return [...sums].sort(([a], [b]) => (a < b ? -1 : 1));
}

/** "4.58 EUR", several currencies with a plus; empty when no job has a price. */
export function wasteText(waste: readonly [string, number][]): string {
  return waste.map(([currency, amount]) => formatMoney({ amount, currency })).join(' + ');
}

/** What was cut out of what: "birch-plywood 6.0 mm", or what is known of it. */
export function sheetText(job: JobResult): string {
  return [job.material, job.thicknessMm === null ? null : formatMm(job.thicknessMm)]
    .filter((part) => part !== null)
    .join(' ');
}

/** "bench-60w, lens 2in", or what is known of it. */
export function machineText(job: JobResult): string {
  return [job.machine, job.lens === null ? null : `lens ${job.lens}`].filter((part) => part !== null).join(', ');
}

export function openFindings(job: JobResult): Finding[] {
  return job.findings.filter((finding) => finding.status === 'open');
}

/** Where a finding stands: "signs/gate.gcode:12:4". */
export function placeText({ location }: Finding): string {
  return `${location.file}:${location.line}:${location.column}`;
}

/** "2 errors, 1 warning"; only what there is; "nothing" when there is nothing. */
export function countsText(counts: { errors: number; warnings: number; notes: number }): string {
  const parts = [
    counts.errors > 0 ? formatCount(counts.errors, 'error') : '',
    counts.warnings > 0 ? formatCount(counts.warnings, 'warning') : '',
    counts.notes > 0 ? formatCount(counts.notes, 'note') : '',
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'nothing' : parts.join(', ');
}

const RANK: Record<Verdict, number> = { fail: 0, incomplete: 1, pass: 2 };

/** What jobs are ranked by: the open findings are counted. */
export interface RankedJob {
  readonly name: string;
  readonly verdict: Verdict;
  readonly open: number;
  /** An error stands. */
  readonly errors: boolean;
}

/** Order of jobs: failing, incomplete, passing; the one with the most findings first; then by name. */
export function compareWorstJobFirst(a: RankedJob, b: RankedJob): number {
  const rank = ({ errors, verdict }: RankedJob) => (errors ? RANK.fail : RANK[verdict]);
  return rank(a) - rank(b) || b.open - a.open || (a.name < b.name ? -1 : a.name > b.name ? 1 : 0);
}

/** What a job is ranked by. */
export function rankOf(job: JobResult): RankedJob {
  const open = openFindings(job);
  const errors = open.some(({ severity }) => severity === 'error');
  return { name: job.name, verdict: job.verdict, open: open.length, errors };
}

/** Jobs with the worst first. */
export function jobsWorstFirst(jobs: readonly JobResult[]): JobResult[] {
  return jobs
    .map((job) => ({ job, rank: rankOf(job) }))
    .sort((a, b) => compareWorstJobFirst(a.rank, b.rank))
    .map(({ job }) => job);
}
