import { grown } from '../segments/grow-array.ts';

/** No point. */
const NONE = -1;

/** Points hashed into square cells, to find those near a place; numbers can be taken out again. */
export class PointGrid {
  readonly #cellsPerMm: number;
  readonly #mask: number;
  /** First and last point of each list; a list holds its points in ascending order. */
  readonly #first: Int32Array;
  readonly #last: Int32Array;
  #next: Int32Array;
  #x: Float64Array;
  #y: Float64Array;
  #gone: Uint8Array;
  #count = 0;

  /**
   * `reachMm` is the distance that `near` will be asked for; `expected` points are about what will be added. Without `cellMm` a place has
   * most of its neighbours within one cell, or two; where most places have many, a smaller one keeps the search short.
   */
  constructor(reachMm: number, expected: number, cellMm = 4 * reachMm) {
    this.#cellsPerMm = 1 / Math.max(cellMm, 1e-6);
    let lists = 64;
    while (lists < expected && lists < 1 << 24) lists *= 2;
    this.#mask = lists - 1;
    this.#first = new Int32Array(lists).fill(NONE);
    this.#last = new Int32Array(lists);
    const capacity = Math.max(16, expected);
    this.#next = new Int32Array(capacity);
    this.#x = new Float64Array(capacity);
    this.#y = new Float64Array(capacity);
    this.#gone = new Uint8Array(capacity);
  }

  /** Adds a point and returns its number, counted from 0. */
  add(x: number, y: number): number {
    if (this.#count === this.#x.length) this.#grow();
    const number = this.#count++;
    this.#x[number] = x;
    this.#y[number] = y;
    this.#next[number] = NONE;
    const list = this.#listOf(this.#cellOf(x), this.#cellOf(y));
    if (this.#first[list] === NONE) this.#first[list] = number;
    else this.#next[this.#last[list]!] = number;
    this.#last[list] = number;
    return number;
  }

  remove(number: number): void {
    this.#gone[number] = 1;
  }

  /** The lowest-numbered point within `reachMm` for which `accept` holds; −1 when there is none. */
  near(x: number, y: number, reachMm: number, accept?: (number: number) => boolean): number {
    const column = this.#cellOf(x);
    const row = this.#cellOf(y);
    const lowColumn = this.#cellOf(x - reachMm);
    const lowRow = this.#cellOf(y - reachMm);
    // Counted from the lowest: so far out that one more is the same number, nothing goes on for ever.
    const columns = this.#cellOf(x + reachMm) - lowColumn;
    const rows = this.#cellOf(y + reachMm) - lowRow;
    // What the place's own cell has bounds how far the lists of the others need to be read.
    let best = this.#nearIn(column, row, x, y, reachMm, Infinity, accept);
    for (let r = 0; r <= rows; r++) {
      for (let c = 0; c <= columns; c++) {
        if (lowRow + r === row && lowColumn + c === column) continue;
        best = this.#nearIn(lowColumn + c, lowRow + r, x, y, reachMm, best, accept);
      }
    }
    return best === Infinity ? NONE : best;
  }

  /** The lowest-numbered of a cell that is within reach, if it is below `below`; else `below`. */
  #nearIn(
    column: number,
    row: number,
    x: number,
    y: number,
    reachMm: number,
    below: number,
    accept?: (number: number) => boolean,
  ): number {
    const list = this.#listOf(column, row);
    // Numbers ascend, so the first that fits is the lowest; taken ones are swept from the front as they are met.
    let at = this.#first[list]!;
    while (at !== NONE && this.#gone[at] === 1) at = this.#next[at]!;
    this.#first[list] = at;
    for (; at !== NONE && at < below; at = this.#next[at]!) {
      const dx = this.#x[at]! - x;
      const dy = this.#y[at]! - y;
      if (this.#gone[at] === 0 && dx * dx + dy * dy <= reachMm * reachMm && (!accept || accept(at))) return at;
    }
    return below;
  }

  #cellOf(mm: number): number {
    return Math.floor(mm * this.#cellsPerMm);
  }

  #listOf(column: number, row: number): number {
    return (Math.imul(column, 73856093) ^ Math.imul(row, 19349663)) & this.#mask;
  }

  #grow(): void {
    const capacity = 2 * this.#count;
    this.#next = grown(this.#next, capacity);
    this.#x = grown(this.#x, capacity);
    this.#y = grown(this.#y, capacity);
    this.#gone = grown(this.#gone, capacity);
  }
}
