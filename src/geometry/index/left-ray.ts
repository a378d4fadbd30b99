import type { Segments } from '../segments/segments.ts';

/** Entries that edges which run through several rows may add. */
const MOST_ADDED = 4_000_000;
const ADDED_EACH = 100;
const ALWAYS_ADDED = 20_000;
/** Rows are no lower than this, mm, and no more of them than there are edges, about. */
const LEAST_ROW_MM = 0.5;

/** Relative error of a number that is kept in 32 bits, with a reserve. */
const SINGLE = 2 ** -22;
/** What 32 bits hold nothing less than, with a reserve, mm. */
const TINY_MM = 1e-9;

/**
 * Finds the first edge to the left of a place. The edges lie in rows, those of a row in order of where they begin, so that a search goes
 * through one row from the place to the left until nothing of what is left reaches as far as what was found. A row is put in order when it
 * is first asked.
 */
export class LeftRay {
  readonly #edges: Segments;
  readonly #fromY: number = 0;
  readonly #rowsPerMm: number = 0;
  readonly #rows: number = 0;
  /** What 32 bits may lose of the coordinates, mm. */
  readonly #slackMm: number = 0;
  /** Those of row r are `#members[#start[r]]` and what follows. */
  readonly #start: Uint32Array;
  readonly #members: Uint32Array;
  /** Of each entry the left end of its edge in the row; and the farthest right that it or one before it in the row reaches. */
  readonly #low: Float32Array;
  readonly #reach: Float32Array;
  readonly #inOrder: Uint8Array;

  /** @param edges with finite coordinates */
  constructor(edges: Segments) {
    this.#edges = edges;
    const { count, x0, y0, x1, y1 } = edges;
    let [low, high, acrossMm, farthestMm] = [Infinity, -Infinity, 0, 0];
    for (let i = 0; i < count; i++) {
      low = Math.min(low, y0[i]!, y1[i]!);
      high = Math.max(high, y0[i]!, y1[i]!);
      acrossMm += Math.abs(y1[i]! - y0[i]!);
      farthestMm = Math.max(farthestMm, Math.abs(x0[i]!), Math.abs(x1[i]!));
    }
    if (count > 0) {
      const added = Math.min(MOST_ADDED, ALWAYS_ADDED + ADDED_EACH * count);
      const rowMm = Math.max(LEAST_ROW_MM, acrossMm / added, (high - low) / (count + 1));
      this.#fromY = low;
      this.#rowsPerMm = 1 / rowMm;
      this.#rows = Math.floor((high - low) * this.#rowsPerMm) + 1;
      this.#slackMm = SINGLE * farthestMm + TINY_MM;
    }
    this.#start = new Uint32Array(this.#rows + 1);
    for (let i = 0; i < count; i++) {
      const last = this.#rowOf(Math.max(y0[i]!, y1[i]!));
      for (let row = this.#rowOf(Math.min(y0[i]!, y1[i]!)); row <= last; row++) this.#start[row]!++;
    }
    // Where each row ends; filling it from there leaves where it begins.
    for (let row = 1; row <= this.#rows; row++) this.#start[row]! += this.#start[row - 1]!;
    const entries = this.#start[this.#rows]!;
    this.#members = new Uint32Array(entries);
    for (let i = 0; i < count; i++) {
      const last = this.#rowOf(Math.max(y0[i]!, y1[i]!));
      for (let row = this.#rowOf(Math.min(y0[i]!, y1[i]!)); row <= last; row++) this.#members[--this.#start[row]!] = i;
    }
    this.#low = new Float32Array(entries);
    this.#reach = new Float32Array(entries);
    this.#inOrder = new Uint8Array(this.#rows);
  }

  /** The nearest edge of another owner on the ray from (x, y) towards −X; −1 when there is none. */
  firstHit(x: number, y: number, owner: number): number {
    const row = this.#rowOf(y);
    if (!(row >= 0 && row < this.#rows && x < Infinity)) return -1;
    if (this.#inOrder[row] === 0) this.#putInOrder(row);
    const { x0, y0, x1, y1, owner: owners } = this.#edges;
    const begin = this.#start[row]!;
    let best = -1;
    let bestX = -Infinity;
    let bestSlope = 0;
    for (let at = this.#after(row, x + this.#slackMm) - 1; at >= begin && this.#reach[at]! >= bestX; at--) {
      const e = this.#members[at]!;
      if (owners[e] === owner || y0[e]! > y === y1[e]! > y) continue;
      const slope = (x1[e]! - x0[e]!) / (y1[e]! - y0[e]!);
      const hit = x0[e]! + slope * (y - y0[e]!);
      if (!(hit <= x)) continue;
      // Two edges that meet on the ray: the one nearer just above it counts; of one edge drawn twice the later.
      if (hit < bestX || (hit === bestX && (slope < bestSlope || (slope === bestSlope && e < best)))) continue;
      best = e;
      bestX = hit;
      bestSlope = slope;
    }
    return best;
  }

  #rowOf(y: number): number {
    return Math.floor((y - this.#fromY) * this.#rowsPerMm);
  }

  /** The first entry of a row that begins right of x, or the end of the row. */
  #after(row: number, x: number): number {
    let low = this.#start[row]!;
    let high = this.#start[row + 1]!;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (this.#low[middle]! <= x) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  #putInOrder(row: number): void {
    this.#inOrder[row] = 1;
    const begin = this.#start[row]!;
    const members = this.#members.subarray(begin, this.#start[row + 1]!);
    const size = members.length;
    const left = new Float64Array(size);
    const right = new Float64Array(size);
    const bottom = this.#fromY + row / this.#rowsPerMm;
    for (let k = 0; k < size; k++) this.#span(members[k]!, bottom, k, left, right);
    const order = Uint32Array.from(left.keys()).sort((a, b) => left[a]! - left[b]!);
    const edges = members.slice();
    let reach = -Infinity;
    for (let k = 0; k < size; k++) {
      const from = order[k]!;
      reach = Math.max(reach, right[from]!);
      members[k] = edges[from]!;
      this.#low[begin + k] = left[from]! - this.#slackMm;
      this.#reach[begin + k] = reach + this.#slackMm;
    }
  }

  /** From where to where the part of edge e goes that lies in a row, along X. */
  #span(e: number, bottom: number, k: number, left: Float64Array, right: Float64Array): void {
    const { x0, y0, x1, y1 } = this.#edges;
    const height = 1 / this.#rowsPerMm;
    const perMm = (x1[e]! - x0[e]!) / (y1[e]! - y0[e]!);
    const lowest = Math.min(y0[e]!, y1[e]!);
    const highest = Math.max(y0[e]!, y1[e]!);
    const atY = (y: number): number => x0[e]! + perMm * (Math.max(lowest, Math.min(highest, y)) - y0[e]!);
    // A little more of the row, for what arithmetic loses; a level edge lies in it whole.
    const isLevel = !Number.isFinite(perMm);
    const a = isLevel ? x0[e]! : atY(bottom - 1e-3 * height);
    const b = isLevel ? x1[e]! : atY(bottom + 1.001 * height);
    left[k] = Math.min(a, b);
    right[k] = Math.max(a, b);
  }
}
