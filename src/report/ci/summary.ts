import { assumedText, inventedText } from '../../facts/assumed/assumed-text.ts';
import type { Finding } from '../../findings/finding.ts';
import { reasonsNotJudged } from '../../findings/headline.ts';
import type { JobResult } from '../../findings/result.ts';
import { worstFirst } from '../../findings/sorting.ts';
import { fixed, formatChance, formatCount, formatMm, formatMoney, formatTime } from '../../units/format.ts';
import { escapeMarkdown, fencedBlock } from '../escape.ts';
import type { ReportContext } from '../report-context.ts';
import {
  countsText,
  jobsWorstFirst,
  leastThroughProbability,
  openFindings,
  placeText,
  wasteByCurrency,
  wasteText,
} from '../result-texts.ts';
import type { ShownRun } from '../shown-run.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';
import { comparisonSummary } from './comparison-summary.ts';

/** A runner refuses a step's summary above 1 MiB (docs.github.com, workflow commands); a part is left for what else a step says. */
export const SUMMARY_BYTES = 1024 * 1024 - 64 * 1024;
const LISTED = 50;

const MARK = { fail: '⛔ ', incomplete: '❔ ', pass: '' } as const;
const LEVEL = { error: '⛔ error', warning: '⚠️ warning', note: 'note' } as const;

/** GitHub-flavoured Markdown: verdict, a table of the jobs, the findings; cut between two findings if it grows too long. */
export function summary(result: ShownRun, context: ReportContext): string {
  const page = new Bounded(SUMMARY_BYTES);
  page.add(`## kerflint: ${escapeMarkdown(result.headline)}\n\n${escapeMarkdown(totals(result))}\n\n`);
  if (result.comparison) page.add(comparisonSummary(result.comparison));
  const jobs = jobsWorstFirst(result.jobs);
  if (jobs.length > 0) page.add(table(jobs, result.beyond?.jobs ?? 0));
  for (const job of jobs) {
    const heading = jobHeading(job);
    const findings = worstFirst(openFindings(job)).map((finding) => findingText(finding, context));
    if (heading === '' && findings.length === 0) continue;
    page.add(`### ${escapeMarkdown(job.name)}\n\n${heading}`);
    for (const finding of findings) page.addFinding(finding);
  }
  page.leaveOut(result.beyond?.openFindings ?? 0);
  page.add(setAside(result));
  page.add(notChecked(result));
  return `${page.text()}\n${escapeMarkdown(result.caution)}\n`;
}

/** Text that stops growing between two parts when the room is used up, and then counts the findings left out. */
class Bounded {
  readonly #room: number;
  readonly #parts: string[] = [];
  #bytes = 0;
  #left = 0;
  #full = false;

  constructor(room: number) {
    // Room for the sentence that says what was left out, and for the caution.
    this.#room = room - 600;
  }

  add(part: string): boolean {
    const bytes = new TextEncoder().encode(part).length;
    if (this.#full || this.#bytes + bytes > this.#room) {
      this.#full = true;
      return false;
    }
    this.#bytes += bytes;
    this.#parts.push(part);
    return true;
  }

  addFinding(part: string): void {
    if (!this.add(part)) this.#left++;
  }

  /** Findings for which there is no room in any case. */
  leaveOut(findings: number): void {
    this.#left += findings;
  }

