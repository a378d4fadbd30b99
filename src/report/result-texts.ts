import type { Finding } from '../findings/finding.ts';
import type { JobResult, RunResult, Verdict } from '../findings/result.ts';
import { formatCount, formatMm, formatMoney } from '../units/format.ts';
import { unjudgedClause } from './left-out-texts.ts';

/** The least likely of the job's cuts that are to part the sheet; null when there is none that was predicted. */
export function leastThroughProbability(job: JobResult): number | null {
  const through = job.cuts.filter((cut) => cut.aim === 'through').map((cut) => cut.throughProbability);
  const known = through.filter((p) => p !== null);
  return known.length === 0 ? null : Math.min(...known);
}

/** Expected waste over all jobs, by currency in order of code: `[["EUR", 4.58]]`. */
export function wasteByCurrency(result: RunResult): [currency: string, amount: number][] {
  const sums = new Map<string, number>();
  for (const { waste } of result.jobs) {
    if (waste !== null) sums.set(waste.currency, (sums.get(waste.currency) ?? 0) + waste.expected);
  }
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

/** The verdict over a run in one sentence. It never says that anything is safe. */
export function verdictSentence(result: RunResult): string {
  const by = (verdict: Verdict) => result.jobs.filter((job) => job.verdict === verdict).length;
  const jobs = formatCount(result.jobs.length, 'job');
  const unjudged = unjudgedClause(result);
  if (result.jobs.length === 0)
    return unjudged === null ? 'Nothing was judged: there was no job to check.' : `Not judged: ${unjudged}.`;
  if (result.verdict === 'incomplete') {
    const failing = by('fail');
    if (by('incomplete') === 0 && unjudged !== null) {
      const rest = failing > 0 ? `; and do not run as it is: ${failing} of ${jobs}` : '';
      return `Not judged: ${unjudged}${rest}.`;
    }
    const rest =
      failing > 0
        ? `; ${formatCount(failing, 'other must', 'others must')} not run as ${failing === 1 ? 'it is' : 'they are'}`
        : '';
    const left = unjudged === null ? '' : `; not judged: ${unjudged}`;
    return `Not checked to the end: ${by('incomplete')} of ${jobs} could not be judged whole${rest}${left}.`;
  }
  if (result.verdict === 'fail') return `Do not run as it is: ${by('fail')} of ${jobs}.`;
  const { warnings, notes } = result.summary;
  const found = countsText({ errors: 0, warnings, notes });
  return warnings + notes > 0
    ? `Found no error in what was checked: ${jobs}, ${found}.`
    : `Found nothing in what was checked: ${jobs}.`;
}

const RANK: Record<Verdict, number> = { fail: 0, incomplete: 1, pass: 2 };

/** Jobs with the worst first: failing, incomplete, passing; the one with the most findings first; then by name. */
export function jobsWorstFirst(jobs: readonly JobResult[]): JobResult[] {
  const errors = (job: JobResult) => openFindings(job).some((finding) => finding.severity === 'error');
  const rank = (job: JobResult) => (errors(job) ? RANK.fail : RANK[job.verdict]);
  return [...jobs].sort(
    (a, b) =>
      rank(a) - rank(b) ||
      openFindings(b).length - openFindings(a).length ||
      (a.name < b.name ? -1 : a.name > b.name ? 1 : 0),
  );
}
