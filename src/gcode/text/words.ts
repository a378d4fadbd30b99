import { parseLine } from 'gcode-parser';
import { type Block, bit } from './block.ts';
import type { Report } from './issue.ts';
import { quote } from './quote.ts';

/** Longest number that is taken, characters. */
const NUMBER_LIMIT = 64;

/** One word: its letter, then everything up to the next letter. */
const WORD = /([A-Za-z])([^A-Za-z]*)/g;

/** A word as it stands on its line; offsets are 0-based UTF-16 units. */
interface Word {
  letter: string;
  /** What stands behind the letter, blanks around it left out. */
  written: string;
  text: string;
  start: number;
  end: number;
}

/**
 * Words of a line without comments, put into the block; false when one of them cannot be taken. gcode-parser says which numbers they
 * bear, and which are none. It tells no columns, and passes over in silence whatever is not a letter with digits, signs and points: so
 * the words are found here, and only such a line is given to it as leaves it nothing to pass over.
 */
export function readWords(code: string, block: Block, issue: Report): boolean {
  const junk = /^[^A-Za-z]*/.exec(code)![0];
  if (junk.trim() !== '') {
    const start = junk.length - junk.trimStart().length;
    const args = { text: quote(junk.trim()), reason: 'no letter before it' };
    issue('unreadable-word', args, start, junk.trimEnd().length, true);
    return false;
  }
  const { words, ln } = parseLine(code);
  let index = 0;
  const homes = /G\s*0*(28|30)(?![\d.])/i.test(code);
  for (const match of code.matchAll(WORD)) {
    const word: Word = {
      letter: match[1]!.toUpperCase(),
      written: match[2]!.trim(),
      text: quote(match[0].trim()),
      start: match.index,
      end: match.index + match[0].trimEnd().length,
    };
    const bare = word.written === '';
    const value = bare ? Number.NaN : word.letter === 'N' ? ln : words[index++]?.[1];
    const fault = bare ? bareLetter(word, homes, block) : unfit(word, value, code, block, issue);
    if (fault !== null) {
      issue(fault.code, fault.args, word.start, word.end, true);
      return false;
    }
  }
  block.mask &= ~bit('N');
  return true;
}

type Fault = { code: 'unreadable-word' | 'number-out-of-range'; args: Record<string, string | number> } | null;

function refused({ text }: Word, reason: string): Fault {
  return { code: 'unreadable-word', args: { text, reason } };
}

/** "G28 X Z" names the axes that go home: any other letter needs a number. */
function bareLetter(word: Word, homes: boolean, block: Block): Fault {
  if (!homes || !'XYZ'.includes(word.letter)) return refused(word, 'no number after the letter');
  return put(block, word, Number.NaN) ? null : refused(word, 'the letter stands twice');
}

/** Puts a word with its number into the block; otherwise why it cannot be taken. */
function unfit(
  word: Word,
  value: number | string | null | undefined,
  code: string,
  block: Block,
  issue: Report,
): Fault {
  const { letter, written, text, start, end } = word;
  const digits = written.replace(/\s+/g, '');
  if (digits.length > NUMBER_LIMIT) {
    return { code: 'number-out-of-range', args: { text, limit: `${NUMBER_LIMIT} digits` } };
  }
  if (!/^[-+.\d]+$/.test(digits)) return refused(word, 'not a decimal number');
  if (letter === 'N' && block.mask !== 0) return refused(word, 'a line number that is not the first word');
  if (typeof value !== 'number' || Number.isNaN(value)) return refused(word, 'not a decimal number');
  if (/\d\s+[\d.]|\.\s+\d/.test(written)) {
    issue('unreadable-word', { text, reason: `blanks inside the number, read as ${digits}` }, start, end, false);
  }
  if (letter === 'E' && /[\d.]/.test(code[start - 1] ?? '')) {
    return refused(word, 'an exponent, which G-code does not have');
  }
  if (letter === 'N') {
    block.mask = bit('N');
    return null;
  }
  if (letter !== 'G' && letter !== 'M' && block.mask & bit(letter)) return refused(word, 'the letter stands twice');
  return put(block, word, value) ? null : refused(word, 'too many codes on one line');
}

function put(block: Block, { letter, start, end }: Word, value: number): boolean {
  return block.add(letter.charCodeAt(0) - 65, value, start, end);
}
