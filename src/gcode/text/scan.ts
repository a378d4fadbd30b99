import type { Source } from '../../source/source.ts';
import { Block, bit, CODES_PER_BLOCK, tenfold } from './block.ts';

/** Longest line that is read, bytes. RS274 allows 256 characters; the rest is for long comments. */
export const LINE_LIMIT = 4096;

/** Takes what the scanner finds. */
export interface LineSink {
  /** A line of plain words, or nothing but blanks when `block.mask` is 0 (then it is not called). */
  words(block: Block): void;
  /** A line that is not made of plain words alone; the bytes are valid during the call. */
  odd(bytes: Uint8Array, line: number): void;
  /** A line longer than `LINE_LIMIT`; `head` is its start. */
  tooLong(head: Uint8Array, line: number, length: number): void;
}

/**
 * Lines are read so many bytes at a time: an engine that optimises a loop while it runs has not seen what comes after it,
 * and would fall back to slow code at the end of each chunk.
 */
const BATCH = 1 << 12;

const POWERS = Float64Array.from({ length: 16 }, (_, i) => 10 ** i);

const LINE_NUMBER = bit('N');
/** Letters that are more than a value: there may be several, or they have a place of their own. */
const SPECIAL = bit('G') | bit('M') | LINE_NUMBER;

/** M codes whose rest of line is text: never read as words. */
export const TEXT_CODES: ReadonlySet<number> = new Set([16, 23, 28, 32, 117, 118].map((m) => m * 10));

/**
 * Splits the bytes of a program into lines and reads those that are made of plain words (letter, decimal number, blanks)
 * on the spot; all others go to the sink's `odd`. `\n`, `\r\n` and a lone `\r` end a line; a UTF-8 byte-order mark is dropped.
 */
export class Scanner {
  readonly block = new Block();
  /** Lines ended so far. */
  lines = 0;
  bytes = 0;
  readonly #sink: LineSink;
  readonly #carry = new Uint8Array(LINE_LIMIT + 2);
  #carried = 0;
  /** True length of the line in `#carry`, beyond what is kept. */
  #length = 0;
  #afterCr = false;

  constructor(sink: LineSink) {
    this.#sink = sink;
  }

  scan(source: Source, onProgress?: (bytes: number) => void): void {
    for (const chunk of source.chunks()) {
      this.push(chunk);
      onProgress?.(this.bytes);
    }
    this.end();
  }

  push(chunk: Uint8Array): void {
    let from = 0;
    const first = this.bytes === 0;
    this.bytes += chunk.length;
    if (chunk.length === 0) return;
    if (this.#afterCr && chunk[0] === 10) from = 1;
    this.#afterCr = false;
    if (first && chunk[0] === 0xef && chunk[1] === 0xbb && chunk[2] === 0xbf) from = 3;
    let end = chunk.length;
    while (end > from && chunk[end - 1] !== 10 && chunk[end - 1] !== 13) end--;
    if (end === from) {
      this.#keep(chunk, from, chunk.length);
      return;
    }
    if (this.#length > 0) {
      let lineEnd = from;
      while (chunk[lineEnd] !== 10 && chunk[lineEnd] !== 13) lineEnd++;
      this.#keep(chunk, from, lineEnd);
      this.#endCarried();
      from = lineEnd + (chunk[lineEnd] === 13 && chunk[lineEnd + 1] === 10 ? 2 : 1);
    }
    this.#batches(chunk, from, end);
    this.#afterCr = end === chunk.length && chunk[end - 1] === 13;
    this.#keep(chunk, Math.max(from, end), chunk.length);
  }

  /** The last line need not end in a line break. */
  end(): void {
    if (this.#length > 0) this.#endCarried();
  }

  #keep(chunk: Uint8Array, from: number, to: number): void {
    const room = LINE_LIMIT - this.#carried;
    const taken = Math.min(room, to - from);
    if (taken > 0) {
      this.#carry.set(chunk.subarray(from, from + taken), this.#carried);
      this.#carried += taken;
    }
    this.#length += to - from;
  }

  #endCarried(): void {
    const length = this.#length;
    const carried = this.#carried;
    this.#length = 0;
    this.#carried = 0;
    if (length > LINE_LIMIT) {
      this.lines++;
      this.#sink.tooLong(this.#carry.subarray(0, carried), this.lines, length);
      return;
    }
    this.#carry[carried] = 10;
    this.#lines(this.#carry, 0, carried + 1);
  }

