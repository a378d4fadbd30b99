import type { Place } from './place.ts';

/** Line and column of offsets in one text; `\n`, `\r\n` and a lone `\r` end a line. Columns count UTF-16 units, both 1-based. */
export class LineIndex {
  readonly #starts: number[] = [0];
  readonly #length: number;

  constructor(text: string) {
    this.#length = text.length;
    for (let i = 0; i < text.length; i++) {
      const c = text.charCodeAt(i);
      if (c === 10 || (c === 13 && text.charCodeAt(i + 1) !== 10)) this.#starts.push(i + 1);
    }
  }

  get lines(): number {
    return this.#starts.length;
  }

  position(offset: number): { line: number; column: number } {
    const at = Math.min(Math.max(0, offset), this.#length);
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.#starts[middle]! <= at) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: at - this.#starts[low]! + 1 };
  }

  place(start: number, end: number): Place {
    const from = this.position(start);
    const to = this.position(Math.max(start, end));
    return { line: from.line, column: from.column, endLine: to.line, endColumn: to.column };
  }
}
