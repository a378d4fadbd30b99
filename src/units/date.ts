const DAY_MS = 24 * 60 * 60 * 1000;

/**
 * Days from 1970-01-01 to an ISO date (YYYY-MM-DD); null when the calendar has no such day. The clock is never asked: today is an input.
 * Years below 100 are no date: `Date.UTC` takes them for those of the last century.
 */
function dayNumber(iso: string): number | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso);
  if (match === null) return null;
  const [year, month, day] = match.slice(1).map(Number) as [number, number, number];
  const timeMs = Date.UTC(year, month - 1, day);
  // A 30th of February becomes a day of March.
  return new Date(timeMs).toISOString().startsWith(iso) ? timeMs / DAY_MS : null;
}

/** Is this a day of the calendar, written as 2026-11-25? */
export function isDate(text: string): boolean {
  return dayNumber(text) !== null;
}

/** Days from one ISO date to another; null when either is no date. */
export function daysBetween(from: string, to: string): number | null {
  const start = dayNumber(from);
  const end = dayNumber(to);
  return start === null || end === null ? null : end - start;
}

/** The date on the wall at an instant, in the time zone of whoever runs this: 2026-11-25. */
export function localDate(at: Date): string {
  const two = (part: number) => String(part).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}
