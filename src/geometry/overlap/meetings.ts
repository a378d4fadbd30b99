import { grown } from '../segments/grow-array.ts';
import type { Segments } from '../segments/segments.ts';
import { type Apartness, ROUNDING } from './apartness.ts';
import { Directions } from './directions.ts';
import { type Grid, tilesOf } from './tiles.ts';

/** Side of a tile in mean lengths of a segment: what lies in one then fits into a processor's cache. */
const TILE_LENGTHS = 16;
/** Segments for each cell of a tile, about. */
const PER_CELL = 3;
/** Cells of a tile, along each side. */
const MOST_CELLS = 100;
/** Cells of its tile that the segments may lie in, for each segment. */
const MOST_CELLS_EACH = 12;
/** Pairs that are listed, for each segment. */
const MOST_PAIRS_EACH = 2;
/** Pairs whose boxes may be compared, for each segment. */
const MOST_COMPARED_EACH = 250;

/** Two that come within a distance meet when each is widened by half of it; a little more, for what arithmetic loses. */
const HALF = 0.501;

/** Which segments may run along which. */
export interface Meetings {
  /** For each segment how many others may run along it; no more than `mostEach` is counted. */
  readonly times: Uint8Array;
  /** `later × count + earlier` for each pair, in no order; null where there are very many. */
  readonly pairs: Float64Array | null;
}

/**
 * Finds the pairs of segments of which a part may run along a part of the other, among millions that are much alike: most of them run alone,
 * and to find that out in small squares of the sheet takes a fraction of what an index takes. Null where they are not alike enough for that,
 * in length or in how they are spread: nothing is said then of any. The work is bounded by the number of segments.
 * @param meanMm mean length of a segment
 * @param mostEach up to 255
 */
export function meetingsOf(
  segments: Segments,
  allowance: Float32Array,
  apartness: Apartness,
  toleranceMm: number,
  meanMm: number,
  mostEach: number,
): Meetings | null {
  const padMm = toleranceMm + ROUNDING;
  const tiles = tilesOf(segments, HALF * padMm, TILE_LENGTHS * meanMm);
  if (tiles === null) return null;
  const search = new TileSearch(segments, allowance, apartness, padMm, mostEach, tiles.grid);
  for (let tile = 0; tile + 1 < tiles.start.length; tile++) {
    if (!search.compare(tiles.members.subarray(tiles.start[tile]!, tiles.start[tile + 1]!), tile)) return null;
  }
  return search.meetings();
}

/** Numbers that are kept of each segment of a tile: its box. */
const WIDTH = 4;
const [MIN_X, MIN_Y, MAX_X, MAX_Y] = [0, 1, 2, 3];

/** Compares the segments of one tile after the other, those of each in cells that hold few. */
class TileSearch {
  readonly #times: Uint8Array;
  readonly #mostEach: number;
  readonly #grid: Grid;
  /** Of the tile at hand. */
  #number = 0;
  #pairs = new Float64Array(1024);
  #pairCount = 0;
  /** Whether there are more pairs than are listed. */
  #tooMany = false;
  /** Pairs whose boxes may still be compared. */
  #left: number;
  readonly #segments: Segments;
  readonly #directions: Directions;
  readonly #apartness: Apartness;
  readonly #pad: number;
  /** Of the tile at hand, by number in it: what is known of each segment, and its first and last column, first and last row of cells. */
  #known = new Float64Array(WIDTH);
  #cells = new Uint8Array(4);
  #directionsOf = new Int32Array(1);
  /** Those of cell c are `#members[start[c]]` and what follows, by their number in the tile, each with its directions. */
  #start = new Uint32Array(1);
  #members = new Uint32Array(1);
  #directionsAt = new Int32Array(1);

  constructor(
    segments: Segments,
    allowance: Float32Array,
    apartness: Apartness,
    padMm: number,
    mostEach: number,
    grid: Grid,
  ) {
    this.#times = new Uint8Array(segments.count);
    this.#mostEach = mostEach;
    this.#grid = grid;
    this.#segments = segments;
    this.#directions = new Directions(segments, allowance);
    this.#apartness = apartness;
    this.#pad = padMm;
    this.#left = MOST_COMPARED_EACH * segments.count;
  }

