/**
 * Numbers, quantities, shares, chances, times and counts as every message, table and picture prints them: no locale, never "-0". The
 * same number gives the same text everywhere.
 */

/** Rounded to so many decimals, half away from zero as seen in decimal digits. */
export function roundTo(value: number, decimals: number): number {
  if (!Number.isFinite(value)) return value;
  const size = Math.abs(value);
  // No decimals are left; the last digits are what arithmetic lost.
  if (size >= 1e15) return Number(value.toPrecision(15));
  const scale = 10 ** decimals;
  const scaled = size * scale;
  // Far from a half the product, though inexact, can only be rounded one way. Most numbers are: this is much quicker.
  if (decimals >= 0 && decimals <= 12 && scaled < 1e9 && Math.abs(scaled - Math.floor(scaled) - 0.5) > 1e-6) {
    const near = Math.round(scaled) / scale;
    return value < 0 && near !== 0 ? -near : near;
  }
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

/** A number to three significant digits, whole from a hundred on: "0.25", "7.5", "48", "1043". */
export function significant(value: number): string {
  const magnitude = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)));
  return trimmed(value, Math.min(6, Math.max(0, 2 - magnitude)));
}

/** A length in millimetres without its unit: two decimals where they tell something, else one, as "6.0", "6.35", "120.5". */
export function mm(value: number): string {
  const text = fixed(value, 2);
  return text.endsWith('0') || Math.abs(value) >= 100 ? fixed(value, 1) : text;
}

/** A length: "6.0 mm", "6.35 mm", "120.5 mm"; with so many decimals where they are stated. */
export const formatMm = (value: number, decimals?: number): string =>
  `${decimals === undefined ? mm(value) : fixed(value, decimals)} mm`;

/** The sides of a rectangle: "600 × 300 mm", to a tenth. */
export const formatSizeMm = (widthMm: number, heightMm: number): string =>
  `${trimmed(widthMm, 1)} × ${trimmed(heightMm, 1)} mm`;

/** A depth between its 5th and 95th percentile: "4.1 mm (3.0–5.3)"; to a tenth, below a millimetre to a hundredth. */
export function formatDepth(depthMm: number, lowMm: number, highMm: number): string {
  const decimals = depthMm < 1 ? 2 : 1;
  return `${fixed(depthMm, decimals)} mm (${fixed(lowMm, decimals)}–${fixed(highMm, decimals)})`;
}

/** Where the waist lies: "on the face", "1.0 mm below the face". */
export function formatFocus(focusMm: number): string {
  const value = roundTo(focusMm, 2);
  if (value === 0) return 'on the face';
  return `${formatMm(Math.abs(value))} ${value > 0 ? 'above' : 'below'} the face`;
}

/** `12 mm/s`, `7.5 mm/s`: three significant digits. */
export const formatSpeed = (mmPerS: number): string => `${significant(mmPerS)} mm/s`;

/** `48 W`, `7.5 W`: three significant digits. */
export const formatWatts = (watts: number): string => `${significant(watts)} W`;

/** A share 0…1 as per cent: `80 %`, `82.5 %`, `0.04 %`: three significant digits, or at most so many decimals. */
export const formatPercent = (fraction: number, decimals?: number): string =>
  `${decimals === undefined ? significant(fraction * 100) : trimmed(fraction * 100, decimals)} %`;

/** Above it a band is told as a factor: a ± would reach to nothing and below. */
const WIDEST_PLUS_MINUS = 0.75;

/** Half a 5–95 % band in the logarithm: "± 40 %", where it is wide "within a factor of 2.7". */
export const formatBand = (half: number): string =>
  half <= WIDEST_PLUS_MINUS ? `± ${formatPercent(half, 0)}` : `within a factor of ${fixed(Math.exp(half), 1)}`;

/**
 * A probability in whole per cent; never a bare 0 or 100, which would claim certainty: a prediction that says 0 or 1 was rounded to it.
 */
export function formatChance(probability: number): string {
  const whole = roundTo(probability * 100, 0);
  if (whole <= 0) return 'under 1 %';
  if (whole >= 100) return 'over 99 %';
  return `${whole} %`;
}

/** A probability that falls short of a limit, as exactly as it takes to read so: 89.6 % and not 90 % of the 90 % that are asked. */
export function formatChanceShortOf(probability: number, limit: number): string {
  const whole = formatChance(probability);
  const least = limit * 100;
  // A text never contradicts what it is held against: so many decimals that it stays below.
  const decimals = [0, 1, 2, 3].find((each) => roundTo(probability * 100, each) < roundTo(least, 6));
  return decimals === undefined || decimals === 0 ? whole : `${fixed(probability * 100, decimals)} %`;
}

/** `1.4 bar`. */
export const formatBar = (bar: number): string => `${trimmed(bar, 1)} bar`;

/** `14.50 EUR`: two decimals. */
export const formatMoney = (money: { amount: number; currency: string }): string =>
  `${fixed(money.amount, 2)} ${money.currency}`;

/** `0.25 s`, `8 s`, `2 min 5 s`, `1 h 3 min`: to the second below an hour, to the minute above; below 10 s two significant digits. */
export function formatTime(seconds: number): string {
  if (seconds < 10) return `${trimmed(seconds, seconds < 1 ? 2 : 1)} s`;
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

/** What is a quantity and no count: the symbols behind numbers here, and passes, of which a cut that improves may need more. */
const NOT_COUNTED = new Set('mm s min h W kW J in psi bar percent EUR USD GBP CHF of to and or x pas passe'.split(' '));

/** The counts of {@link formatCount} in a text by their nouns, in the singular as far as a final s tells; a noun's largest. */
export function countsIn(text: string): Map<string, number> {
  const counts = new Map<string, number>();
  for (const [, digits = '', word = ''] of text.matchAll(/(?<![\d.,–-])(\d{1,15}) ([A-Za-z]+)/g)) {
    const noun = word.replace(/s$/, '');
    if (!NOT_COUNTED.has(noun)) counts.set(noun, Math.max(Number(digits), counts.get(noun) ?? 0));
  }
  return counts;
}
