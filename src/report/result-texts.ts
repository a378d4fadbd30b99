import type { Finding } from '../findings/finding.ts';
import type { JobResult, RunResult, Verdict } from '../findings/result.ts';
import { formatBand, formatCount, formatMm, formatMoney } from '../units/format.ts';
import { inARow } from '../units/in-a-row.ts';

/** The least likely of the job's cuts that are to part the sheet; null when there is none that was predicted. */
export function leastThroughProbability(job: JobResult): number | null {
  const through = job.cuts.filter((cut) => cut.aim === 'through').map((cut) => cut.throughProbability);
  const known = through.filter((p) => p !== null);
  return known.length === 0 ? null : known.reduce((a, b) => Math.min(a, b));
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

/** So many assumptions are named where none of them is in doubt. */
const ASSUMED_NAMED = 3;

/** The measurements that a person can make, by the key that they fill in. */
const MEASUREMENTS: readonly (readonly [key: RegExp, text: string])[] = [
  [/^source\.measured$/, 'A measured power'],
  [/^beam\.diameter$/, 'A measured beam diameter at the lens'],
  [/^beam\.m2$/, 'A stated M²'],
  [/^lenses\..*\.spot$/, 'A measured spot'],
];

/**
 * What of the machine was assumed and which single measurement would narrow the depth most, in one line: "Assumed, as the profile does not say:
 * source.measured 40 W, beam.diameter 5 mm and 9 more. A measured power would take the depth from ± 38 % to ± 24 %." Empty where nothing was.
 */
export function assumedText({ assumed = [], narrows = null }: JobResult): string {
  if (assumed.length === 0) return '';
  const inDoubt = assumed.filter((one) => one.inDoubt);
  const named = inDoubt.length > 0 ? inDoubt : assumed.slice(0, ASSUMED_NAMED);
  const shown = named.map(({ key, value, unit }) => `${key} ${value}${unit === null ? '' : ` ${unit}`}`);
  const rest = assumed.length - named.length;
  const list = inARow(rest === 0 ? shown : [...shown, `${rest} more`], 'and');
  return `Assumed, as the profile does not say: ${list}.${narrowsText(narrows)}`;
}

function narrowsText(narrows: JobResult['narrows']): string {
  if (!narrows) return '';
  const what = MEASUREMENTS.find(([key]) => key.test(narrows.key))?.[1] ?? `A stated ${narrows.key}`;
  return ` ${what} would take the depth from ${formatBand(narrows.fromShare)} to ${formatBand(narrows.toShare)}.`;
}

/** That the machine is made up, where its profile says so; else empty. */
export function inventedText(job: JobResult): string {
  return job.inventedMachine
    ? `The numbers of ${job.machine ?? 'the machine'} are invented, for a demonstration: put in your own before you cut.`
    : '';
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
