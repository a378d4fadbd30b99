import type { JobPictures } from '../../facts/drawing/drawing-model.ts';
import type { JobResult } from '../../findings/result.ts';
import { compareWorstFirst } from '../../findings/sorting.ts';
import { formatCount } from '../../units/format.ts';
import { escapeHtml as safe } from '../escape.ts';
import { MOST_PINS } from '../pictures/map-pins.ts';
import type { ReportContext } from '../report-context.ts';
import { countsText, jobsWorstFirst, placeText, wasteByCurrency, wasteText } from '../result-texts.ts';
import type { ShownRun } from '../shown-run.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';
import { comparisonSection } from './html-comparison.ts';
import { type FindingEntry, findingsSection, rulesSection, SEVERITY_WORDS } from './html-findings.ts';
import { jobFacts, jobSection, VERDICT_WORDS } from './html-job.ts';
import { REPORT_CSS } from './html-style.ts';

/** So many jobs are shown with pictures, the worst first. */
export const JOBS_DRAWN = 60;
/** So many findings stand in the table, the worst first. */
const FINDINGS_SHOWN = 1000;

/** One HTML file for people who look before they read: it opens from disk, asks for nothing, and reads without its script. */
export function html(result: ShownRun, context: ReportContext): string {
  const { script = null } = context;
  const style = script === null ? "'unsafe-inline'" : `'${script.styleHash}'`;
  const policy = [
    "default-src 'none'",
    `style-src ${style}`,
    `script-src ${script === null ? "'none'" : `'${script.scriptHash}'`}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    '<meta name="color-scheme" content="light dark">',
    `<title>${safe(result.headline)}</title>`,
    `<style>${REPORT_CSS}</style>`,
    '</head>',
    '<body>',
    reportBody(result, context),
    script === null ? '' : `<script>${script.text}</script>`,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** What stands inside `body`, without style and script: the offline page shows it in its own place. */
export function reportBody(result: ShownRun, context: ReportContext): string {
  const jobs = jobsWorstFirst(result.jobs);
  const picturesOf = (job: JobResult) => context.pictures?.get(job.name) ?? null;
  const { entries, left } = numbered(jobs, picturesOf);
  const sections = jobs.map((job, i) => {
    const id = `job-${i + 1}`;
    const own = entries.filter(({ jobId }) => jobId === id);
    const drawn = i < JOBS_DRAWN;
    const why = drawn
      ? null
      : `Pictures are drawn of the ${JOBS_DRAWN} worst jobs; check this one alone to see its own.`;
    const pictures = drawn ? picturesOf(job) : null;
    return jobSection(job, id, { numbered: own, pictures, why, today: context.today ?? null, rules: context.rules });
  });
  return [
    '<a class="skip" href="#report">To the report</a>',
    // On paper a single job says its headline itself.
    `<header${jobs.length === 1 ? ' class="of-one"' : ''}>`,
    `<p class="mark">kerflint ${safe(result.tool.version)}</p>`,
    `<h1>${safe(result.headline)}</h1>`,
    `<p class="totals">${safe(totals(result))}</p>`,
    '</header>',
    '<main id="report">',
    result.comparison ? comparisonSection(result.comparison, context) : '',
    jobList(jobs, entries, result.beyond?.jobs ?? 0),
    ...sections,
    findingsSection(entries, left + (result.beyond?.findings ?? 0)),
    rulesSection(entries, context),
    notChecked(result),
    '</main>',
    `<footer><p>kerflint tells what it found in what it checked; it cannot see the sheet, the mirrors or the extraction.</p><p class="cautions">${safe(result.caution)}</p></footer>`,
  ]
    .filter((part) => part !== '')
    .join('\n');
}

/** All findings with their numbers: worst job first, in it the worst finding first. */
function numbered(
  jobs: readonly JobResult[],
  picturesOf: (job: JobResult) => JobPictures | null,
): { entries: FindingEntry[]; left: number } {
  const entries: FindingEntry[] = [];
  let all = 0;
  for (const [i, job] of jobs.entries()) {
    const pictures = picturesOf(job);
    const places = new Set(i < JOBS_DRAWN ? pictures?.drawing.pins.map(({ fingerprint }) => fingerprint) : []);
    let pins = 0;
    const around = new Map(pictures?.around.map((one) => [one.fingerprint, one]));
    for (const finding of [...job.findings].sort(compareWorstFirst)) {
      all++;
      if (entries.length >= FINDINGS_SHOWN) continue;
      const { fingerprint } = finding;
      const pinned = places.has(fingerprint) && pins++ < MOST_PINS;
      entries.push({
        number: all,
        finding,
        job: job.name,
        jobId: `job-${i + 1}`,
        pinned,
        around: around.get(fingerprint) ?? null,
      });
    }
  }
  return { entries, left: all - entries.length };
}

function totals(result: ShownRun): string {
  const { waived, baselined } = result.summary;
  const waste = wasteText(wasteByCurrency(result));
  return [
    formatCount(result.summary.jobs, 'job'),
    noneOr(countsText(result.summary)),
    waived > 0 ? `${waived} waived` : '',
    baselined > 0 ? `${baselined} in the baseline` : '',
    waste === '' ? '' : `expected waste ${waste}`,
  ]
    .filter((part) => part !== '')
    .join(' · ');
}

function noneOr(found: string): string {
  return found === 'nothing' ? 'no finding' : found;
}

/**
 * A line a job, the worst first: of one that must not run what is worst in it, where and what to do; of any other the headline. A single
 * job has that in the headline of the page.
 */
function jobList(jobs: readonly JobResult[], entries: readonly FindingEntry[], beyond: number): string {
  if (jobs.length < 2) return '';
  const items = jobs.map((job, i) => {
    const id = `job-${i + 1}`;
    const worst = worstText(entries.find((entry) => entry.jobId === id && entry.finding.status === 'open'));
    const said = job.verdict === 'fail' && worst !== '' ? worst : `<p>${safe(job.headline)}</p>`;
    return `<li class="${job.verdict}"><a href="#${id}">${safe(job.name)}</a> <strong>${VERDICT_WORDS[job.verdict]}</strong> <span>${safe(jobFacts(job))}</span>${said}</li>`;
  });
  const others =
    beyond > 0
      ? `<p class="aside">And ${formatCount(beyond, 'more job')}, none worse than these: the JSON has all.</p>`
      : '';
  return `<nav aria-label="Jobs, the worst first"><ol class="jobs">${items.join('\n')}</ol>${others}</nav>`;
}

/** Where the worst of a job stands; its own words where the headline has not said them. */
function worstText(worst: FindingEntry | undefined): string {
  if (!worst || worst.finding.severity === 'note') return '';
  const { number, finding } = worst;
  const link = `<a href="#finding-${number}">${SEVERITY_WORDS[finding.severity]} ${number}</a>`;
  return `<p>${link} <span class="place">${safe(placeText(finding))}</span> ${safe(finding.message)}</p>`;
}

function notChecked(result: ShownRun): string {
  const rules = result.jobs.flatMap((job) =>
    [
      ...job.notChecked.filter(({ kind }) => kind === 'failed').map((one) => `${one.rule} failed: ${one.reason}`),
      ...unfinishedRules(job).map(unfinishedText),
    ].map((text) => `${job.name}: ${text}`),
  );
  const files = result.notCheckedFiles.map(({ file, reason }) => `${file}: ${reason}`);
  const all = [...rules, ...files];
  if (all.length === 0) return '';
  const shown = all.slice(0, FINDINGS_SHOWN).map((line) => `<li>${safe(line)}</li>`);
  const more = all.length > shown.length ? `<p>And ${all.length - shown.length} more.</p>` : '';
  return `<section aria-labelledby="not-checked"><h2 id="not-checked">Not checked</h2><ul>${shown.join('\n')}</ul>${more}</section>`;
}
