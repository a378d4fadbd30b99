import { escapeTerminal } from '../report/escape.ts';
import { isDate, localDate } from '../units/date.ts';
import { UsageError } from './usage-error.ts';

/** The day that `--today` names, as 2026-11-25; the clock's where it was left out. */
export function todayOption(typed: string | undefined): string {
  if (typed === undefined) return localDate(new Date());
  if (isDate(typed)) return typed;
  throw new UsageError(
    `--today "${escapeTerminal(typed)}" is not a date.`,
    'Write it as year-month-day, for instance --today 2026-11-25.',
  );
}
