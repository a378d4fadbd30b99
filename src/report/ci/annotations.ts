import { SEVERITIES, type Severity } from '../../findings/finding.ts';
import type { RunResult } from '../../findings/result.ts';
import { formatCount } from '../../units/format.ts';
import { commandData, commandProperty, escapeTerminal } from '../escape.ts';
import type { Format } from '../report-context.ts';
import { countsText } from '../result-texts.ts';
import { type Mark, marksOf, NOT_JUDGED, NOT_TO_THE_END } from './marks.ts';

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
  at: Mark['at'];
}

/**
 * The annotations of a run, worst first and never more than ten a level; where there are more, the last one of the level
 * says how many and in which files.
 */
export function annotationsOf(result: RunResult): Annotation[] {
  const marks = marksOf(result);
  // What the change brought must not be what the budget leaves out.
  const all = [...marks.filter((one) => one.brought), ...marks.filter((one) => !one.brought)].map(annotationOf);
  return SEVERITIES.flatMap((level) =>
    withinBudget(
      level,
      all.filter((one) => one.level === level),
    ),
  );
}

/** Workflow commands, one a line; then for people the headline with the counts, and last the caution. */
export const annotations: Format = (result, { rootInRepository }) => {
  const { summary, comparison } = result;
  const last = `kerflint: ${result.headline} ${countsText(summary)}; ${formatCount(summary.waived, 'finding')} waived, ${summary.baselined} in the baseline.`;
  const commands = annotationsOf(result).map((one) => command(one, rootInRepository));
  const compared = comparison ? [escapeTerminal(`kerflint: ${comparison.headline}`)] : [];
  return [...commands, ...compared, escapeTerminal(last), result.caution].map((line) => `${line}\n`).join('');
};

const TITLES: Record<string, string> = {
  [NOT_JUDGED]: 'kerflint: not judged',
  [NOT_TO_THE_END]: 'kerflint: some rules not checked to the end',
};

function annotationOf({ level, rule, finding, brought, message, more, at }: Mark): Annotation {
  const tail = finding === null ? '' : `\n(kerflint explain ${rule})`;
  const title = finding === null ? TITLES[rule]! : `kerflint ${rule}${brought ? ' (new)' : ''}`;
  return { level, title, message: shortened([message, ...more].join('\n'), tail), at };
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
