import * as v from 'valibot';
import {
  type MoneyPer,
  moneyPattern,
  POWER_SETTING_PATTERN,
  parseMoney,
  parsePowerSetting,
  parseSpot,
  parseThickness,
  SPOT_PATTERN,
  THICKNESS_PATTERN,
} from '../../units/compound-quantities.ts';
import { isDate } from '../../units/date.ts';
import { type Dimension, unitNames } from '../../units/dimensions.ts';
import { exampleOf, type Parsed, parseQuantity, quantityPattern } from '../../units/quantity.ts';
import { quoted } from '../../units/quoted.ts';
import type { PowerSetting } from '../model.ts';

/**
 * The building blocks of our file formats. One schema gives the type, the check with its message, and the JSON Schema
 * (pattern, description, examples) that editors complete from.
 */

/** An object with these keys and no others. The entries have no prototype, so that `toString` is an unknown key too. */
export function strict<const E extends v.ObjectEntries>(entries: E): v.StrictObjectSchema<E, undefined> {
  return v.strictObject(Object.assign(Object.create(null), entries) as E);
}

function readAs<T>(read: (input: unknown) => Parsed<T>, pattern: string, describe: string, examples: string[]) {
  const explain = (issue: { input: unknown }): string => {
    const result = read(issue.input);
    return result.ok ? `${quoted(issue.input)} cannot be read` : result.problem;
  };
  return v.pipe(
    v.string(explain),
    v.regex(new RegExp(pattern), explain),
    v.description(describe),
    v.examples(examples),
    v.rawTransform<string, T>(({ dataset, addIssue, NEVER }) => {
      const result = read(dataset.value);
      if (result.ok) return result.value;
      addIssue({ message: result.problem });
      return NEVER;
    }),
  );
}

export interface Range {
  /** `positive`: above 0 (the default); `not-negative`: 0 or more; `any`: with a sign. */
  sign?: 'positive' | 'not-negative' | 'any';
  /** Largest magnitude that is believed, in the base unit, and how it is written in a message. */
  max?: { value: number; text: string };
}

function within(result: Parsed<number>, input: unknown, range: Range): Parsed<number> {
  if (!result.ok) return result;
  const sign = range.sign ?? 'positive';
  if (sign === 'positive' && result.value <= 0) return { ok: false, problem: `${quoted(input)} must be above 0` };
  if (sign === 'not-negative' && result.value < 0)
    return { ok: false, problem: `${quoted(input)} must not be below 0` };
  if (range.max && Math.abs(result.value) > range.max.value) {
    return { ok: false, problem: `${quoted(input)} is more than ${range.max.text}: check the number and its unit` };
  }
  return result;
}

/** A quantity of a dimension, in its base unit. */
export function quantity(dimension: Dimension, describe: string, range: Range = {}) {
  const read = (input: unknown) => within(parseQuantity(input, dimension), input, range);
  const units = unitNames(dimension).join(', ');
  return readAs(read, quantityPattern(dimension, range.sign === 'any'), `${describe} (${units})`, [
    exampleOf(dimension),
  ]);
}

/** A share up to 100 %. */
export const share = (describe: string, sign: Range['sign'] = 'positive') =>
  quantity('fraction', describe, { sign, max: { value: 1, text: '100 %' } });

const LONGEST_MM = { value: 100_000, text: '100 m' };

export const length = (describe: string, sign: Range['sign'] = 'positive') =>
  quantity('length', describe, { sign, max: LONGEST_MM });

export function money(describe: string, per: MoneyPer = 'once') {
  const example = { once: '14.50 EUR', 'per-hour': '18 EUR/h', 'per-kWh': '0.32 EUR/kWh' }[per];
  return readAs((input) => parseMoney(input, per), moneyPattern(per), `${describe}, with its ISO 4217 code`, [example]);
}

export const spot = (describe: string) => readAs(parseSpot, SPOT_PATTERN, describe, ['0.12 mm', '0.08 mm x 0.15 mm']);

export const thickness = (describe: string) =>
  readAs(
    (input) => {
      const result = parseThickness(input);
      if (!result.ok) return result;
      const checked = within({ ok: true, value: result.value.mm }, input, { max: { value: 500, text: '500 mm' } });
      return checked.ok ? result : checked;
    },
    THICKNESS_PATTERN,
    describe,
    ['6.0 mm ± 0.2 mm', 'nominal 6 mm', '1/4 in'],
  );

export const powerSetting = (describe: string) =>
  readAs<PowerSetting>(
    (input) => {
      const result = parsePowerSetting(input);
      if (!result.ok) return result;
      const size = 'watts' in result.value ? result.value.watts : result.value.fraction;
      if (size <= 0) return { ok: false, problem: `${quoted(input)} must be above 0` };
      if ('watts' in result.value || size <= 1) return result;
      return { ok: false, problem: `${quoted(input)} is more than 100 %` };
    },
    POWER_SETTING_PATTERN,
    describe,
    ['80 %', '48 W'],
  );

/** A calendar date as in 2026-09-01. */
export const date = (describe: string) =>
  readAs<string>(
    (input) =>
      typeof input === 'string' && isDate(input)
        ? { ok: true, value: input }
        : { ok: false, problem: `${quoted(input)} is not a date: write it as 2026-09-01` },
    '^\\d{4}-\\d{2}-\\d{2}$',
    describe,
    ['2026-09-01'],
  );

/** A line of text: not empty, no line breaks, of bounded length. */
export const words = (describe: string, longest = 200) =>
  v.pipe(
    v.string(),
    v.regex(/^\S(?:[^\r\n]*\S)?$/, (issue) => `${quoted(issue.input)} must be one line of text`),
    v.maxLength(longest, `the text is longer than ${longest} characters`),
    v.description(describe),
  );

const ID = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/;

/** What is wrong with the name of a file's subject, or null. */
export function idProblem(typed: string): string | null {
  if (ID.test(typed)) return null;
  return `${quoted(typed)} is not an id: use letters, digits, - _ and . (64 at most), such as bench-60w`;
}

/** The name of a file's subject: letters, digits, `-`, `_` and `.`. */
export const id = (describe: string) =>
  v.pipe(
    v.string(),
    v.regex(ID, (issue) => idProblem(issue.input) ?? ''),
    v.description(describe),
  );

export const count = (describe: string, least = 1, most = 1000) =>
  v.pipe(
    v.number(),
    v.integer((issue) => `${issue.input} must be a whole number`),
    v.minValue(least, (issue) => `${issue.input} must be at least ${least}`),
    v.maxValue(most, (issue) => `${issue.input} is more than ${most}`),
    v.description(describe),
  );

/** A plain number between two limits. */
export const ratio = (describe: string, least: number, most: number) =>
  v.pipe(
    v.number(),
    v.minValue(least, (issue) => `${issue.input} must be at least ${least}`),
    v.maxValue(most, (issue) => `${issue.input} is more than ${most}`),
    v.description(describe),
  );

/** The line every file of ours begins with. */
export const version = v.pipe(
  v.literal(1, (issue) => `this kerflint reads "kerflint: 1", not ${quoted(issue.input)}`),
  v.description('version of the file format'),
);
