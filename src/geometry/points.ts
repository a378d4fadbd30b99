/** Points hashed into square cells, to find those near a place; numbers can be taken out again. */
export class PointGrid {
  readonly #cellMm: number;
  readonly #cells = new Map<number, number[]>();
  readonly #x: number[] = [];
  readonly #y: number[] = [];
  readonly #gone: boolean[] = [];

  /** `reachMm` is the largest distance that `near` will be asked for. */
  constructor(reachMm: number) {
    this.#cellMm = Math.max(reachMm, 1e-6);
  }

  /** Adds a point and returns its number, counted from 0. */
  add(x: number, y: number): number {
    const number = this.#x.length;
    this.#x.push(x);
    this.#y.push(y);
    this.#gone.push(false);
    const key = cellKey(Math.floor(x / this.#cellMm), Math.floor(y / this.#cellMm));
    const cell = this.#cells.get(key);
    if (cell) cell.push(number);
    else this.#cells.set(key, [number]);
    return number;
  }

  remove(number: number): void {
    this.#gone[number] = true;
  }

  /** The lowest-numbered point within `reachMm` for which `accept` holds; −1 when there is none. */
  near(x: number, y: number, reachMm: number, accept: (number: number) => boolean): number {
    const column = Math.floor(x / this.#cellMm);
    const row = Math.floor(y / this.#cellMm);
    let best = -1;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const key = cellKey(column + dx, row + dy);
        const cell = this.#cells.get(key);
        if (!cell) continue;
        // Numbers ascend, so the first that fits is the lowest; taken ones are swept from the front as they are met.
        let kept = 0;
        while (kept < cell.length && this.#gone[cell[kept]!]) kept++;
        if (kept > 0) cell.splice(0, kept);
        for (const number of cell) {
          if (best >= 0 && number >= best) break;
          if (this.#gone[number] || !accept(number)) continue;
          if (Math.hypot(this.#x[number]! - x, this.#y[number]! - y) <= reachMm) {
            best = number;
            break;
          }
        }
      }
    }
    return best;
  }
}

const cellKey = (column: number, row: number): number => Math.imul(column, 73856093) ^ Math.imul(row, 19349663);
