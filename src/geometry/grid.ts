/**
 * A spatial index for short straight pieces that may grow while it is searched: square cells, hashed into a fixed table
 * of linked lists. Two cells that share a list only cost a few needless candidates, since callers measure every one.
 */
export class SegmentGrid {
  readonly cellMm: number;
  readonly #mask: number;
  readonly #heads: Int32Array;
  #items: Int32Array;
  #next: Int32Array;
  #used = 0;
  #stamps: Int32Array;
  #stamp = 0;
  #found = new Int32Array(256);
  #foundCount = 0;
  /** Cells that hold anything: searches beyond them end at once, however far they were asked to reach. */
  #lowRow = Infinity;
  #highRow = -Infinity;
  #lowColumn = Infinity;
  #highColumn = -Infinity;

  /**
   * `expectedItems` and `expectedLengthMm` (the summed length of what will be inserted) size the table. The cells are
   * widened when the length is so great that cells of `cellMm` would need far more entries than there are items.
   */
  constructor(cellMm: number, expectedItems: number, expectedLengthMm: number) {
    const mostCells = Math.min(4_000_000, 200_000 + 32 * expectedItems);
    this.cellMm = Math.max(cellMm, expectedLengthMm / mostCells);
    const entries = expectedItems + expectedLengthMm / this.cellMm;
    let size = 1024;
    while (size < entries && size < 1 << 22) size *= 2;
    this.#mask = size - 1;
    this.#heads = new Int32Array(size).fill(-1);
    this.#items = new Int32Array(1024);
    this.#next = new Int32Array(1024);
    this.#stamps = new Int32Array(1024);
  }

  /** Adds a piece under the number `item` (≥ 0). */
  insert(item: number, x0: number, y0: number, x1: number, y1: number): void {
    this.#walk(x0, y0, x1, y1, 0, item);
  }

  /**
   * Collects the items whose cells lie within `padMm` of the piece, each once, in no order. The returned array is
   * reused by the next call; only the first `foundCount` entries count.
   */
  search(x0: number, y0: number, x1: number, y1: number, padMm: number): Int32Array {
    this.#stamp++;
    this.#foundCount = 0;
    const reach = (2 * padMm) / this.cellMm + 2;
    const cells = (Math.hypot(x1 - x0, y1 - y0) / this.cellMm + reach) * reach;
    if (cells <= this.#used + 64) this.#walk(x0, y0, x1, y1, padMm, -1);
    // So wide a search would meet more empty cells than there are entries, or none at all if it is not finite.
    else for (let at = 0; at < this.#used; at++) this.#note(this.#items[at]!);
    return this.#found;
  }

  get foundCount(): number {
    return this.#foundCount;
  }

  #walk(x0: number, y0: number, x1: number, y1: number, pad: number, item: number): void {
    const cell = this.cellMm;
    const lowY = Math.min(y0, y1);
    const highY = Math.max(y0, y1);
    const lowX = Math.min(x0, x1);
    const highX = Math.max(x0, x1);
    const dx = x1 - x0;
    const dy = y1 - y0;
    const search = item < 0;
    let firstRow = Math.floor((lowY - pad) / cell);
    let lastRow = Math.floor((highY + pad) / cell);
    if (search) {
      firstRow = Math.max(firstRow, this.#lowRow);
      lastRow = Math.min(lastRow, this.#highRow);
    } else {
      this.#lowRow = Math.min(this.#lowRow, firstRow);
      this.#highRow = Math.max(this.#highRow, lastRow);
    }
    for (let row = firstRow; row <= lastRow; row++) {
      let fromX = lowX;
      let toX = highX;
      if (dy !== 0) {
        // The share of the piece inside this row of cells, widened by the pad.
        const a = clamp01((row * cell - pad - y0) / dy);
        const b = clamp01(((row + 1) * cell + pad - y0) / dy);
        fromX = Math.min(x0 + dx * a, x0 + dx * b);
        toX = Math.max(x0 + dx * a, x0 + dx * b);
      }
      let firstColumn = Math.floor((fromX - pad - 1e-9) / cell);
      let lastColumn = Math.floor((toX + pad + 1e-9) / cell);
      if (search) {
        firstColumn = Math.max(firstColumn, this.#lowColumn);
        lastColumn = Math.min(lastColumn, this.#highColumn);
      } else {
        this.#lowColumn = Math.min(this.#lowColumn, firstColumn);
        this.#highColumn = Math.max(this.#highColumn, lastColumn);
      }
      for (let column = firstColumn; column <= lastColumn; column++) {
        const slot = (Math.imul(column, 73856093) ^ Math.imul(row, 19349663)) & this.#mask;
        if (search) this.#gather(slot);
        else this.#link(slot, item);
      }
    }
  }

  #link(slot: number, item: number): void {
    if (this.#used === this.#items.length) {
      this.#items = doubled(this.#items);
      this.#next = doubled(this.#next);
    }
    if (item >= this.#stamps.length) {
      const wider = new Int32Array(Math.max(item + 1, this.#stamps.length * 2));
      wider.set(this.#stamps);
      this.#stamps = wider;
    }
    this.#items[this.#used] = item;
    this.#next[this.#used] = this.#heads[slot]!;
    this.#heads[slot] = this.#used++;
  }

  #gather(slot: number): void {
    for (let at = this.#heads[slot]!; at >= 0; at = this.#next[at]!) this.#note(this.#items[at]!);
  }

  #note(item: number): void {
    if (this.#stamps[item] === this.#stamp) return;
    this.#stamps[item] = this.#stamp;
    if (this.#foundCount === this.#found.length) this.#found = doubled(this.#found);
    this.#found[this.#foundCount++] = item;
  }
}

const clamp01 = (v: number): number => Math.min(1, Math.max(0, v));

function doubled(array: Int32Array): Int32Array<ArrayBuffer> {
  const wider = new Int32Array(array.length * 2);
  wider.set(array);
  return wider;
}
