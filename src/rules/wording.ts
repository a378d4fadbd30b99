import type { CutFact } from '../facts/cuts/cut-fact.ts';
import type { JobFacts } from '../facts/facts.ts';
import { fixed, formatCount, roundTo, trimmed } from '../units/format.ts';
import type { Found } from '../units/found.ts';

export { fixed, formatCount, roundTo };

/** Longest piece of a user's text that a message repeats, UTF-16 units. */
const QUOTE_LIMIT = 60;

/** A length in millimetres as people say it: two decimals where they tell something, else one: "6.0", "6.35", "120.5". */
export function mm(value: number): string {
  const text = fixed(value, 2);
  return text.endsWith('0') || Math.abs(value) >= 100 ? fixed(value, 1) : text;
}

/** What was counted or summed over things found: "600", but "at least 600" where their search ended early. */
export function atLeast({ endedEarly }: Found<unknown>, value: string): string {
  return endedEarly === null ? value : `at least ${value}`;
}

/** How many were found, with their noun: "600 webs", "at least 600 webs". */
export function countFound(found: Found<unknown>, one: string, many?: string): string {
  return atLeast(found, formatCount(found.items.length, one, many));
}

/** A number to three significant digits, whole from a hundred on: speeds, watts, ratios. */
export function plain(value: number): string {
  const magnitude = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)));
  return trimmed(value, Math.min(6, Math.max(0, 2 - magnitude)));
}

/** A fraction as per cent: 0.8 → "80 %". */
export function percent(fraction: number): string {
  return `${plain(fraction * 100)} %`;
}

/** A probability in per cent; never a bare 0 or 100, which would claim certainty. */
export function chance(probability: number): string {
  const whole = Math.round(probability * 100);
  if (whole <= 0) return 'under 1 %';
  if (whole >= 100) return 'over 99 %';
  return `${whole} %`;
}

/** A probability that falls short of a limit: to a tenth of a per cent where whole ones would read as if it did not. */
export function chanceShortOf(probability: number, limit: number): string {
  const whole = chance(probability);
  return whole === chance(limit) ? `${fixed(probability * 100, 1)} %` : whole;
}

/** A user's text in double quotes, on one line, cut at 60 units. */
export function quoted(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must not reach a terminal
  const flat = text.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ').trim();
  return flat.length > QUOTE_LIMIT ? `"${flat.slice(0, QUOTE_LIMIT - 1)}…"` : `"${flat}"`;
}

/** Up to five quoted names: `"a", "b" and 3 more`. */
export function listed(names: readonly string[], limit = 5): string {
  const shown = names.slice(0, limit).map(quoted).join(', ');
  return names.length > limit ? `${shown} and ${names.length - limit} more` : shown;
}

/** Where the waist lies: "on the face", "1.0 mm below the face". */
export function focusPlace(focusMm: number): string {
  const value = roundTo(focusMm, 2);
  if (value === 0) return 'on the face';
  return `${mm(Math.abs(value))} mm ${value > 0 ? 'above' : 'below'} the face`;
}

/** The sheet in words: "6.0 mm birch plywood". */
export function sheet(facts: JobFacts): string {
  const name = facts.material === null ? 'sheet' : inSentence(facts.material.name);
  return facts.thicknessMm === null ? name : `${mm(facts.thicknessMm)} mm ${name}`;
}

/** A name with its first letter lowered, unless it is an abbreviation ("PVC", "MDF"). */
export function inSentence(name: string): string {
  return /^\p{Lu}\p{Ll}/u.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;
}

/** The passes of a cut: "1 pass at 48 W, 12 mm/s", or each of the first three when they differ. */
export function recipe(cut: CutFact): string {
  const each = cut.passes.map((pass) => `${plain(pass.powerW)} W, ${plain(pass.speedMmPerS)} mm/s`);
  const count = formatCount(each.length, 'pass', 'passes');
  if (new Set(each).size <= 1) return each[0] === undefined ? count : `${count} at ${each[0]}`;
  return `${count} (${each.slice(0, 3).join('; ')}${each.length > 3 ? '; …' : ''})`;
}

/** A name at the start of a sentence: its first letter raised. */
export function atStart(name: string): string {
  return name.charAt(0).toUpperCase() + name.slice(1);
}
