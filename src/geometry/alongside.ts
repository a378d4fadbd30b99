import { PARALLEL } from './claims.ts';
import { SegmentGrid } from './grid.ts';
import { grown } from './grown.ts';
import { type Segments, totalLengthMm } from './segments.ts';

/** Cells of the index where segments are long, mm. */
const WIDEST_CELL_MM = 1;

/** Segments in one cell of the index that are compared each with each. */
const CROWD = 128;

/** Pairs that one cell may yield for each segment in it: more of them run along the same lines than a list should hold. */
const PAIRS_EACH = 2;

/** More than arithmetic loses on coordinates of a kilometre, mm and radians. */
const ROUNDING = 1e-6;

/** Something may run along the segment: it is in `pairs`, or it lies in a crowded place, too. */
const PAIRED = 1;
export const CROWDED = 2;

/** What may run along each other, before it is measured. */
export interface Alongside {
  /** For each segment 0 where nothing runs along it, else `PAIRED` or `CROWDED`. */
  touched: Uint8Array;
  /** `later × count + earlier` for each pair, ascending; some stand there twice. */
  pairs: Float64Array;
  /** The index, empty, to search crowded places in; null when there are none. */
  crowds: SegmentGrid | null;
}

/**
 * Finds the pairs of segments of which a part may run along a part of the other, cell by cell of an index that holds all
 * segments half the tolerance wide: pairs of neighbours are looked at while they are at hand. Where a cell is crowded its
 * segments are marked only, so that the work stays within bounds: they are to be searched for one by one.
 */
export function findAlongside(segments: Segments, allowance: Float32Array, toleranceMm: number): Alongside {
  // Cells about as long as the segments: wider ones hold many that are nowhere near, narrower ones make long ones dear.
  const meanMm = totalLengthMm(segments) / Math.max(1, segments.count);
  const cellMm = Math.max(4 * toleranceMm, Math.min(WIDEST_CELL_MM, meanMm));
  const grid = new SegmentGrid(segments, cellMm, toleranceMm / 2).insertAll();
  let crowded = false;
  const touched = new Uint8Array(segments.count);
  const finder = new PairFinder(segments, allowance, toleranceMm);
  grid.eachPlace((items, from, to) => {
    const compared = to - from <= CROWD && finder.compare(items, from, to);
    if (compared) return;
    crowded = true;
    for (let k = from; k < to; k++) touched[items[k]!] = CROWDED;
  });
  grid.clear();
  const pairs = finder.sorted();
  for (const pair of pairs) {
    const later = Math.floor(pair / segments.count);
    const earlier = pair - later * segments.count;
    touched[later] ||= PAIRED;
    touched[earlier] ||= PAIRED;
  }
  return { touched, pairs, crowds: crowded ? grid : null };
}

/** Compares the segments of one cell after the other, each with each. */
class PairFinder {
  readonly #segments: Segments;
  readonly #allowance: Float32Array;
  readonly #tolerance: number;
  #pairs = new Float64Array(1024);
  #count = 0;
  /** The segments at hand: ends, unit direction, length and the play of the direction. */
  readonly #x0 = new Float64Array(CROWD);
  readonly #y0 = new Float64Array(CROWD);
  readonly #x1 = new Float64Array(CROWD);
  readonly #y1 = new Float64Array(CROWD);
  readonly #ux = new Float64Array(CROWD);
  readonly #uy = new Float64Array(CROWD);
  readonly #length = new Float64Array(CROWD);
  readonly #play = new Float64Array(CROWD);

  constructor(segments: Segments, allowance: Float32Array, toleranceMm: number) {
    this.#segments = segments;
    this.#allowance = allowance;
    this.#tolerance = toleranceMm;
  }

  sorted(): Float64Array {
    return this.#pairs.subarray(0, this.#count).sort();
  }

  /** False when so many run along each other that none of the cell's pairs was kept. */
  compare(items: Int32Array, from: number, to: number): boolean {
    const ux = this.#ux;
    const uy = this.#uy;
    const play = this.#play;
    const before = this.#count;
    const most = before + PAIRS_EACH * (to - from);
    for (let j = 0; j < to - from; j++) {
      this.#take(items[from + j]!, j);
      const ownX = ux[j]!;
      const ownY = uy[j]!;
      const own = play[j]! + PARALLEL;
      for (let i = 0; i < j; i++) {
        if (Math.abs(ux[i]! * ownY - uy[i]! * ownX) > own + play[i]! || this.#apart(i, j)) continue;
        this.#add(items[from + j]!, items[from + i]!);
      }
      if (this.#count > most) {
        this.#count = before;
        return false;
      }
    }
    return true;
  }

  #add(later: number, earlier: number): void {
    if (this.#count === this.#pairs.length) this.#pairs = grown(this.#pairs, 2 * this.#count);
    this.#pairs[this.#count++] = later * this.#segments.count + earlier;
  }

  #take(segment: number, at: number): void {
    const { x0, y0, x1, y1 } = this.#segments;
    const ax = x0[segment]!;
    const ay = y0[segment]!;
    const bx = x1[segment]!;
    const by = y1[segment]!;
    const length = Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
    this.#x0[at] = ax;
    this.#y0[at] = ay;
    this.#x1[at] = bx;
    this.#y1[at] = by;
    this.#ux[at] = (bx - ax) / length;
    this.#uy[at] = (by - ay) / length;
    this.#length[at] = length;
    // An angle is no less than its sine.
    this.#play[at] = this.#allowance[segment]! + ROUNDING;
  }

  /**
   * True when no part of the later segment j can run along a part of i, however both are shared out to others. It says no
   * less often than the measuring does that follows, and needs less for it.
   */
  #apart(i: number, j: number): boolean {
    const px = this.#x0[i]!;
    const py = this.#y0[i]!;
    const ux = this.#ux[i]!;
    const uy = this.#uy[i]!;
    const sx = this.#x0[j]! - px;
    const sy = this.#y0[j]! - py;
    const ex = this.#x1[j]! - px;
    const ey = this.#y1[j]! - py;
    const start = sx * ux + sy * uy;
    const end = ex * ux + ey * uy;
    let low = Math.min(start, end);
    let high = Math.max(start, end);
    const length = this.#length[i]!;
    if (low < 0) low = 0;
    if (high > length) high = length;
    const least = Math.min(this.#tolerance / 8, this.#length[j]! / 8, length / 16) * (1 - ROUNDING);
    if (high - low < least) return true;
    const startOff = sy * ux - sx * uy;
    const endOff = ey * ux - ex * uy;
    const reach = this.#tolerance + ROUNDING;
    if (startOff > reach || startOff < -reach || endOff > reach || endOff < -reach) {
      // The part that lies within reach.
      const perOff = (end - start) / (endOff - startOff);
      const a = start + (reach - startOff) * perOff;
      const b = start + (-reach - startOff) * perOff;
      low = Math.max(low, Math.min(a, b));
      high = Math.min(high, Math.max(a, b));
      if (!(high - low >= least)) return true;
    }
    return false;
  }
}
