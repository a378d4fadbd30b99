import { parseLine } from 'gcode-parser';
import type { GcodeProblemCode } from '../problem-texts.ts';
import { type Block, bit } from './block.ts';
import { withoutComments } from './comments.ts';
import { TEXT_CODES } from './scan.ts';

/** Something on one line that cannot be taken as it stands; offsets are 0-based UTF-16 units. */
export interface Issue {
  code: GcodeProblemCode;
  args: Record<string, string | number>;
  start: number;
  end: number;
  /** The line is not carried out, so that motion or beam can no longer be followed. */
  loses: boolean;
}

export interface OddLine {
  /** The block that was passed in holds words to carry out. */
  hasWords: boolean;
  /** A line that holds `%` alone. */
  percent: boolean;
  /** The line starts with the block-delete slash. It is carried out: RS274 skips it only while a switch is on. */
  blockDelete: boolean;
  comment: string | null;
  issues: Issue[];
}

/** Quoted input in a problem is at most this long. */
const QUOTE = 60;
/** Longest number that is taken, characters. */
const NUMBER_LIMIT = 64;

/** Quotes a piece of the input: cut to length, control characters made visible. */
export function quote(text: string): string {
  const short = text.length > QUOTE ? `${text.slice(0, QUOTE)}…` : text;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  return short.replace(/[\u0000-\u001f\u007f-\u009f]/g, '�');
}

