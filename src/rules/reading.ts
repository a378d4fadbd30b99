import { argumentNames } from '../findings/message.ts';
import { formatCount, significant } from '../units/format.ts';
import type { ProblemGroup } from './places.ts';
import { quoted } from './wording.ts';

/** Values that repeat what the file says; the others are the reader's own words and numbers. */
const FROM_THE_FILE = new Set(['text', 'href', 'attribute', 'root', 'name']);

/** The values that a reader's message asks for: a file's words quoted, numbers rounded, and how often the problem occurs besides. */
export function argumentsOf(message: string, group: ProblemGroup): Record<string, string | number> {
  return Object.fromEntries(argumentNames(message).map((name) => [name, argumentOf(name, group)]));
}

function argumentOf(name: string, { first, count }: ProblemGroup): string | number {
  if (name === 'more') return count > 1 ? ` (${formatCount(count, 'time')} in this file)` : '';
  const value = first.args[name] ?? '';
  // Lines are counted place by place: the reader sums up repetitions.
  if (name === 'lines') return Math.max(count, Number(value) || 0);
  if (typeof value === 'number') return significant(value);
  return FROM_THE_FILE.has(name) ? quoted(value) : value;
}
