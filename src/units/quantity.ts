import { type Dimension, dimensionOf, dimensionSpec, findUnit, unitNames, unitPattern } from './dimensions.ts';
import { nearestWord } from './nearest-word.ts';
import { quoted } from './quoted.ts';

/** What became of a text: a value in the base unit, or a sentence that says what is wrong and what to write instead. */
export type Parsed<T> = { ok: true; value: T } | { ok: false; problem: string };

const good = <T>(value: T): Parsed<T> => ({ ok: true, value });
export const parseProblem = (problem: string): { ok: false; problem: string } => ({ ok: false, problem });

/** Longer than any quantity a person writes; keeps messages and matching small. */
const LONGEST = 120;

/** Numbers as people write them at the bench: decimals, fractions and mixed fractions; no exponents, no thousands marks. */
export const NUMBER_PATTERN = '(?:\\d+\\s+\\d+\\s*/\\s*\\d+|\\d+\\s*/\\s*\\d+|\\d+(?:\\.\\d+)?|\\.\\d+)';
const NUMBER = new RegExp(`^([+\\-−]?)\\s*(${NUMBER_PATTERN})(?![\\d.])\\s*(.*)$`, 's');

/**
 * A quantity with its unit, as in `6 mm`, `1 1/2 in`, `720 mm/min`, `80 %`; the result is in the dimension's base unit
 * (the first in its table: mm, mm/s, W, bar, s, a share as 0..1, …). Decimals convert exactly where a double can hold them.
 */
export function parseQuantity(input: unknown, dimension: Dimension): Parsed<number> {
  const spec = dimensionSpec(dimension);
  if (typeof input === 'number') return parseProblem(bareNumber(String(input), dimension));
  if (typeof input !== 'string') return parseProblem(`expected ${spec.what} such as ${exampleOf(dimension)}`);
  const text = input.trim();
  if (text.length === 0 || text.length > LONGEST)
    return parseProblem(`expected ${spec.what} such as ${exampleOf(dimension)}`);
  const match = NUMBER.exec(text);
  if (!match) return parseProblem(notANumber(text, dimension));
  const [, sign, digits, rest] = match as unknown as [string, string, string, string];
  if (rest === '') return parseProblem(bareNumber(text, dimension));
  if (/^,\s*\d/.test(rest)) return parseProblem(commaProblem(text));
  if (/^[eE][+-]?\d/.test(rest)) return parseProblem(`${quoted(text)} has an exponent: write all its digits`);
  const found = findUnit(dimension, rest);
  if (!found) return parseProblem(wrongUnit(text, rest, dimension));
  const number = exactNumber(digits, found.num, found.den);
  if (!Number.isFinite(number)) return parseProblem(`${quoted(text)} is not a number that can be used`);
  return good(sign === '-' || sign === '−' ? 0 - number : number);
}

/** A bare number that stands without a unit by its nature (an amount of money); null when the text is no number. */
export function parseNumber(text: string): number | null {
  const match = NUMBER.exec(text.trim());
  if (match?.[3] !== '') return null;
  const number = exactNumber(match[2]!, 1, 1);
  return match[1] === '-' || match[1] === '−' ? 0 - number : number;
}

/** A regular expression's source that every accepted text matches, for editors. */
export function quantityPattern(dimension: Dimension, signed: boolean): string {
  return `^\\s*${signed ? '(?:[+\\-−]\\s*)?' : '(?:\\+\\s*)?'}${NUMBER_PATTERN}\\s*(?:${unitPattern(dimension)})\\s*$`;
}

/** An example text of a dimension. */
export function exampleOf(dimension: Dimension): string {
  return SAMPLES[dimension];
}

const SAMPLES: Record<Dimension, string> = {
  length: '6 mm',
  wavelength: '10.6 um',
  speed: '12 mm/s',
  acceleration: '3000 mm/s2',
  fraction: '80 %',
  power: '48 W',
  pressure: '1.4 bar',
  time: '0.5 s',
  hours: '900 h',
  'energy-per-volume': '4.17 J/mm3',
  'energy-per-area': '0.05 J/mm2',
  'energy-per-mass': '3.5 kJ/g',
  density: '0.65 g/cm3',
  conductivity: '0.19 W/m/K',
  diffusivity: '0.11 mm2/s',
  temperature: '350 K',
  angle: '10 deg',
};

function bareNumber(text: string, dimension: Dimension): string {
  return `${quoted(text)} has no unit: did you mean ${text.slice(0, 40)} ${dimensionSpec(dimension).usual}?`;
}

export function commaProblem(text: string): string {
  const thousands = /\d,\d{3}(?!\d)/.test(text);
  const pointed = text.slice(0, 40).replace(',', '.');
  return thousands
    ? `${quoted(text)} has a comma: write ${pointed} with a point, or leave the comma out if thousands are meant`
    : `${quoted(text)} has a decimal comma: write ${pointed}`;
}

function notANumber(text: string, dimension: Dimension): string {
  if (/^[+\-−]?\d+,\d/.test(text)) return commaProblem(text);
  return `${quoted(text)} is not ${dimensionSpec(dimension).what}: write a number and a unit, such as ${exampleOf(dimension)}`;
}

function wrongUnit(text: string, written: string, dimension: Dimension): string {
  const spec = dimensionSpec(dimension);
  const names = unitNames(dimension);
  const other = dimensionOf(written);
  if (other)
    return `${quoted(text)} is ${dimensionSpec(other).what} where ${spec.what} belongs, such as ${exampleOf(dimension)}`;
  const near = nearestWord(written, names);
  return near
    ? `${quoted(text)} has an unknown unit: did you mean ${near}?`
    : `${quoted(text)} has an unknown unit ${quoted(written)}: ${spec.what} is written in ${oneOf(names)}`;
}

function oneOf(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} or ${names.at(-1)}`;
}

/** number × num / den; one rounding only while the integers fit a double (15 digits). */
function exactNumber(digits: string, num: number, den: number): number {
  const fraction = /^(?:(\d+)\s+)?(\d+)\s*\/\s*(\d+)$/.exec(digits);
  if (fraction) {
    const [, whole, top, bottom] = fraction;
    const below = Number(bottom);
    return ((Number(whole ?? 0) * below + Number(top)) * num) / (below * den);
  }
  const [integer = '', decimals = ''] = digits.split('.');
  const all = integer + decimals;
  if (all.length > 15 || decimals.length > 15) return (Number(digits) * num) / den;
  return (Number(all) * num) / (den * 10 ** decimals.length);
}
