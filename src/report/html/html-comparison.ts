import type { Comparison, FindingChange, JobComparison } from '../../findings/comparing/comparison.ts';
import { formatCount } from '../../units/format.ts';
import { beforeAfter, changePlace, changeWords, fateText, inReadingOrder, MEASURES } from '../comparison-texts.ts';
import { escapeHtml as safe } from '../escape.ts';
import type { ReportContext } from '../report-context.ts';
import { bothPictures } from './html-both-pictures.ts';

/** So many jobs, and of each so many findings, are shown; JSON has all. */
const JOBS_SHOWN = 100;
const FINDINGS_SHOWN = 20;
/** So many jobs are drawn as they were and as they are. */
const JOBS_DRAWN = 12;

type Pictures = Pick<ReportContext, 'pictures' | 'basePictures'>;

/** What has changed since the base: a table of the jobs, and of each its findings that are not as they were and its pictures side by side. */
export function comparisonSection({ headline, jobs }: Comparison, pictures: Pictures): string {
  const shown = jobs.slice(0, JOBS_SHOWN);
  const left = jobs.length - shown.length;
  const more = left > 0 ? `<p>And ${formatCount(left, 'more job')}.</p>` : '';
  const heads = ['job', ...MEASURES.map(({ label }) => label)].map((label) => `<th scope="col">${safe(label)}</th>`);
  const table =
    shown.length === 0
      ? ''
      : `<div class="scroll" tabindex="0" role="region" aria-labelledby="comparison"><table class="compared"><thead><tr>${heads.join('')}</tr></thead><tbody>${shown.map(row).join('\n')}</tbody></table></div>`;
  const drawn = drawnOf(shown, pictures);
  const parts = shown.map((job) => jobPart(job, drawn.of.get(job) ?? ''));
  return `<section class="comparison" aria-labelledby="comparison"><h2 id="comparison">${safe(headline)}</h2>${table}${more}${parts.join('\n')}${drawn.note}</section>`;
}

/** The pictures of the first jobs that have them in both runs, and what is said of the others. */
function drawnOf(jobs: readonly JobComparison[], { pictures, basePictures }: Pictures) {
  const drawable = jobs.flatMap((job) => {
    const before = basePictures?.get(job.baseName ?? '');
    const after = pictures?.get(job.name);
    return job.before && job.after && before && after ? [{ job, before: before.drawing, after: after.drawing }] : [];
  });
  const left = drawable.length - JOBS_DRAWN;
  return {
    of: new Map(
      drawable
        .slice(0, JOBS_DRAWN)
        .map(({ job, before, after }, i) => [job, bothPictures(`both-${i + 1}`, before, after)]),
    ),
    note:
      left > 0 ? `<p class="aside">${formatCount(left, 'more changed job')} not drawn as in the base and now.</p>` : '',
  };
}

function jobPart(job: JobComparison, drawn: string): string {
  const listed = findingsOf(job);
  return listed === '' && drawn === '' ? '' : `<h3>${safe(job.name)}</h3>${listed}${drawn}`;
}

function row(job: JobComparison): string {
  const fate = fateText(job);
  const name = `<th scope="row">${safe(job.name)}${fate === '' ? '' : ` (${safe(fate)})`}</th>`;
  return `<tr>${name}${MEASURES.map(({ of }) => `<td>${safe(beforeAfter(job, of))}</td>`).join('')}</tr>`;
}

function findingsOf({ findings }: JobComparison): string {
  if (findings.length === 0) return '';
  const shown = inReadingOrder(findings).slice(0, FINDINGS_SHOWN);
  const left = findings.length - shown.length;
  const more = left > 0 ? `<li>And ${formatCount(left, 'more finding')}.</li>` : '';
  return `<ul>${shown.map(item).join('\n')}${more}</ul>`;
}

function item(one: FindingChange): string {
  const was =
    one.before && one.before.message !== one.message
      ? ` <span class="was">Was: ${safe(one.before.message)}</span>`
      : '';
  return `<li><strong>${safe(changeWords(one))}</strong> ${safe(one.message)}${was} <span class="place">${safe(changePlace(one))}</span> ${safe(one.rule)}</li>`;
}
