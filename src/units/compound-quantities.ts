import { unitPattern } from './dimensions.ts';
import { commaProblem, NUMBER_PATTERN, type Parsed, parseNumber, parseProblem, parseQuantity } from './quantity.ts';
import { quoted } from './quoted.ts';

/**
 * `6.0 mm ± 0.2 mm` (also `+/-`, and the first unit may be left out when both are the same), `6 mm`, or `nominal 6 mm`.
 * Lengths in mm.
 */
export function parseThickness(input: unknown): Parsed<{ mm: number; plusMinusMm: number | null; nominal: boolean }> {
  if (typeof input !== 'string') return lengthOf(input);
  let text = input.trim();
  const nominal = /^nominal\s/i.test(text);
  if (nominal) text = text.slice('nominal'.length).trim();
  const parts = text.split(/±|\+\s*\/\s*[-−]/);
  if (parts.length === 1) {
    const only = parseQuantity(text, 'length');
    return only.ok ? { ok: true, value: { mm: only.value, plusMinusMm: null, nominal } } : only;
  }
  if (parts.length > 2) return parseProblem(`${quoted(input)} has more than one tolerance`);
  const tolerance = parseQuantity(parts[1]!, 'length');
  if (!tolerance.ok) return tolerance;
  const unit = /[^\d\s./]+\s*$/.exec(parts[1]!)?.[0] ?? '';
  const middle = parseNumber(parts[0]!) === null ? parts[0]! : `${parts[0]!} ${unit}`;
  const mm = parseQuantity(middle, 'length');
  if (!mm.ok) return mm;
  if (tolerance.value < 0) return parseProblem(`${quoted(input)} has a negative tolerance`);
  if (tolerance.value >= mm.value)
    return parseProblem(`${quoted(input)} has a tolerance as large as the thickness itself`);
  return { ok: true, value: { mm: mm.value, plusMinusMm: tolerance.value, nominal } };
}

function lengthOf(input: unknown): { ok: false; problem: string } {
  const read = parseQuantity(input, 'length');
  return read.ok ? parseProblem('expected a thickness such as 6 mm') : read;
}

const LENGTH = `${NUMBER_PATTERN}\\s*(?:${unitPattern('length')})`;

export const THICKNESS_PATTERN = `^\\s*(?:[nN][oO][mM][iI][nN][aA][lL]\\s+)?(?:\\+\\s*)?(?:${LENGTH}|${NUMBER_PATTERN}(?:\\s*(?:${unitPattern('length')}))?\\s*(?:±|\\+\\s*/\\s*[-−])\\s*(?:\\+\\s*)?${LENGTH})\\s*$`;

/** A power setting: `80 %` as a share of full power, or `48 W` at the work. */
export function parsePowerSetting(input: unknown): Parsed<{ fraction: number } | { watts: number }> {
  const asShare = parseQuantity(input, 'fraction');
  if (asShare.ok) return { ok: true, value: { fraction: asShare.value } };
  const asPower = parseQuantity(input, 'power');
  if (asPower.ok) return { ok: true, value: { watts: asPower.value } };
  if (typeof input === 'number') return parseProblem(`"${input}" has no unit: did you mean ${input} % or ${input} W?`);
  return asShare.problem.includes('no unit')
    ? parseProblem(asShare.problem.replace('?', ` or ${String(input).trim()} W?`))
    : parseProblem(
        asPower.problem.replace('a power', 'a power setting').replace('such as 48 W', 'such as 80 % or 48 W'),
      );
}

export const POWER_SETTING_PATTERN = `^\\s*(?:\\+\\s*)?${NUMBER_PATTERN}\\s*(?:${unitPattern('fraction')}|${unitPattern('power')})\\s*$`;

