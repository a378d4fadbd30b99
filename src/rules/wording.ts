import type { CutFact } from '../facts/cuts/cut-fact.ts';
import type { JobFacts } from '../facts/facts.ts';
import { formatCount, formatMm, formatSpeed, formatWatts } from '../units/format.ts';
import type { Found } from '../units/found.ts';
import { quoted } from '../units/quoted.ts';
import { atStart, inSentence } from '../units/sentence.ts';

// What the messages of rules are made of, under one roof with the rules' own wording.
export {
  fixed,
  formatChance,
  formatChanceShortOf,
  formatCount,
  formatFocus,
  formatMoney,
  formatPercent,
  formatTime,
  mm,
  roundTo,
  significant,
} from '../units/format.ts';
export { PLUS_MINUS_SIGMAS } from '../units/plus-minus.ts';
export { atStart, inSentence, quoted };

/** What was counted or summed over things found: "600", but "at least 600" where their search ended early. */
export function atLeast({ endedEarly }: Found<unknown>, value: string): string {
  return endedEarly === null ? value : `at least ${value}`;
}

/** How many were found, with their noun: "600 webs", "at least 600 webs". */
export function countFound(found: Found<unknown>, one: string, many?: string): string {
  return atLeast(found, formatCount(found.items.length, one, many));
}

/** Up to five quoted names: `"a", "b" and 3 more`. */
export function listed(names: readonly string[], limit = 5): string {
  const shown = names.slice(0, limit).map(quoted).join(', ');
  return names.length > limit ? `${shown} and ${names.length - limit} more` : shown;
}

/** The sheet in words: "6.0 mm birch plywood". */
export function sheet(facts: JobFacts): string {
  const name = facts.material === null ? 'sheet' : inSentence(facts.material.name);
  return facts.thicknessMm === null ? name : `${formatMm(facts.thicknessMm)} ${name}`;
}

/** The passes of a cut: "1 pass at 48 W, 12 mm/s", or each of the first three when they differ. */
export function recipe(cut: CutFact): string {
  const each = cut.passes.map((pass) => `${formatWatts(pass.powerW)}, ${formatSpeed(pass.speedMmPerS)}`);
  const count = formatCount(each.length, 'pass', 'passes');
  if (new Set(each).size <= 1) return each[0] === undefined ? count : `${count} at ${each[0]}`;
  return `${count} (${each.slice(0, 3).join('; ')}${each.length > 3 ? '; …' : ''})`;
}
