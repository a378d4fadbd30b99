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
const INSIDE: Record<HazardClass, number> = { never: 3, reconsider: 5, extract: 6, usual: 8 };

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
  if (slips !== null && wordByWord(written.words, name.words)) return { how: 'whole', distance: slips };
  const there = name.words.every((word) => written.words.some((one) => sameWord(one, word, hazard, known)));
  const inside = name.letters.length >= INSIDE[hazard] && written.letters.includes(name.letters);
  const held = (there && name.letters.length > 1) || inside || (hazard !== 'usual' && runOfWords(written.words, name));
  return held ? { how: 'part', distance: 100 - name.letters.length } : null;
}

/** From how many letters on a name of several words may be misspelt across them, as in "imitationleathr brown". */
const ACROSS = 8;

/** Is the name some words in a row of what was written, but for slips and the gaps between words? */
function runOfWords(written: readonly string[], name: Spelling): boolean {
  if (name.letters.length < ACROSS || name.words.length < 2) return false;
  for (let from = 0; from < written.length; from++) {
    for (let to = from + 1; to <= written.length; to++) {
      const run = written.slice(from, to);
      if (slipsBetween(run.join(''), name.letters) !== null && wordByWord(run, name.words)) return true;
    }
  }
  return false;
}

/** Slips between two names that may be the same; null where they are too far apart, or too short to tell. */
function slipsBetween(written: string, name: string): number | null {
  if (written === name) return 0;
  if (Math.max(written.length, name.length) < 3 || written.length < 2) return null;
  return slipsWithin(written, name, slipsAllowed(written, name));
}

/** "beech ply" is two slips from "birch ply", but both in one short word: that is another word. */
function wordByWord(written: readonly string[], name: readonly string[]): boolean {
  if (written.length !== name.length || name.length === 1) return true;
  return name.every((word, i) => slipsWithin(written[i]!, word, slipsAllowed(written[i]!, word)) !== null);
}

/** Slips between two words where there are no more than `most`; else null. */
function slipsWithin(a: string, b: string, most: number): number | null {
  if (Math.abs(a.length - b.length) > most) return null;
  const slips = editDistance(a, b);
  return slips <= most ? slips : null;
}

function sameWord(written: string, word: string, hazard: HazardClass, known: ReadonlySet<string>): boolean {
  if (written === word) return true;
  if (known.has(written) || word.length < MISSPELT[hazard] || written.length < 2) return false;
  return slipsWithin(written, word, word.length < 8 ? 1 : 2) !== null;
}
