import { wrapAnsi } from 'fast-wrap-ansi';
import { assumedText, inventedText } from '../../facts/assumed/assumed-text.ts';
import type { Finding, NotChecked } from '../../findings/finding.ts';
import { reasonsNotJudged } from '../../findings/headline.ts';
import { leftOutGroups, passedByLine } from '../../findings/left-out-texts.ts';
import type { JobResult, Verdict } from '../../findings/result.ts';
import { worstFirst } from '../../findings/sorting.ts';
import { fixed, formatChance, formatCount, formatMoney, formatTime } from '../../units/format.ts';
import { escapeTerminal } from '../escape.ts';
import type { ReportContext } from '../report-context.ts';
import {
  countsText,
  jobsWorstFirst,
  leastThroughProbability,
  machineText,
  openFindings,
  placeText,
  sheetText,
  wasteByCurrency,
  wasteText,
} from '../result-texts.ts';
import type { ShownRun } from '../shown-run.ts';
import { comparisonLines } from './comparison-lines.ts';
import { excerptLines } from './excerpt.ts';
import { type Painter, painter, type Style } from './painter.ts';
import { unfinishedRules, unfinishedText } from './unfinished.ts';

/** So many findings of one job are shown whole; the worst come first, the others are counted. */
const FINDINGS_SHOWN = 50;
/** So many entries of a list of lesser things are shown. */
const ENTRIES_SHOWN = 12;

const SEVERITY_STYLE: Record<Finding['severity'], Style> = { error: 'red', warning: 'yellow', note: 'blue' };

/** For people: what to do, the worst first, with the line it stands in; then what was set aside and what was not checked. */
export function text(run: ShownRun, context: ReportContext): string {
  const page = new TextPage(context);
  page.run(run);
  return page.lines.map((line) => `${line.trimEnd()}\n`).join('');
}

class TextPage {
  readonly lines: string[] = [];
  readonly #paint: Painter;
  readonly #width: number;
  readonly #quiet: boolean;

  constructor(context: ReportContext) {
    this.#paint = painter(context.colour);
    this.#width = Math.min(Math.max(context.width, 40), 120);
    this.#quiet = context.quiet;
  }

  run(result: ShownRun): void {
    const jobs = jobsWorstFirst(result.jobs);
    this.#say('', '', result.headline, ['bold', ...verdictStyle(result.verdict)]);
    for (const { indent, words, dim } of result.comparison ? comparisonLines(result.comparison) : []) {
      if (indent === 0) this.lines.push('');
      this.#say(' '.repeat(indent), ' '.repeat(indent + 2), words, dim ? ['dim'] : []);
    }
    // Of a single job the first line has said it.
    const alone = result.summary.jobs === 1;
    for (const job of jobs.filter((one) => this.#hasBlock(one))) this.#job(job, alone);
    const plain = jobs.filter((one) => !this.#hasBlock(one));
    if (!this.#quiet && plain.length > 0) {
      this.lines.push('');
      for (const job of plain) this.#heading(job, alone);
    }
    this.#beyond(result);
    this.#setAside(result);
    this.#notChecked(result);
    this.#total(result);
    this.lines.push('');
    this.#say('', '', result.caution, ['dim']);
  }

  #shown(job: JobResult): Finding[] {
    return worstFirst(openFindings(job)).filter((finding) => !this.#quiet || finding.severity === 'error');
  }

  #hasBlock(job: JobResult): boolean {
    return job.verdict !== 'pass' || this.#shown(job).length > 0 || unfinishedRules(job).length > 0;
  }

  /** Text in the given styles, broken to the width; `first` and `next` indent the first and the following lines. */
  #say(first: string, next: string, words: string, styles: Style[] = []): void {
    const lines = wrapAnsi(escapeTerminal(words), this.#width - Math.max(first.length, next.length)).split('\n');
    lines.forEach((line, i) => {
      // A runner would take a line that begins so for a command.
      const shown = line.replace(/^::/, '\\x3a:');
      const painted = styles.reduce((done, style) => this.#paint(style, done), shown);
      this.lines.push((i === 0 ? first : next) + painted);
    });
  }

  #job(job: JobResult, alone: boolean): void {
    this.lines.push('');
    this.#heading(job, alone);
    const [, ...more] = reasonsNotJudged(job);
    const reasons = job.verdict === 'incomplete' ? more : [];
    for (const reason of reasons) this.#say('  not judged: ', '    ', reason);
    const unfinished = unfinishedRules(job);
    for (const one of unfinished) this.#say('  ', '    ', unfinishedText(one));
    const findings = this.#shown(job);
    for (const finding of findings.slice(0, FINDINGS_SHOWN)) this.#finding(finding);
    if (findings.length > FINDINGS_SHOWN) {
      this.lines.push(
        '',
        `  … and ${formatCount(findings.length - FINDINGS_SHOWN, 'more finding')}: --format json lists all.`,
      );
    }
  }

  #finding(finding: Finding): void {
    this.lines.push('');
    const level = this.#paint(SEVERITY_STYLE[finding.severity], this.#paint('bold', finding.severity));
    const where = escapeTerminal(placeText(finding));
    const rule = escapeTerminal(finding.rule);
    const fits = finding.severity.length + where.length + rule.length + 6 <= this.#width;
    this.lines.push(`  ${level}  ${where}${fits ? '  ' : '\n    '}${this.#paint('dim', rule)}`);
    this.#say('    ', '    ', finding.message);
    for (const line of excerptLines(finding, this.#width - 4)) {
      const text = line.mark ? this.#paint(SEVERITY_STYLE[finding.severity], line.text) : line.text;
      this.lines.push(`    ${this.#paint('dim', line.gutter)}${text}`);
    }
    const { file, line } = finding.location;
    for (const related of finding.related.filter((one) => one.file !== file || one.line !== line)) {
      this.#say('    ', '      ', `${related.file}:${related.line}:${related.column}: ${related.message}`);
    }
    for (const hint of finding.hints) this.#say('    → ', '      ', hint);
  }

  /** Name, headline, and what is known of sheet, machine and time. */
  #heading(job: JobResult, alone: boolean): void {
    this.#say('', '  ', job.name, ['bold']);
    if (!alone) this.#say('  ', '  ', job.headline, verdictStyle(job.verdict));
    const facts = jobFacts(job);
    if (facts !== '') this.#say('  ', '  ', facts, ['dim']);
    for (const said of [assumedText(job), inventedText(job.machine, job.inventedMachine === true)])
      if (said !== '') this.#say('  ', '  ', said, ['dim']);
  }

  #beyond({ beyond }: ShownRun): void {
    if (!beyond || beyond.jobs === 0) return;
    this.lines.push(
      '',
      `… and ${formatCount(beyond.jobs, 'more job')}, none worse than these: --format json lists all.`,
    );
  }

