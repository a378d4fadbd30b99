import type { Comparison, FindingChange, JobComparison } from '../../findings/comparing/comparison.ts';
import { formatCount } from '../../units/format.ts';
import { beforeAfter, changePlace, changeWords, fateText, inReadingOrder, MEASURES } from '../comparison-texts.ts';
import { escapeHtml as safe } from '../escape.ts';

/** So many jobs, and of each so many findings, are shown; JSON has all. */
const JOBS_SHOWN = 100;
const FINDINGS_SHOWN = 20;

/** What has changed since the base: a table of the jobs, and their findings that are not as they were. */
export function comparisonSection({ headline, jobs }: Comparison): string {
  const shown = jobs.slice(0, JOBS_SHOWN);
  const left = jobs.length - shown.length;
  const more = left > 0 ? `<p>And ${formatCount(left, 'more job')}.</p>` : '';
  const heads = ['job', ...MEASURES.map(({ label }) => label)].map((label) => `<th scope="col">${safe(label)}</th>`);
  const table =
    shown.length === 0
      ? ''
      : `<div class="scroll" tabindex="0" role="region" aria-labelledby="comparison"><table class="compared"><thead><tr>${heads.join('')}</tr></thead><tbody>${shown.map(row).join('\n')}</tbody></table></div>`;
  return `<section class="comparison" aria-labelledby="comparison"><h2 id="comparison">${safe(headline)}</h2>${table}${more}${shown.map(findingsOf).join('\n')}</section>`;
}

function row(job: JobComparison): string {
  const fate = fateText(job);
  const name = `<th scope="row">${safe(job.name)}${fate === '' ? '' : ` (${safe(fate)})`}</th>`;
  return `<tr>${name}${MEASURES.map(({ of }) => `<td>${safe(beforeAfter(job, of))}</td>`).join('')}</tr>`;
}

function findingsOf({ name, findings }: JobComparison): string {
  if (findings.length === 0) return '';
  const shown = inReadingOrder(findings).slice(0, FINDINGS_SHOWN);
  const left = findings.length - shown.length;
  const more = left > 0 ? `<li>And ${formatCount(left, 'more finding')}.</li>` : '';
  return `<h3>${safe(name)}</h3><ul>${shown.map(item).join('\n')}${more}</ul>`;
}

function item(one: FindingChange): string {
  const was =
    one.before && one.before.message !== one.message
      ? ` <span class="was">Was: ${safe(one.before.message)}</span>`
      : '';
  return `<li><strong>${safe(changeWords(one))}</strong> ${safe(one.message)}${was} <span class="place">${safe(changePlace(one))}</span> ${safe(one.rule)}</li>`;
}
