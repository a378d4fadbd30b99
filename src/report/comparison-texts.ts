import type { Change, FindingChange, JobComparison, JobMeasures } from '../findings/comparing/comparison.ts';
import { fixed, formatChance, formatMm, formatMoney, formatTime } from '../units/format.ts';

/** In the order in which a reviewer reads: what the change brought, then what it took away. */
export const CHANGES: readonly Change[] = ['new', 'risen', 'changed', 'gone'];

/** The numbers of a job that are held against each other, in the order in which they are shown. */
export const MEASURES: readonly { label: string; of: (measures: JobMeasures) => string }[] = [
  { label: 'verdict', of: ({ verdict }) => VERDICTS[verdict] },
  { label: 'P(through)', of: ({ throughProbability: p }) => (p === null ? '–' : formatChance(p)) },
  { label: 'depth', of: depthText },
  { label: 'time', of: ({ timeS }) => (timeS === null ? '–' : formatTime(timeS)) },
  { label: 'at stake', of: ({ atStake, currency }) => moneyText(atStake, currency) },
  { label: 'expected waste', of: ({ expectedWaste, currency }) => moneyText(expectedWaste, currency) },
  { label: 'length', of: ({ lengthMm }) => (lengthMm === null ? '–' : formatMm(lengthMm)) },
];

const VERDICTS = { fail: 'do not run', incomplete: 'not judged', pass: 'no error found' } as const;

/** "8.4 of 12 mm": how deep the least sure cut goes into which sheet. */
export function depthText({ depthMm, thicknessMm }: JobMeasures): string {
  return depthMm === null || thicknessMm === null ? '–' : `${fixed(depthMm, 1)} of ${formatMm(thicknessMm)}`;
}

function moneyText(amount: number | null, currency: string | null): string {
  return amount === null || currency === null ? '–' : formatMoney({ amount, currency });
}

/** "94 % → 12 %"; what is the same in both, or in the only one there is, stands once. */
export function beforeAfter({ before, after }: JobComparison, of: (measures: JobMeasures) => string): string {
  const was = before && of(before);
  const is = after && of(after);
  return was !== null && is !== null && was !== is ? `${was} → ${is}` : (is ?? was ?? '');
}

/** Only what differs: "P(through) 94 % → 12 %". */
export function changedMeasures(job: JobComparison): string[] {
  if (job.before === null || job.after === null) return [];
  return MEASURES.flatMap(({ label, of }) => {
    const text = beforeAfter(job, of);
    return text.includes(' → ') ? `${label} ${text}` : [];
  });
}

/** What became of a job besides its findings: "renamed from labels"; empty for one that stays. */
export function fateText({ is, baseName }: JobComparison): string {
  if (is === 'renamed') return `renamed from ${baseName}`;
  return { same: '', new: 'new', gone: 'gone' }[is];
}

/** "new error", "risen from warning to error", "changed warning", "gone error". */
export function changeWords({ change, severity, status, before }: FindingChange): string {
  const aside = status === 'open' ? '' : `, ${status}`;
  if (change !== 'risen' || before === undefined) return `${change} ${severity}${aside}`;
  if (before.severity !== severity) return `risen from ${before.severity} to ${severity}${aside}`;
  return before.status === 'open' ? `risen ${severity}${aside}` : `risen ${severity}, no longer ${before.status}`;
}

/** The changes of a job's findings, what it brought first, in each by severity. */
export function inReadingOrder(findings: readonly FindingChange[]): FindingChange[] {
  const severities = ['error', 'warning', 'note'];
  return [...findings].sort(
    (a, b) =>
      CHANGES.indexOf(a.change) - CHANGES.indexOf(b.change) ||
      severities.indexOf(a.severity) - severities.indexOf(b.severity),
  );
}

/** Where a finding stands, or stood. */
export function changePlace({ file, line }: FindingChange): string {
  return `${file}:${line}`;
}
