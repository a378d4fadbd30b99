import { withoutComments } from '../text/comments.ts';

/** A word of a line; offsets count bytes from the line's start. */
export interface PlainWord {
  /** Upper case. */
  letter: string;
  value: number;
  start: number;
  end: number;
}

/** What a line is to somebody who wants to change the program around it. */
export type LineKind = 'blank' | 'comment' | 'modal' | 'move' | 'dwell' | 'pause' | 'end' | 'frame' | 'odd';

export interface PlainLine {
  kind: LineKind;
  /** Empty where the line is not made of plain words alone. */
  words: readonly PlainWord[];
}

const WORD = /([A-Za-z])[ \t]*([-+]?(?:\d+(?:\.\d*)?|\.\d+))[ \t]*/y;
/** Codes that take the axis words of their line: G10, G28, G30, G53, G92 and its kin. */
const FRAME = new Set([10, 28, 30, 53, 92, 92.1, 92.2, 92.3]);
/** Longer ones are no plain numbers, characters. */
const LONGEST_NUMBER = 15;

/**
 * Reads a line as it stands, each byte one character. Whatever is more than words (block delete, checksum, expression, a line for the sender,
 * a comment that stays open) is odd: it is neither changed nor copied.
 */
export function plainLine(text: string): PlainLine {
  const { code, comment, fault } = withoutComments(text);
  if (fault !== null) return { kind: 'odd', words: [] };
  const words = wordsOf(code);
  if (words === null) return { kind: 'odd', words: [] };
  if (words.length === 0) return { kind: comment === null || comment === '' ? 'blank' : 'comment', words };
  return { kind: kindOf(words), words };
}

function wordsOf(code: string): PlainWord[] | null {
  const words: PlainWord[] = [];
  WORD.lastIndex = code.length - code.trimStart().length;
  const until = code.trimEnd().length;
  while (WORD.lastIndex < until) {
    const start = WORD.lastIndex;
    const found = WORD.exec(code);
    if (found === null || found[2]!.length > LONGEST_NUMBER) return null;
    const letter = found[1]!.toUpperCase();
    if (letter === 'N' && words.length > 0) return null;
    words.push({ letter, value: Number(found[2]), start, end: start + found[0].trimEnd().length });
  }
  return words;
}

function kindOf(words: readonly PlainWord[]): LineKind {
  const has = (letter: string, values: readonly number[]) =>
    words.some((word) => word.letter === letter && values.includes(word.value));
  if (words.some(({ letter, value }) => letter === 'G' && FRAME.has(value))) return 'frame';
  if (has('G', [4])) return 'dwell';
  if (has('M', [0, 1])) return 'pause';
  if (has('M', [2, 30])) return 'end';
  return words.some(({ letter }) => 'XYZIJKR'.includes(letter)) ? 'move' : 'modal';
}
