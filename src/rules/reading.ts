import type { Severity } from '../findings/finding.ts';
import { formatCount, significant } from '../units/format.ts';
import type { ProblemGroup } from './places.ts';
import { quoted } from './wording.ts';

/** How a reader's problem becomes a message: which one, and which of the problem's values it repeats. */
export interface Reading {
  messageId: string;
  args: readonly string[];
  /** Where it is less than an error. */
  severity?: Severity;
}

/** Codes that come at most once in a file, so that their messages have no `{more}`. */
const ONCE = new Set([
  'empty',
  'not-svg',
  'compressed',
  'too-deep',
  'too-many-elements',
  'too-many-points',
  'zero-size',
  'after-end',
]);

/** Values that repeat what the file says; the others are the reader's own words and numbers. */
const FROM_THE_FILE = new Set(['text', 'href', 'attribute', 'root', 'name']);

/** The values for a reading's template: a file's words quoted, numbers rounded, and how often it happens besides. */
export function argumentsOf(reading: Reading, group: ProblemGroup): Record<string, string | number> {
  const { args, code } = group.first;
  const said = reading.args.map((name): [string, string | number] => {
    const value = args[name] ?? '';
    // Lines are counted place by place: the reader sums up repetitions.
    if (name === 'lines') return [name, Math.max(group.count, Number(value) || 0)];
    if (typeof value === 'number') return [name, significant(value)];
    return [name, FROM_THE_FILE.has(name) ? quoted(value) : value];
  });
  const more = group.count > 1 ? ` (${formatCount(group.count, 'time')} in this file)` : '';
  return Object.fromEntries(ONCE.has(code) ? said : [...said, ['more', more]]);
}