  /** Reads whole lines batch by batch. */
  #batches(bytes: Uint8Array, from: number, end: number): void {
    for (let at = from; at < end; ) {
      let to = Math.min(at + BATCH, end);
      while (to < end && bytes[to - 1] !== 10 && bytes[to - 1] !== 13) to++;
      if (to < end && bytes[to - 1] === 13 && bytes[to] === 10) to++;
      this.#lines(bytes, at, to);
      at = to;
    }
  }

  /** Reads whole lines from `from` to `end`; the byte before `end` ends a line, so no other bound need be watched. */
  // biome-ignore lint/complexity/noExcessiveCognitiveComplexity: a measured hot loop, run for every byte of a program
  #lines(bytes: Uint8Array, from: number, end: number): void {
    const block = this.block;
    const sink = this.#sink;
    const { values } = block;
    block.bytes = bytes;
    let line = this.lines;
    let at = from;
    while (at < end) {
      const lineStart = at;
      let plain = true;
      let mask = 0;
      block.gCount = 0;
      block.mCount = 0;
      let c = bytes[at]!;
      for (;;) {
        // Words mostly stand close together: no blank and no end of line is looked for where a character is none.
        if (c <= 32) {
          if (c === 10 || c === 13) break;
          if (c === 32 || c === 9) {
            c = bytes[++at]!;
            continue;
          }
        }
        const letter = (c | 32) - 97;
        if (letter >>> 0 > 25) {
          plain = false;
          break;
        }
        c = bytes[++at]!;
        let negative = false;
        if (c < 48) {
          while (c === 32 || c === 9) c = bytes[++at]!;
          if (c === 45) {
            negative = true;
            c = bytes[++at]!;
          } else if (c === 43) c = bytes[++at]!;
        }
        let mantissa = 0;
        const whole = at;
        let digit = c - 48;
        while (digit >>> 0 < 10) {
          mantissa = mantissa * 10 + digit;
          digit = bytes[++at]! - 48;
        }
        let digits = at - whole;
        let decimals = 0;
        // 46 is the point: 46 − 48 = −2.
        if (digit === -2) {
          const fraction = ++at;
          digit = bytes[at]! - 48;
          while (digit >>> 0 < 10) {
            mantissa = mantissa * 10 + digit;
            digit = bytes[++at]! - 48;
          }
          decimals = at - fraction;
          digits += decimals;
        }
        // Up to 15 digits the mantissa is exact and one division rounds as Number() does.
        if (digits === 0 || digits > 15) {
          plain = false;
          break;
        }
        let value = decimals === 0 ? mantissa : mantissa / POWERS[decimals]!;
        if (negative) value = -value;
        c = bytes[at]!;
        // A glued E may be meant as an exponent.
        if ((c | 32) === 101) {
          plain = false;
          break;
        }
        const seen = 1 << letter;
        if ((seen & (mask | SPECIAL)) === 0) {
          mask |= seen;
          values[letter] = value;
        } else if (letter === 6) {
          if (block.gCount === CODES_PER_BLOCK) {
            plain = false;
            break;
          }
          block.g[block.gCount++] = tenfold(value);
          mask |= seen;
        } else if (letter === 12) {
          if (block.mCount === CODES_PER_BLOCK || TEXT_CODES.has(value * 10)) {
            plain = false;
            break;
          }
          block.m[block.mCount++] = tenfold(value);
          mask |= seen;
        } else if (letter === 13 && mask === 0) {
          // N is a line number only as the first word.
          mask = seen;
        } else {
          plain = false;
          break;
        }
      }
      line++;
      if (plain && at - lineStart <= LINE_LIMIT) {
        at += c === 13 && bytes[at + 1] === 10 && at + 1 < end ? 2 : 1;
        mask &= ~LINE_NUMBER;
        if (mask !== 0) {
          block.line = line;
          block.mask = mask;
          block.lineStart = lineStart;
          sink.words(block);
        }
      } else {
        at = lineStart;
        while (bytes[at] !== 10 && bytes[at] !== 13) at++;
        if (at - lineStart > LINE_LIMIT)
          sink.tooLong(bytes.subarray(lineStart, lineStart + LINE_LIMIT), line, at - lineStart);
        else sink.odd(bytes.subarray(lineStart, at), line);
        at += bytes[at] === 13 && bytes[at + 1] === 10 && at + 1 < end ? 2 : 1;
      }
    }
    this.lines = line;
  }
}
