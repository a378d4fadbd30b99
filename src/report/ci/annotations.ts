import { type Finding, SEVERITIES, type Severity } from '../../findings/finding.ts';
import { reasonsNotJudged } from '../../findings/headline.ts';
import type { JobResult, RunResult } from '../../findings/result.ts';
import { worstFirst } from '../../findings/sorting.ts';
import { formatCount } from '../../units/format.ts';
import { commandData, commandProperty, escapeTerminal } from '../escape.ts';
import type { Format } from '../report-context.ts';
import { countsText } from '../result-texts.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';

/** A runner keeps the first ten of each level in a step and drops the others without a word (actions/runner, ExecutionContext.cs). */
export const ANNOTATIONS_PER_LEVEL = 10;
/** A runner cuts messages at 4096 units (the same file); ours end ahead of that, at a place of our choosing. */
const MESSAGE_UNITS = 3500;
/** So many files are named in the annotation that stands for those left out. */
const FILES_NAMED = 5;

const COMMANDS: Record<Severity, string> = { error: 'error', warning: 'warning', note: 'notice' };

/** One annotation to be: level, text and place, not yet escaped. */
export interface Annotation {
  level: Severity;
  title: string;
  message: string;
  at: Finding['location'] | null;
}

/**
 * The annotations of a run, worst first and never more than ten a level; where there are more, the last one of the level
 * says how many and in which files.
 */
export function annotationsOf(result: RunResult): Annotation[] {
  const open = worstFirst(result.jobs.flatMap((job) => job.findings.filter((finding) => finding.status === 'open')));
  return SEVERITIES.flatMap((level) => {
    const findings = open.filter((finding) => finding.severity === level);
    const ofJobs = { error: incompleteOnes, warning: unfinishedOnes, note: () => [] }[level](result);
    const ofFiles = level === 'note' ? [] : leftOutOnes(result, level === 'error');
    return withinBudget(level, [...ofJobs, ...ofFiles, ...findings.map(ofFinding)]);
  });
}

/** Workflow commands, one a line; then for people the headline with the counts, and last the caution. */
export const annotations: Format = (result, { rootInRepository }) => {
  const { summary } = result;
  const last = `kerflint: ${result.headline} ${countsText(summary)}; ${formatCount(summary.waived, 'finding')} waived, ${summary.baselined} in the baseline.`;
  const commands = annotationsOf(result).map((one) => command(one, rootInRepository));
  return [...commands, escapeTerminal(last), result.caution].map((line) => `${line}\n`).join('');
};

function ofFinding(finding: Finding): Annotation {
  const hints = finding.hints.map((hint) => `\n${hint}`).join('');
  return {
    level: finding.severity,
    title: `kerflint ${finding.rule}`,
    message: shortened(`${finding.message}${hints}`, `\n(kerflint explain ${finding.rule})`),
    at: finding.location,
  };
}

/** A run that was not finished must show even where no finding carries the reason. */
function incompleteOnes(result: RunResult): Annotation[] {
  return result.jobs
    .filter((job) => job.verdict === 'incomplete')
    .map((job): Annotation => {
      const [, ...reasons] = [...reasonsNotJudged(job), ...unfinishedRules(job).map(unfinishedText)];
      return {
        level: 'error',
        title: 'kerflint: not judged',
        message: shortened([`${job.name}: ${job.headline}`, ...reasons].join('\n'), ''),
        at: topOf(job),
      };
    });
}

/** What the run is incomplete for; or artwork that was changed and that nobody judged. */
function leftOutOnes({ leftOut }: RunResult, incomplete: boolean): Annotation[] {
  return leftOut
    .filter((one) => one.incomplete === incomplete && (incomplete || (one.changed && one.kind === 'artwork')))
    .map(({ path, kind, reason }): Annotation => {
      const message = shortened(`${path} was not judged: ${reason}`, '');
      // An annotation stands at a line of a file.
      const at = kind === 'folder' ? null : { file: path, line: 1, column: 1, endLine: 1, endColumn: 1 };
      return { level: incomplete ? 'error' : 'warning', title: 'kerflint: not judged', message, at };
    });
}

/** Jobs that were judged, but some of whose rules did not look at everything. */
function unfinishedOnes(result: RunResult): Annotation[] {
  return result.jobs.flatMap((job): Annotation[] => {
    const unfinished = unfinishedRules(job).map(unfinishedText);
    if (job.verdict === 'incomplete' || unfinished.length === 0) return [];
    const message = shortened(`${job.name}: ${unfinished.join('; ')}`, '');
    return [{ level: 'warning', title: 'kerflint: some rules not checked to the end', message, at: topOf(job) }];
  });
}

function topOf(job: JobResult): Annotation['at'] {
  const file = job.sidecar ?? job.files.toolpath ?? job.files.artwork;
  return file === undefined ? null : { file, line: 1, column: 1, endLine: 1, endColumn: 1 };
}

function withinBudget(level: Severity, all: Annotation[]): Annotation[] {
  if (all.length <= ANNOTATIONS_PER_LEVEL) return all;
  const shown = all.slice(0, ANNOTATIONS_PER_LEVEL - 1);
  const hidden = all.slice(ANNOTATIONS_PER_LEVEL - 1);
  const files = new Map<string, number>();
  for (const { at } of hidden) if (at !== null) files.set(at.file, (files.get(at.file) ?? 0) + 1);
  const named = [...files].slice(0, FILES_NAMED).map(([file, n]) => `${file} (${n})`);
  const rest = files.size > FILES_NAMED ? ` and ${formatCount(files.size - FILES_NAMED, 'more file')}` : '';
  const message = `${formatCount(hidden.length, `more ${level}`)} in ${named.join(', ')}${rest}: see the summary of this step, or the log.`;
  return [...shown, { level, title: `kerflint: ${hidden.length} more`, message: shortened(message, ''), at: null }];
}

function shortened(text: string, tail: string): string {
  if (text.length + tail.length <= MESSAGE_UNITS) return text + tail;
  return `${text.slice(0, MESSAGE_UNITS - tail.length - 1)}…${tail}`;
}

function command({ level, title, message, at }: Annotation, rootInRepository: string): string {
  const properties: [string, string | number][] = [];
  if (at !== null) {
    properties.push(['file', rootInRepository + at.file], ['line', at.line], ['endLine', at.endLine]);
    // Columns mean something only within one line (REST API, check runs: start_column).
    if (at.line === at.endLine) properties.push(['col', at.column], ['endColumn', at.endColumn]);
  }
  properties.push(['title', title]);
  const list = properties.map(([name, value]) => `${name}=${commandProperty(String(value))}`).join(',');
  return `::${COMMANDS[level]} ${list}::${commandData(message)}`;
}