/** Reads a line that is not made of plain words alone. */
export function readOddLine(text: string, line: number, block: Block): OddLine {
  block.clear(line);
  const result: OddLine = { hasWords: false, percent: false, blockDelete: false, comment: null, issues: [] };
  const issue = (code: GcodeProblemCode, args: Issue['args'], start: number, end: number, loses: boolean) => {
    result.issues.push({ code, args, start, end, loses });
    return result;
  };
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  const control = /[\u0000-\u0008\u000e-\u001f\u007f]/.exec(text);
  if (control) return issue('binary', { byte: text.charCodeAt(control.index) }, control.index, control.index + 1, true);

  const { code: uncommented, comment, fault } = withoutComments(text.startsWith('\uFEFF') ? ` ${text.slice(1)}` : text);
  let code = uncommented;
  result.comment = comment;
  block.comment = comment;
  if (fault) {
    // Words inside: some controllers take the comment to end at the first parenthesis, or at the end of the line, and run them.
    const inside = text.slice(fault.start + 1, fault.end);
    const unsure =
      fault.reason === 'nested' ? inside.slice(inside.indexOf(')') + 1) : fault.reason === 'open' ? inside : '';
    const loses = /[A-Za-z]\s*[-+.\d]/.test(unsure);
    const reasons = {
      open: 'the comment is not closed',
      stray: 'a closing parenthesis without a comment',
      nested: 'a comment inside a comment',
    };
    issue(
      'unreadable-word',
      { text: quote(text.slice(fault.start, fault.end)), reason: reasons[fault.reason] },
      fault.start,
      fault.end,
      loses,
    );
  }
  const start = code.length - code.trimStart().length;
  const bare = code.trim();
  if (bare === '') return result;
  const end = start + bare.length;

  if (bare === '%') {
    result.percent = true;
    return result;
  }
  if (/^(\$|\{|%|@)/.test(bare)) {
    const moves = /^\$J/i.test(bare) || bare.startsWith('{');
    return issue('not-analysed', { what: 'setting', text: quote(bare), lines: 1 }, start, end, moves);
  }
  if (bare.startsWith('/')) {
    result.blockDelete = true;
    code = code.replace('/', ' ');
  }
  const word = /^\s*(?:N\s*\d+\s*)?([A-Za-z])\s*(\d*)/i.exec(code);
  const letter = word?.[1]?.toUpperCase();
  if (letter === 'O') {
    // A number alone names the program; anything behind it is a subroutine, branch or loop.
    if (/^\s*(?:N\s*\d+\s*)?O\s*\d+\s*$/i.test(code)) return result;
    return issue('not-analysed', { what: 'o-word', text: quote(bare), lines: 1 }, start, end, true);
  }
  if (letter === 'M' && TEXT_CODES.has(Number(word![2]) * 10)) {
    block.add(12, Number(word![2]), start, end);
    result.hasWords = true;
    return result;
  }
  const hash = code.indexOf('#');
  const bracket = code.indexOf('[');
  if (hash >= 0 || bracket >= 0) {
    const what = bracket >= 0 && (hash < 0 || bracket < hash) ? 'expression' : 'parameter';
    return issue('not-analysed', { what, text: quote(bare), lines: 1 }, start, end, true);
  }
  const star = /\*\s*(\d+)\s*$/.exec(code);
  if (star) {
    if (checksum(text.slice(0, star.index)) !== Number(star[1])) {
      issue('checksum', { text: quote(bare) }, star.index, star.index + star[0].trimEnd().length, true);
    }
    code = code.slice(0, star.index) + ' '.repeat(code.length - star.index);
  }
  if (!readWords(code, block, issue)) return result;
  if (!result.issues.some((i) => i.loses) && block.mask !== 0) result.hasWords = true;
  return result;
}

/** The check of a transmitted line: all its bytes up to the star, exclusive-or'ed. */
function checksum(text: string): number {
  let sum = 0;
  for (const byte of new TextEncoder().encode(text)) sum ^= byte;
  return sum;
}

type Report = (code: GcodeProblemCode, args: Issue['args'], start: number, end: number, loses: boolean) => unknown;

/** One word: its letter, then everything up to the next letter. */
const WORD = /([A-Za-z])([^A-Za-z]*)/g;

/**
 * Words of a line without comments, put into the block; false when one of them cannot be taken. gcode-parser says which numbers they
 * bear, and which are none. It tells no columns, and passes over in silence whatever is not a letter with digits, signs and points: so
 * the words are found here, and only such a line is given to it as leaves it nothing to pass over.
 */
function readWords(code: string, block: Block, issue: Report): boolean {
  const junk = /^[^A-Za-z]*/.exec(code)![0];
  if (junk.trim() !== '') {
    issue(
      'unreadable-word',
      { text: quote(junk.trim()), reason: 'no letter before it' },
      junk.length - junk.trimStart().length,
      junk.trimEnd().length,
      true,
    );
    return false;
  }
  const { words, ln } = parseLine(code);
  let index = 0;
  const homes = /G\s*0*(28|30)(?![\d.])/i.test(code);
  for (const match of code.matchAll(WORD)) {
    const start = match.index;
    const letter = match[1]!.toUpperCase();
    const written = match[2]!.trim();
    const end = start + match[0].trimEnd().length;
    const text = quote(match[0].trim());
    const refuse = (reason: string) => {
      issue('unreadable-word', { text, reason }, start, end, true);
      return false;
    };
    if (written === '') {
      // "G28 X Z" names the axes that go home.
      if (homes && 'XYZ'.includes(letter)) {
        if (!block.add(letter.charCodeAt(0) - 65, Number.NaN, start, end)) return refuse('the letter stands twice');
        continue;
      }
      return refuse('no number after the letter');
    }
    const digits = written.replace(/\s+/g, '');
    if (digits.length > NUMBER_LIMIT) {
      issue('number-out-of-range', { text, limit: `${NUMBER_LIMIT} digits` }, start, end, true);
      return false;
    }
    if (!/^[-+.\d]+$/.test(digits)) return refuse('not a decimal number');
    if (letter === 'N' && block.mask !== 0) return refuse('a line number that is not the first word');
    const value = letter === 'N' ? ln : words[index++]?.[1];
    if (typeof value !== 'number' || Number.isNaN(value)) return refuse('not a decimal number');
    if (/\d\s+[\d.]|\.\s+\d/.test(written)) {
      issue('unreadable-word', { text, reason: `blanks inside the number, read as ${digits}` }, start, end, false);
    }
    if (letter === 'E' && /[\d.]/.test(code[start - 1] ?? '')) return refuse('an exponent, which G-code does not have');
    if (letter === 'N') {
      block.mask = bit('N');
      continue;
    }
    if (letter !== 'G' && letter !== 'M' && block.mask & bit(letter)) return refuse('the letter stands twice');
    if (!block.add(letter.charCodeAt(0) - 65, value, start, end)) return refuse('too many codes on one line');
  }
  block.mask &= ~bit('N');
  return true;
}