  #setAside(result: ShownRun): void {
    const waived = result.jobs.flatMap((job) => job.findings).filter((finding) => finding.status === 'waived');
    const count = waived.length + (result.beyond?.waived ?? 0);
    if (count > 0) this.lines.push('', `Waived, and still so (${count}):`);
    for (const finding of waived.slice(0, ENTRIES_SHOWN)) {
      const reason = finding.reason === undefined ? '' : `: ${finding.reason}`;
      this.#say('  ', '    ', `${placeText(finding)}  ${finding.rule}${reason}`);
    }
    this.#more(count);
  }

  #notChecked(result: ShownRun): void {
    for (const group of leftOutGroups(result.leftOut)) {
      const { reason, incomplete, paths } = group;
      this.lines.push('');
      const head = incomplete ? 'Not judged, so the run is incomplete' : 'Left out';
      this.#say('', '  ', `${head} (${paths.length}): ${reason}`, incomplete ? ['yellow'] : []);
      for (const path of paths.slice(0, ENTRIES_SHOWN)) this.#say('  ', '    ', path);
      this.#more(paths.length);
    }
    const passedBy = passedByLine(result.passedBy);
    if (passedBy !== '') {
      this.lines.push('');
      this.#say('', '  ', passedBy, ['dim']);
    }
  }

  #more(all: number): void {
    if (all > ENTRIES_SHOWN) this.lines.push(`  … and ${all - ENTRIES_SHOWN} more: --format json lists all.`);
  }

  #total(result: ShownRun): void {
    const { summary } = result;
    const hidden = this.#quiet ? summary.warnings + summary.notes : 0;
    const isNotApplicable = ({ kind }: NotChecked) => kind === 'not-applicable';
    const notApplicable = result.jobs.reduce(
      (n, job) => n + job.notChecked.filter(isNotApplicable).length,
      result.beyond?.notApplicable ?? 0,
    );
    const waste = wasteText(wasteByCurrency(result));
    const parts = [
      formatCount(summary.jobs, 'job'),
      countsText(summary),
      summary.waived > 0 ? `${summary.waived} waived` : '',
      summary.baselined > 0 ? `${summary.baselined} in the baseline` : '',
      hidden > 0 ? `${hidden} of them hidden by --quiet` : '',
      waste === '' ? '' : `expected waste ${waste}`,
      notApplicable > 0 ? `${formatCount(notApplicable, 'rule had', 'rules had')} nothing to look at` : '',
    ].filter((part) => part !== '');
    this.lines.push('');
    this.#say('', '', parts.join(' · '));
    const first = worstFirst(result.jobs.flatMap(openFindings))[0];
    if (first !== undefined)
      this.#say('', '', `kerflint explain ${first.rule} tells why it matters and how to put it right.`, ['dim']);
  }
}

/** A job in which nothing was found is not painted green: nobody has judged the sheet, the mirrors or the extraction. */
function verdictStyle(verdict: Verdict): Style[] {
  return { pass: [], fail: ['red' as const], incomplete: ['yellow' as const] }[verdict];
}

/** Sheet, machine, chance, time and money of a job in one line. */
function jobFacts(job: JobResult): string {
  const through = leastThroughProbability(job);
  const { waste } = job;
  return [
    sheetText(job),
    machineText(job),
    through === null ? '' : `${formatChance(through)} likely to go through`,
    job.time === null ? '' : formatTime(job.time.totalS),
    waste === null || waste.expected === 0
      ? ''
      : `expected waste ${fixed(waste.expected, 2)} of ${formatMoney({ amount: waste.atStake, currency: waste.currency })}`,
  ]
    .filter((part) => part !== '')
    .join(' · ');
}
