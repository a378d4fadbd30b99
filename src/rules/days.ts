/** Days from one ISO date (YYYY-MM-DD) to another; null when either is no date. The clock is never asked: today is an input. */
export function daysBetween(from: string, to: string): number | null {
  const start = dayNumber(from);
  const end = dayNumber(to);
  return start === null || end === null ? null : end - start;
}

/** Days since 0000-03-01 in the Gregorian calendar; March starts the year, so that the leap day ends it. */
function dayNumber(iso: string): number | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso);
  if (match === null) return null;
  const [year, month, day] = match.slice(1).map(Number) as [number, number, number];
  if (month < 1 || month > 12 || day < 1 || day > 31) return null;
  const y = month > 2 ? year : year - 1;
  const monthsFromMarch = (month + 9) % 12;
  const leapDays = Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400);
  return 365 * y + leapDays + Math.floor((153 * monthsFromMarch + 2) / 5) + day - 1;
}
