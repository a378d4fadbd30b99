import { broughtFindings } from '../../findings/comparing/brought.ts';
import { SEVERITIES, type Severity } from '../../findings/finding.ts';
import { compareWorstFirst } from '../../findings/sorting.ts';
import { FirstKept } from '../../units/first-kept.ts';
import { formatCount } from '../../units/format.ts';
import { commandData, commandProperty, escapeTerminal } from '../escape.ts';
import type { Format } from '../report-context.ts';
import { countsText } from '../result-texts.ts';
import { type Mark, marksOfJob, marksOfLeftOut, NOT_JUDGED, NOT_TO_THE_END } from './marks.ts';

/** A runner keeps the first ten of each level in a step and drops the others without a word (actions/runner, ExecutionContext.cs). */
export const ANNOTATIONS_PER_LEVEL = 10;
/** A runner cuts messages at 4096 units (the same file); ours end ahead of that, at a place of our choosing. */
const MESSAGE_UNITS = 3500;
/** So many files are named in the annotation that stands for those left out. */
const FILES_NAMED = 5;

const COMMANDS: Record<Severity, string> = { error: 'error', warning: 'warning', note: 'notice' };

/** What is marked, and whether the change brought it, as the comparison with a base has it. */
interface Told extends Mark {
  readonly brought: boolean;
}

/** One annotation to be: level, text and place, not yet escaped. */
interface Annotation {
  level: Severity;
  title: string;
  message: string;
  at: Mark['at'];
}

/** Workflow commands, one a line, never more than ten a level; then for people the headline with the counts, and last the caution. */
export const annotations: Format = {
  open({ rootInRepository }, start) {
    const isBrought = broughtFindings(start);
    const levels = SEVERITIES.map((level) => new Level(level));
    const take = (mark: Told) => levels[SEVERITIES.indexOf(mark.level)]!.take(mark);
    return {
      job(job) {
        for (const mark of marksOfJob(job))
          take({ ...mark, brought: mark.finding !== null && isBrought(job, mark.finding) });
        return '';
      },
      end({ leftOut, headline, summary, caution, comparison }) {
        for (const mark of marksOfLeftOut(leftOut)) take({ ...mark, brought: false });
        const last = `kerflint: ${headline} ${countsText(summary)}; ${formatCount(summary.waived, 'finding')} waived, ${summary.baselined} in the baseline.`;
        const commands = levels.flatMap((level) => level.annotations()).map((one) => command(one, rootInRepository));
        const compared = comparison ? [escapeTerminal(`kerflint: ${comparison.headline}`)] : [];
        return [...commands, ...compared, escapeTerminal(last), caution].map((line) => `${line}\n`);
      },
    };
  },
};

/**
 * The annotations of one level, the worst first: what was not judged ahead of the findings. Where there are more than ten, the last one says
 * how many and in which files.
 */
class Level {
  readonly #level: Severity;
  readonly #worst = new FirstKept<Told>(ANNOTATIONS_PER_LEVEL, compareMarks);
  readonly #byFile = new Map<string, number>();
  #count = 0;

  constructor(level: Severity) {
    this.#level = level;
  }

  take(mark: Told): void {
    this.#count++;
    if (mark.at !== null) this.#byFile.set(mark.at.file, (this.#byFile.get(mark.at.file) ?? 0) + 1);
    this.#worst.add(mark);
  }

  annotations(): Annotation[] {
    const worst = this.#worst.sorted();
    if (this.#count <= ANNOTATIONS_PER_LEVEL) return worst.map(annotationOf);
    const shown = worst.slice(0, ANNOTATIONS_PER_LEVEL - 1);
    return [...shown.map(annotationOf), this.#hidden(shown)];
  }

  #hidden(shown: readonly Told[]): Annotation {
    const left = new Map(this.#byFile);
    for (const { at } of shown) if (at !== null) left.set(at.file, left.get(at.file)! - 1);
    const files = [...left].filter(([, n]) => n > 0).sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1));
    const named = files.slice(0, FILES_NAMED).map(([file, n]) => `${file} (${n})`);
    const rest = files.length > FILES_NAMED ? ` and ${formatCount(files.length - FILES_NAMED, 'more file')}` : '';
    const hidden = this.#count - shown.length;
    const where = named.length === 0 ? '' : ` in ${named.join(', ')}${rest}`;
    const message = `${formatCount(hidden, `more ${this.#level}`)}${where}: see the summary of this step, or the log.`;
    return { level: this.#level, title: `kerflint: ${hidden} more`, message: shortened(message, ''), at: null };
  }
}

/**
 * Of one level: what the change brought, which must not be what is left out; then jobs that were not judged, files that were not, findings,
 * and of these the worst first.
 */
function compareMarks(a: Told, b: Told): number {
  if (a.brought !== b.brought) return a.brought ? -1 : 1;
  const group = ({ finding, ofJob }: Told) => (finding !== null ? 2 : ofJob ? 0 : 1);
  if (a.finding !== null && b.finding !== null) return compareWorstFirst(a.finding, b.finding);
  return group(a) - group(b);
}

const TITLES: Record<string, string> = {
  [NOT_JUDGED]: 'kerflint: not judged',
  [NOT_TO_THE_END]: 'kerflint: some rules not checked to the end',
};

function annotationOf({ level, rule, finding, brought, message, more, at }: Told): Annotation {
  const tail = finding === null ? '' : `\n(kerflint explain ${rule})`;
  const title = finding === null ? TITLES[rule]! : `kerflint ${rule}${brought ? ' (new)' : ''}`;
  return { level, title, message: shortened([message, ...more].join('\n'), tail), at };
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
