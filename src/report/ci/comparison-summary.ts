import type { Comparison, JobComparison } from '../../findings/comparing/comparison.ts';
import { formatCount } from '../../units/format.ts';
import { beforeAfter, changePlace, changeWords, fateText, inReadingOrder, MEASURES } from '../comparison-texts.ts';
import { escapeMarkdown } from '../escape.ts';

/** So many jobs stand in the table, and of each so many findings below it. */
const ROWS_SHOWN = 100;
const FINDINGS_SHOWN = 20;

/** What has changed since the base, as Markdown: a table of the jobs, and their findings that are not as they were. */
export function comparisonSummary({ headline, jobs }: Comparison): string {
  const title = `### ${escapeMarkdown(headline)}\n\n`;
  if (jobs.length === 0) return title;
  const shown = jobs.slice(0, ROWS_SHOWN);
  const head = ['job', ...MEASURES.map(({ label }) => label)];
  const rows = [head, head.map((_, i) => (i < 2 ? '---' : '--:')), ...shown.map(cells)];
  const table = rows.map((row) => `| ${row.join(' | ')} |\n`).join('');
  const left = jobs.length - shown.length;
  const more = left > 0 ? `\n… and ${formatCount(left, 'more job')}.\n` : '';
  const lists = shown.map(findingsOf).join('');
  return `${title}${table}${more}\n${lists}${lists === '' ? '' : '\n'}`;
}

function cells(job: JobComparison): string[] {
  const fate = fateText(job);
  return [`${job.name}${fate === '' ? '' : ` (${fate})`}`, ...MEASURES.map(({ of }) => beforeAfter(job, of))].map(
    escapeMarkdown,
  );
}

function findingsOf({ name, findings }: JobComparison): string {
  const shown = inReadingOrder(findings).slice(0, FINDINGS_SHOWN);
  const lines = shown.map((one) => {
    const was = one.before && one.before.message !== one.message ? ` (was: ${one.before.message})` : '';
    const words = `${name}: ${one.message}${was}`;
    return `- **${escapeMarkdown(changeWords(one))}** ${escapeMarkdown(words)} · ${escapeMarkdown(`${changePlace(one)} · ${one.rule}`)}\n`;
  });
  const left = findings.length - shown.length;
  return [
    ...lines,
    ...(left > 0 ? [`- … and ${formatCount(left, 'more finding')} of ${escapeMarkdown(name)}\n`] : []),
  ].join('');
}