  text(): string {
    if (!this.#full && this.#left === 0) return this.#parts.join('');
    return `${this.#parts.join('')}\n**Cut here**: ${formatCount(this.#left, 'more finding')} would not fit into a job summary; the log and \`--format json\` have all.\n`;
  }
}

function totals(result: ShownRun): string {
  const { waived, baselined } = result.summary;
  const waste = wasteText(wasteByCurrency(result));
  return [
    formatCount(result.summary.jobs, 'job'),
    countsText(result.summary),
    waived > 0 ? `${waived} waived` : '',
    baselined > 0 ? `${baselined} in the baseline` : '',
    waste === '' ? '' : `expected waste ${waste}`,
  ]
    .filter((part) => part !== '')
    .join(' · ');
}

/** @param beyond how many jobs of the run are not among these */
function table(jobs: readonly JobResult[], beyond: number): string {
  const rows = jobs.map((job) => {
    const through = leastThroughProbability(job);
    const { waste } = job;
    const cells = [
      job.name,
      `${MARK[job.verdict]}${job.headline}`,
      job.material ?? '',
      job.thicknessMm === null ? '' : formatMm(job.thicknessMm),
      through === null ? '' : formatChance(through),
      job.time === null ? '' : formatTime(job.time.totalS),
      waste === null
        ? ''
        : `${fixed(waste.expected, 2)} of ${formatMoney({ amount: waste.atStake, currency: waste.currency })}`,
      countsText(countsOf(job)),
    ];
    return `| ${cells.map(escapeMarkdown).join(' | ')} |\n`;
  });
  const more = beyond > 0 ? `\n… and ${formatCount(beyond, 'more job')}.\n` : '';
  const head =
    '| job | verdict | material | thickness | P(through) | time | expected waste | found |\n|---|---|---|--:|--:|--:|--:|---|\n';
  return `${head}${rows.join('')}${more}\n`;
}

function countsOf(job: JobResult): { errors: number; warnings: number; notes: number } {
  const open = openFindings(job);
  const number = (severity: string) => open.filter((finding) => finding.severity === severity).length;
  return { errors: number('error'), warnings: number('warning'), notes: number('note') };
}

/** What else was not judged than the headline says, and what was assumed. */
function jobHeading(job: JobResult): string {
  const more = job.verdict === 'incomplete' ? reasonsNotJudged(job).slice(1) : [];
  const notJudged = more.map((reason) => `- ❔ not judged: ${escapeMarkdown(reason)}\n`);
  const unfinished = unfinishedRules(job).map((one) => `- ❔ ${escapeMarkdown(unfinishedText(one))}\n`);
  const assumed = [assumedText(job), inventedText(job.machine, job.inventedMachine === true)].flatMap((said) =>
    said === '' ? [] : `- ${escapeMarkdown(said)}\n`,
  );
  return [...notJudged, ...unfinished, ...assumed].join('');
}

function findingText(finding: Finding, { docsUrl }: ReportContext): string {
  const rule = escapeMarkdown(finding.rule);
  const link = docsUrl === null ? rule : `[${rule}](${docsUrl}${finding.docs})`;
  const lines = [
    `- **${LEVEL[finding.severity]}** ${escapeMarkdown(finding.message)}`,
    ...finding.hints.map((hint) => `  - → ${escapeMarkdown(hint)}`),
    ...finding.related.map((one) => `  - ${escapeMarkdown(`${one.file}:${one.line}: ${one.message}`)}`),
    `  <br>${escapeMarkdown(placeText(finding))} · ${link}`,
  ];
  if (finding.excerpt?.lines.some((line) => line.trim() !== '')) {
    const block = fencedBlock(finding.excerpt.lines, 'text').split('\n');
    lines.push('', ...block.map((line) => `  ${line}`));
  }
  return `${lines.join('\n')}\n\n`;
}

function setAside(result: ShownRun): string {
  const waived = result.jobs.flatMap((job) => job.findings).filter((finding) => finding.status === 'waived');
  const count = waived.length + (result.beyond?.waived ?? 0);
  if (count === 0) return '';
  const rows = waived
    .slice(0, LISTED)
    .map(
      (one) =>
        `- ${escapeMarkdown(`${placeText(one)} ${one.rule}${one.reason === undefined ? '' : `: ${one.reason}`}`)}\n`,
    );
  return `### Waived, and still so (${count})\n\n${rows.join('')}${more(count)}\n`;
}

function notChecked(result: ShownRun): string {
  const files = result.notCheckedFiles;
  if (files.length === 0) return '';
  const rows = files.slice(0, LISTED).map(({ file, reason }) => `- ${escapeMarkdown(`${file}: ${reason}`)}\n`);
  return `### Not checked (${formatCount(files.length, 'file')})\n\n${rows.join('')}${more(files.length)}\n`;
}

function more(all: number): string {
  return all > LISTED ? `- … and ${all - LISTED} more\n` : '';
}