  meetings(): Meetings {
    return { times: this.#times, pairs: this.#tooMany ? null : this.#pairs.subarray(0, this.#pairCount) };
  }

  /** False when it would take too long. */
  compare(tile: Uint32Array, number: number): boolean {
    this.#number = number;
    const side = Math.min(MOST_CELLS, Math.ceil(Math.sqrt(tile.length / PER_CELL)));
    this.#learn(tile);
    if (!this.#shareOut(tile.length, side)) return false;
    for (let row = 0; row < side; row++) {
      for (let column = 0; column < side; column++) {
        const end = this.#start[row * side + column + 1]!;
        for (let at = this.#start[row * side + column]!; at < end; at++) {
          this.#left -= end - at;
          if (this.#left < 0) return false;
          this.#compareWithRest(tile, at, end, column, row);
        }
      }
    }
    return true;
  }

  /** Compares an entry of a cell with those behind it. */
  #compareWithRest(tile: Uint32Array, at: number, end: number, column: number, row: number): void {
    const known = this.#known;
    const cells = this.#cells;
    const members = this.#members;
    const a = members[at]!;
    const minX = known[WIDTH * a + MIN_X]! - this.#pad;
    const minY = known[WIDTH * a + MIN_Y]! - this.#pad;
    const maxX = known[WIDTH * a + MAX_X]! + this.#pad;
    const maxY = known[WIDTH * a + MAX_Y]! + this.#pad;
    const directionsAt = this.#directionsAt;
    const directions = directionsAt[at]!;
    const i = tile[a]!;
    for (let k = at + 1; k < end; k++) {
      // Most run in other directions: what is nearly always so costs a processor least to ask.
      if ((directionsAt[k]! & directions) === 0) continue;
      const b = members[k]!;
      const of = WIDTH * b;
      if (known[of + MIN_X]! > maxX || known[of + MAX_X]! < minX) continue;
      if (known[of + MIN_Y]! > maxY || known[of + MAX_Y]! < minY) continue;
      // Two that share several cells are compared in the first.
      if (Math.max(cells[4 * a]!, cells[4 * b]!) !== column || Math.max(cells[4 * a + 2]!, cells[4 * b + 2]!) !== row)
        continue;
      const j = tile[b]!;
      if (this.#apartness.areApart(Math.min(i, j), Math.max(i, j))) continue;
      if (this.#isFirstTile(a, b)) this.#keep(i, j);
    }
  }

  /** Whether two that share several tiles have the tile at hand as their first. */
  #isFirstTile(a: number, b: number): boolean {
    const { fromX, fromY, halfMm, perMm, columns } = this.#grid;
    const minX = Math.max(this.#known[WIDTH * a + MIN_X]!, this.#known[WIDTH * b + MIN_X]!);
    const minY = Math.max(this.#known[WIDTH * a + MIN_Y]!, this.#known[WIDTH * b + MIN_Y]!);
    const column = ((minX - (fromX + halfMm)) * perMm) | 0;
    const row = ((minY - (fromY + halfMm)) * perMm) | 0;
    return row * columns + column === this.#number;
  }

  #keep(i: number, j: number): void {
    const times = this.#times;
    if (times[i]! < this.#mostEach) times[i]!++;
    if (times[j]! < this.#mostEach) times[j]!++;
    this.#tooMany ||= this.#pairCount === MOST_PAIRS_EACH * this.#segments.count;
    if (this.#tooMany) return;
    if (this.#pairCount === this.#pairs.length) this.#pairs = grown(this.#pairs, 4 * this.#pairCount);
    this.#pairs[this.#pairCount++] = Math.max(i, j) * this.#segments.count + Math.min(i, j);
  }

  #learn(tile: Uint32Array): void {
    const { x0, y0, x1, y1 } = this.#segments;
    if (WIDTH * tile.length > this.#known.length) {
      this.#known = new Float64Array(2 * WIDTH * tile.length);
      this.#cells = new Uint8Array(8 * tile.length);
      this.#directionsOf = new Int32Array(2 * tile.length);
    }
    const known = this.#known;
    for (let k = 0; k < tile.length; k++) {
      const i = tile[k]!;
      known[WIDTH * k + MIN_X] = Math.min(x0[i]!, x1[i]!);
      known[WIDTH * k + MIN_Y] = Math.min(y0[i]!, y1[i]!);
      known[WIDTH * k + MAX_X] = Math.max(x0[i]!, x1[i]!);
      known[WIDTH * k + MAX_Y] = Math.max(y0[i]!, y1[i]!);
      this.#directionsOf[k] = this.#directions.of(i);
    }
  }

  /** Puts the segments of a tile into side × side cells. False when they lie in too many. */
  #shareOut(count: number, side: number): boolean {
    const known = this.#known;
    let left = Infinity;
    let low = Infinity;
    let right = -Infinity;
    let high = -Infinity;
    for (let k = 0; k < count; k++) {
      left = Math.min(left, known[WIDTH * k + MIN_X]!);
      low = Math.min(low, known[WIDTH * k + MIN_Y]!);
      right = Math.max(right, known[WIDTH * k + MAX_X]!);
      high = Math.max(high, known[WIDTH * k + MAX_Y]!);
    }
    const wide = 2 * HALF * this.#pad;
    const perX = side / (right - left + 2 * wide);
    const perY = side / (high - low + 2 * wide);
    if (this.#start.length <= side * side) this.#start = new Uint32Array(side * side + 1);
    const start = this.#start.fill(0, 0, side * side + 1);
    const cells = this.#cells;
    for (let k = 0; k < count; k++) {
      const first = ((known[WIDTH * k + MIN_X]! - left) * perX) | 0;
      const last = ((known[WIDTH * k + MAX_X]! - left + wide) * perX) | 0;
      const firstRow = ((known[WIDTH * k + MIN_Y]! - low) * perY) | 0;
      const lastRow = ((known[WIDTH * k + MAX_Y]! - low + wide) * perY) | 0;
      cells[4 * k] = first;
      cells[4 * k + 1] = last;
      cells[4 * k + 2] = firstRow;
      cells[4 * k + 3] = lastRow;
      for (let row = firstRow; row <= lastRow; row++)
        for (let column = first; column <= last; column++) start[row * side + column]!++;
    }
    for (let cell = 1; cell <= side * side; cell++) start[cell]! += start[cell - 1]!;
    const entries = start[side * side]!;
    if (entries > MOST_CELLS_EACH * count) return false;
    if (entries > this.#members.length) {
      this.#members = new Uint32Array(2 * entries);
      this.#directionsAt = new Int32Array(2 * entries);
    }
    const members = this.#members;
    const directionsAt = this.#directionsAt;
    for (let k = 0; k < count; k++) {
      const directions = this.#directionsOf[k]!;
      for (let row = cells[4 * k + 2]!; row <= cells[4 * k + 3]!; row++) {
        for (let column = cells[4 * k]!; column <= cells[4 * k + 1]!; column++) {
          const at = --start[row * side + column]!;
          members[at] = k;
          directionsAt[at] = directions;
        }
      }
    }
    return true;
  }
}
