import type { Source } from './source.ts';

/** A line that holds a mark. */
export interface MarkedLine {
  /** 1-based. */
  line: number;
  text: string;
}

/** A line longer than this is no place for a mark: it is left out. */
const LONGEST_BYTES = 2000;
const LF = 10;
const CR = 13;

/**
 * The lines of a source that hold an ASCII word, in order, at most `most` of them. One pass at the speed of a byte search; lines
 * are counted only in a source that has the word at all.
 */
export function markedLines(source: Source, word: string, most: number): MarkedLine[] {
  const wanted = new TextEncoder().encode(word);
  return holds(source, wanted) ? collect(source, wanted, most) : [];
}

/** Whether the bytes occur, also across the border of two chunks. */
function holds(source: Source, wanted: Uint8Array): boolean {
  let tail = new Uint8Array(0);
  for (const chunk of source.chunks()) {
    const border = new Uint8Array(tail.length + Math.min(chunk.length, wanted.length));
    border.set(tail);
    border.set(chunk.subarray(0, border.length - tail.length), tail.length);
    if (indexOf(border, wanted) >= 0 || indexOf(chunk, wanted) >= 0) return true;
    const joined = chunk.length >= wanted.length ? chunk : border;
    tail = joined.slice(Math.max(0, joined.length - wanted.length + 1));
  }
  return false;
}

function indexOf(bytes: Uint8Array, wanted: Uint8Array): number {
  for (let at = bytes.indexOf(wanted[0]!); at >= 0; at = bytes.indexOf(wanted[0]!, at + 1)) {
    let k = 1;
    while (k < wanted.length && bytes[at + k] === wanted[k]) k++;
    if (k === wanted.length) return at;
  }
  return -1;
}

function collect(source: Source, wanted: Uint8Array, most: number): MarkedLine[] {
  const found: MarkedLine[] = [];
  const buffer = new Uint8Array(LONGEST_BYTES);
  let length = 0;
  let line = 1;
  let afterCr = false;
  const end = () => {
    if (length <= LONGEST_BYTES && indexOf(buffer.subarray(0, length), wanted) >= 0 && found.length < most) {
      found.push({ line, text: new TextDecoder().decode(buffer.subarray(0, length)) });
    }
    line++;
    length = 0;
  };
  for (const chunk of source.chunks()) {
    for (const byte of chunk) {
      if (byte === LF && afterCr) {
        afterCr = false;
        continue;
      }
      afterCr = byte === CR;
      if (byte === LF || byte === CR) end();
      else {
        if (length < LONGEST_BYTES) buffer[length] = byte;
        length++;
      }
    }
    if (found.length >= most) return found;
  }
  end();
  return found;
}
