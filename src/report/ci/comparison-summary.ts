import type { Comparison, JobComparison, JobMeasures } from '../../findings/comparing/comparison.ts';
import { formatCount } from '../../units/format.ts';
import {
  beforeAfter,
  changePlace,
  changeWords,
  depthText,
  fateText,
  inReadingOrder,
  MEASURES,
} from '../comparison-texts.ts';
import { escapeMarkdown } from '../escape.ts';

/** So many jobs stand in the table, and of each so many findings below it. */
const ROWS_SHOWN = 100;
const FINDINGS_SHOWN = 20;
/** A section is so many characters long when the cut parts the sheet. */
const SECTION_CHARACTERS = 12;

/**
 * What has changed since the base, as Markdown: a table of the jobs, the sections of their least sure cuts side by side, and their
 * findings that are not as they were.
 */
export function comparisonSummary({ headline, jobs }: Comparison): string {
  const title = `### ${escapeMarkdown(headline)}\n\n`;
  if (jobs.length === 0) return title;
  const shown = jobs.slice(0, ROWS_SHOWN);
  const head = ['job', ...MEASURES.map(({ label }) => label)];
  const rows = [head, head.map((_, i) => (i < 2 ? '---' : '--:')), ...shown.map(cells)];
  const table = tableOf(rows);
  const left = jobs.length - shown.length;
  const more = left > 0 ? `\n… and ${formatCount(left, 'more job')}.\n` : '';
  const lists = shown.map(findingsOf).join('');
  return `${title}${table}${more}\n${sections(shown)}${lists}${lists === '' ? '' : '\n'}`;
}

const tableOf = (rows: readonly string[][]): string => rows.map((row) => `| ${row.join(' | ')} |\n`).join('');

/** How far the least sure cut of each job goes through its sheet in the base and now, drawn in characters: Markdown takes no drawings. */
function sections(jobs: readonly JobComparison[]): string {
  const rows = jobs.flatMap(({ name, before, after }) =>
    before && after && depthText(before) !== depthText(after)
      ? [[escapeMarkdown(name), section(before), section(after)]]
      : [],
  );
  if (rows.length === 0) return '';
  return `${tableOf([['section of the least sure cut', 'in the base', 'now'], ['---', '---', '---'], ...rows])}\n`;
}

/** Full for what is cut, light for what stays; the last is only full where the cut is predicted to reach the underside. */
function section(measures: JobMeasures): string {
  const { depthMm, thicknessMm } = measures;
  if (depthMm === null || thicknessMm === null) return '–';
  const share = Math.min(1, depthMm / thicknessMm);
  const cut = Math.floor(share * SECTION_CHARACTERS);
  return `${'█'.repeat(cut)}${'░'.repeat(SECTION_CHARACTERS - cut)} ${escapeMarkdown(depthText(measures))}`;
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
