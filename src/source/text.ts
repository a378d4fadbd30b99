import type { Place } from './place.ts';

/** Line and column of offsets in one text; `\n`, `\r\n` and a lone `\r` end a line. Columns count UTF-16 units, both 1-based. */
export class LineTable {
  readonly #starts: number[] = [0];
  readonly #text: string;

  constructor(text: string) {
    this.#text = text;
    for (let i = 0; i < text.length; i++) {
      const c = text.charCodeAt(i);
      if (c === 10 || (c === 13 && text.charCodeAt(i + 1) !== 10)) this.#starts.push(i + 1);
    }
  }

  get lines(): number {
    return this.#starts.length;
  }

  /** An offset inside a line's end counts as the end of its text: nothing stands behind it. */
  position(offset: number): { line: number; column: number } {
    const at = Math.min(Math.max(0, offset), this.#text.length);
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.#starts[middle]! <= at) low = middle;
      else high = middle - 1;
    }
    const start = this.#starts[low]!;
    // Between the two characters of CR LF, and behind either, the line is over.
    const over = at > start && this.#text[at - 1] === '\r' ? at - 1 : at;
    return { line: low + 1, column: over - start + 1 };
  }

  place(start: number, end: number): Place {
    const from = this.position(start);
    const to = this.position(Math.max(start, end));
    return { line: from.line, column: from.column, endLine: to.line, endColumn: to.column };
  }
}
