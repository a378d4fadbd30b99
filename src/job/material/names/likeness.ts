import { editDistance, slipsAllowed } from '../../../units/nearest-word.ts';
import { nameKey } from '../../files/name-key.ts';
import type { HazardClass } from '../../model.ts';

/** A name as it is compared: its letters and digits as one, and its words. */
export interface Spelling {
  letters: string;
  words: readonly string[];
}

/** Longer texts are cut: no name is so long. */
const LONGEST = 120;

export function spelled(name: string): Spelling {
  const words = nameKey(name.slice(0, LONGEST))
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
  return { letters: words.join(''), words };
}

/** How a written name is like a known one. */
export interface Likeness {
  /** `whole`: the same but for slips; `part`: what was written holds it. */
  how: 'whole' | 'part';
  /** How far off: slips for a whole; for a part the shorter the name the farther. */
  distance: number;
}

/**
 * From how many letters on a name counts wherever it stands inside what was written, as in "pvcfoam" or "Kunstlederplatte". The worse what
 * it names, the sooner: a warning too many costs a look at the data sheet.
 */
const INSIDE: Record<HazardClass, number> = { never: 3, reconsider: 4, extract: 5, usual: 8 };

/** From how many letters on a word may be misspelt by a slip. */
const MISSPELT: Record<HazardClass, number> = { never: 3, reconsider: 4, extract: 5, usual: 5 };

/**
 * How what was written is like the name of something of a hazard class; null when it is not. `known` are the words of all names that there are:
 * one of them is never taken for a misspelling of another.
 */
export function likeness(
  written: Spelling,
  name: Spelling,
  hazard: HazardClass,
  known: ReadonlySet<string>,
): Likeness | null {
  const slips = slipsBetween(written.letters, name.letters);
  if (slips !== null) return { how: 'whole', distance: slips };
  const there = name.words.every((word) => written.words.some((one) => sameWord(one, word, hazard, known)));
  const inside = name.letters.length >= INSIDE[hazard] && written.letters.includes(name.letters);
  return (there && name.letters.length > 1) || inside ? { how: 'part', distance: 100 - name.letters.length } : null;
}

/** Slips between two names that may be the same; null where they are too far apart, or too short to tell. */
function slipsBetween(written: string, name: string): number | null {
  if (written === name) return 0;
  if (Math.max(written.length, name.length) < 3 || written.length < 2) return null;
  const slips = editDistance(written, name);
  return slips <= slipsAllowed(written, name) ? slips : null;
}

function sameWord(written: string, word: string, hazard: HazardClass, known: ReadonlySet<string>): boolean {
  if (written === word) return true;
  if (known.has(written) || word.length < MISSPELT[hazard] || written.length < 2) return false;
  return editDistance(written, word) <= (word.length < 8 ? 1 : 2);
}
