import type { Place } from '../../source/place.ts';

/** Most G words, and most M words, that one line may hold. */
export const CODES_PER_BLOCK = 16;

/** Bit of an upper-case letter in `Block.mask`. */
export function bit(letter: string): number {
  return 1 << (letter.charCodeAt(0) - 65);
}

/** Index of an upper-case letter in the arrays of a block. */
export function slot(letter: string): number {
  return letter.charCodeAt(0) - 65;
}

/**
 * The words of one line (a "block" in RS274), reused from line to line. Letters other than G and M appear at most once and
 * stand at their place in the alphabet; G and M codes are lists of tenfold numbers (G92.1 is 921).
 */
export class Block {
  line = 0;
  /** One bit for each letter present, G and M included. */
  mask = 0;
  readonly values = new Float64Array(26);
  /**
   * Bytes and start of a line of plain words, valid while the block is carried out: columns are found in them when somebody
   * asks. Null when the columns have been given with the words.
   */
  bytes: Uint8Array | null = null;
  lineStart = 0;
  /** Line whose columns have been found. */
  #located = 0;
  /** Column of the letter, and of the character after the number; 0-based UTF-16 offsets. */
  readonly starts = new Uint32Array(26);
  readonly ends = new Uint32Array(26);
  gCount = 0;
  readonly g = new Int32Array(CODES_PER_BLOCK);
  readonly gStarts = new Uint32Array(CODES_PER_BLOCK);
  readonly gEnds = new Uint32Array(CODES_PER_BLOCK);
  mCount = 0;
  readonly m = new Int32Array(CODES_PER_BLOCK);
  readonly mStarts = new Uint32Array(CODES_PER_BLOCK);
  readonly mEnds = new Uint32Array(CODES_PER_BLOCK);
  /** Text of the last comment of the line; null when there is none. */
  comment: string | null = null;

  clear(line: number): void {
    this.line = line;
    this.mask = 0;
    this.gCount = 0;
    this.mCount = 0;
    this.comment = null;
    this.bytes = null;
  }

  /** Adds one word; false when the block cannot hold it: the letter is there already, or there are too many codes. */
  add(letter: number, value: number, start: number, end: number): boolean {
    this.mask |= 1 << letter;
    if (letter === 6) {
      if (this.gCount === CODES_PER_BLOCK) return false;
      this.g[this.gCount] = tenfold(value);
      this.gStarts[this.gCount] = start;
      this.gEnds[this.gCount++] = end;
      return true;
    }
    if (letter === 12) {
      if (this.mCount === CODES_PER_BLOCK) return false;
      this.m[this.mCount] = tenfold(value);
      this.mStarts[this.mCount] = start;
      this.mEnds[this.mCount++] = end;
      return true;
    }
    this.values[letter] = value;
    this.starts[letter] = start;
    this.ends[letter] = end;
    return true;
  }

  /** Place of the word with this letter. */
  placeOf(letter: string): Place {
    this.#locate();
    const i = slot(letter);
    return onLine(this.line, this.starts[i]!, this.ends[i]!);
  }

  placeOfG(i: number): Place {
    this.#locate();
    return onLine(this.line, this.gStarts[i]!, this.gEnds[i]!);
  }

  placeOfM(i: number): Place {
    this.#locate();
    return onLine(this.line, this.mStarts[i]!, this.mEnds[i]!);
  }

  /** From the first word of the line to the last. */
  place(): Place {
    this.#locate();
    let start = Number.POSITIVE_INFINITY;
    let end = 0;
    const widen = (from: number, to: number) => {
      start = Math.min(start, from);
      end = Math.max(end, to);
    };
    for (let i = 0; i < 26; i++) if (i !== 6 && i !== 12 && this.mask & (1 << i)) widen(this.starts[i]!, this.ends[i]!);
    for (let i = 0; i < this.gCount; i++) widen(this.gStarts[i]!, this.gEnds[i]!);
    for (let i = 0; i < this.mCount; i++) widen(this.mStarts[i]!, this.mEnds[i]!);
    return end === 0 ? onLine(this.line, 0, 0) : onLine(this.line, start, end);
  }

  /** Finds the columns of a line of plain words. */
  #locate(): void {
    const { bytes } = this;
    if (bytes === null || this.#located === this.line) return;
    this.#located = this.line;
    let g = 0;
    let m = 0;
    let at = this.lineStart;
    while (bytes[at] !== 10 && bytes[at] !== 13) {
      const start = at - this.lineStart;
      const letter = (bytes[at++]! | 32) - 97;
      if (letter < 0 || letter > 25) continue;
      let end = at;
      while (bytes[at] !== 10 && bytes[at] !== 13 && bytes[at]! < 65) if (bytes[at++]! > 32) end = at;
      end -= this.lineStart;
      if (letter === 6) {
        this.gStarts[g] = start;
        this.gEnds[g++] = end;
      } else if (letter === 12) {
        this.mStarts[m] = start;
        this.mEnds[m++] = end;
      } else {
        this.starts[letter] = start;
        this.ends[letter] = end;
      }
    }
  }
}

/** A stretch of one line from 0-based offsets, `end` exclusive. */
export function onLine(line: number, start: number, end: number): Place {
  return { line, column: start + 1, endLine: line, endColumn: Math.max(end, start) + 1 };
}

/** Code numbers are kept tenfold; one that is no whole tenth, or beyond 999.9, becomes −1, which no code has. */
export function tenfold(value: number): number {
  const ten = Math.round(value * 10);
  return ten >= 0 && ten < 10_000 && Math.abs(ten - value * 10) < 1e-6 ? ten : -1;
}

/** "G92.1" for ('G', 921). */
export function codeName(letter: 'G' | 'M', ten: number): string {
  return ten < 0 ? `${letter}?` : `${letter}${ten / 10}`;
}