/** A focused spot: `0.27 mm`, or `0.08 mm x 0.15 mm` for a source whose spot is a rectangle. */
export function parseSpot(input: unknown): Parsed<{ xMm: number; yMm: number }> {
  const parts = typeof input === 'string' ? input.split(/\s[x×]\s/) : [input];
  const x = parseQuantity(parts[0], 'length');
  if (!x.ok) return x;
  if (parts.length > 2) return parseProblem(`${quoted(input)} has more than two sides`);
  const y = parts.length === 2 ? parseQuantity(parts[1], 'length') : x;
  if (!y.ok) return y;
  if (x.value <= 0 || y.value <= 0) return parseProblem(`${quoted(input)} must be above 0`);
  return { ok: true, value: { xMm: x.value, yMm: y.value } };
}

export const SPOT_PATTERN = `^\\s*(?:\\+\\s*)?${LENGTH}(?:\\s+[x×]\\s+(?:\\+\\s*)?${LENGTH})?\\s*$`;

/** Two sides of an area: `500 x 300 mm`, `20 in x 12 in`, `1 1/2 x 2 ft`; the first unit may be left out when both are the same. */
export function parseArea(input: unknown): Parsed<{ xMm: number; yMm: number }> {
  const example = 'such as 500 x 300 mm';
  if (typeof input !== 'string' || input.trim() === '') return parseProblem(`expected two lengths ${example}`);
  // Longer than any area that a person writes.
  const parts = input.slice(0, 200).split(/[x×]/i);
  const [first = '', second] = parts;
  if (second === undefined || parts.length > 2)
    return parseProblem(`${quoted(input)} is not two lengths with an x between them, ${example}`);
  if (parts.every((part) => parseNumber(part) !== null))
    return parseProblem(`${quoted(input)} has no unit: did you mean ${first.trim()} x ${second.trim()} mm?`);
  const y = parseQuantity(second, 'length');
  if (!y.ok) return y;
  const unit = /[^\d\s./]+\s*$/.exec(second)?.[0] ?? '';
  const x = parseQuantity(parseNumber(first) === null ? first : `${first.trim()} ${unit}`, 'length');
  if (!x.ok) return x;
  if (x.value <= 0 || y.value <= 0) return parseProblem(`${quoted(input)} must be above 0`);
  return { ok: true, value: { xMm: x.value, yMm: y.value } };
}

export type MoneyPer = 'once' | 'per-hour' | 'per-kWh';
const PER: Record<MoneyPer, { tail: string; example: string }> = {
  once: { tail: '', example: '14.50 EUR' },
  'per-hour': { tail: '/h', example: '18 EUR/h' },
  'per-kWh': { tail: '/kWh', example: '0.32 EUR/kWh' },
};

/** Money with its ISO 4217 code: `14.50 EUR`, `18 EUR/h`, `0.32 EUR/kWh`. */
export function parseMoney(input: unknown, per: MoneyPer): Parsed<{ amount: number; currency: string }> {
  const { tail, example } = PER[per];
  if (typeof input === 'number') return parseProblem(`"${input}" has no currency: did you mean ${input} EUR${tail}?`);
  if (typeof input !== 'string') return parseProblem(`expected money such as ${example}`);
  const text = input.trim();
  if (/\d,\d/.test(text)) return parseProblem(commaProblem(text));
  if (/[€$£¥]/.test(text))
    return parseProblem(`${quoted(text)} has a sign where a currency code belongs: write it as ${example}`);
  const match = /^(\+?[\d.]+)\s*([A-Z]{3})\s*(?:\/\s*(h|kWh))?$/.exec(text);
  const amount = match ? parseNumber(match[1]!) : null;
  if (!match || amount === null) {
    return parseProblem(
      /^\+?[\d.]+$/.test(text)
        ? `${quoted(text)} has no currency: did you mean ${text.slice(0, 40)} EUR${tail}?`
        : `${quoted(text)} is not money: write it as ${example}`,
    );
  }
  const written = match[3] === undefined ? '' : `/${match[3]}`;
  if (written !== tail) return parseProblem(`${quoted(text)} should read as ${example}`);
  return { ok: true, value: { amount, currency: match[2]! } };
}

export function moneyPattern(per: MoneyPer): string {
  const { tail } = PER[per];
  return `^\\s*\\+?(?:\\d+(?:\\.\\d+)?|\\.\\d+)\\s*[A-Z]{3}${tail && `\\s*/\\s*${tail.slice(1)}`}\\s*$`;
}
