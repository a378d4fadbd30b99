/**
 * Numbers as messages print them: stated decimals, no locale, never "-0". The same number gives the same text everywhere.
 */

/** Rounded to so many decimals, half away from zero as seen in decimal digits. */
export function roundTo(value: number, decimals: number): number {
  if (!Number.isFinite(value)) return value;
  const size = Math.abs(value);
  if (size >= 1e15) return value;
  // Shifting in decimal notation keeps 1.005 from becoming 1.00 as 1.005 * 100 would.
  const [mantissa = '0', exponent = '0'] = String(size).split('e');
  const shifted = Math.round(Number(`${mantissa}e${Number(exponent) + decimals}`));
  const [m = '0', e = '0'] = String(shifted).split('e');
  const rounded = Number(`${m}e${Number(e) - decimals}`);
  return value < 0 && rounded !== 0 ? -rounded : rounded;
}

/** A number with exactly so many decimals. */
export function fixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return String(value);
  return roundTo(value, decimals).toFixed(decimals);
}

/** A number with at most so many decimals, trailing zeros left out. */
export function trimmed(value: number, decimals: number): string {
  return Number.isFinite(value) ? String(roundTo(value, decimals)) : String(value);
}

/** `6.0 mm`; one decimal unless stated. */
export const formatMm = (mm: number, decimals = 1): string => `${fixed(mm, decimals)} mm`;

/** `12 mm/s`, `7.5 mm/s`: at most one decimal unless stated. */
export const formatSpeed = (mmPerS: number, decimals = 1): string => `${trimmed(mmPerS, decimals)} mm/s`;

/** A share 0..1 as `80 %`; no decimals unless stated. */
export const formatPercent = (fraction: number, decimals = 0): string => `${trimmed(fraction * 100, decimals)} %`;

/** `48 W`, `7.5 W`: at most one decimal unless stated. */
export const formatWatts = (watts: number, decimals = 1): string => `${trimmed(watts, decimals)} W`;

/** `1.4 bar`. */
export const formatBar = (bar: number): string => `${trimmed(bar, 1)} bar`;

/** `14.50 EUR`: two decimals. */
export const formatMoney = (money: { amount: number; currency: string }): string =>
  `${fixed(money.amount, 2)} ${money.currency}`;

/** `8 s`, `2 min 5 s`, `1 h 3 min`: to the second below an hour, to the minute above; below 10 s with one decimal. */
export function formatTime(seconds: number): string {
  if (seconds < 10) return `${trimmed(seconds, 1)} s`;
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min${whole % 60 === 0 ? '' : ` ${whole % 60} s`}`;
  const minutes = Math.round(whole / 60);
  return `${Math.floor(minutes / 60)} h${minutes % 60 === 0 ? '' : ` ${minutes % 60} min`}`;
}

/** `1 pass`, `3 passes`: a count with its noun. */
export function formatCount(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
