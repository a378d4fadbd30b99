import type { Severity } from '../findings/finding.ts';
import type { ProblemGroup } from './places.ts';
import { formatCount, plain, quoted } from './wording.ts';

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

/** The values for a reading's template: a user's text quoted, numbers roundTo, and how often it happens besides. */
export function argumentsOf(reading: Reading, group: ProblemGroup): Record<string, string | number> {
  const { args, code } = group.first;
  const said = reading.args.map((name): [string, string | number] => {
    const value = args[name];
    if (typeof value === 'number') return [name, plain(value)];
    return [name, name === 'reason' ? String(value ?? 'no reason given') : quoted(value ?? '')];
  });
  const more = group.count > 1 ? ` (${formatCount(group.count, 'time')} in this file)` : '';
  return Object.fromEntries(ONCE.has(code) ? said : [...said, ['more', more]]);
}
