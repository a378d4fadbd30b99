import { grown } from './grown.ts';
import { boxOfSegments, type Segments, totalLengthMm } from './segments.ts';

/** What a walk over the cells of a piece does in each of them. */
const COUNT = 0;
const INSERT = 1;
const SEARCH = 2;

/** Cells are widened by what arithmetic may lose, mm. */
const EDGE_MM = 1e-9;

/** Cells that are kept apart; of more, distant ones share a place. */
const MOST_PLACES = 1 << 22;

/** Blocks of cells have 2³ × 2³ of them. */
const BLOCK = 3;
const IN_BLOCK = (1 << BLOCK) - 1;

type Pieces = Pick<Segments, 'x0' | 'y0' | 'x1' | 'y1'>;

/**
 * A spatial index for segments that may be put in while it is searched: square cells, each with room for all segments
 * that pass through it. The cells lie in memory block by block, so that what is near on the sheet is near in the index.
 * Two cells that share a place only cost a few needless candidates, since callers measure every one.
 */
export class SegmentGrid {
  readonly cellMm: number;
  readonly #segments: Segments;
  readonly #padMm: number;
  readonly #cellsPerMm: number;
  /** Rows and columns of cells that hold anything: searches end there, however far they were asked to reach. */
  readonly #lowRow: number;
  readonly #highRow: number;
  readonly #lowColumn: number;
  readonly #highColumn: number;
  readonly #blocksInRow: number;
  /** Place p holds `#items[#from[p]] … #items[#to[p] - 1]`. */
  readonly #mask: number;
  readonly #from: Int32Array;
  readonly #to: Int32Array;
  readonly #items: Int32Array;
  #used = 0;
  /** The piece that is searched for, and how far around it. */
  readonly #sought: Pieces = {
    x0: new Float64Array(1),
    y0: new Float64Array(1),
    x1: new Float64Array(1),
    y1: new Float64Array(1),
  };
  #searchPadMm = 0;
  #stamps: Int32Array | null = null;
  #stamp = 0;
  #found = new Int32Array(256);
  #foundCount = 0;

  /**
   * Makes room for the segments; `insert` puts them in, each into all cells within `padMm` of it. The cells are widened
   * when the segments are so long that cells of `cellMm` would need far more entries than there are segments.
   */
  constructor(segments: Segments, cellMm: number, padMm = 0) {
    const { count } = segments;
    const lengthMm = totalLengthMm(segments);
    const mostCells = Math.min(4_000_000, 200_000 + 32 * count);
    this.#segments = segments;
    this.#padMm = padMm;
    this.cellMm = Math.max(cellMm, lengthMm / mostCells);
    this.#cellsPerMm = 1 / this.cellMm;
    const box = boxOfSegments(segments) ?? { minX: 0, minY: 0, maxX: -1, maxY: -1 };
    this.#lowRow = this.#cellOf(box.minY - padMm);
    this.#highRow = this.#cellOf(box.maxY + padMm);
    this.#lowColumn = this.#cellOf(box.minX - padMm - EDGE_MM);
    this.#highColumn = this.#cellOf(box.maxX + padMm + EDGE_MM);
    this.#blocksInRow = ((this.#highColumn - this.#lowColumn) >> BLOCK) + 1;
    const cells = this.#blocksInRow * (((this.#highRow - this.#lowRow) >> BLOCK) + 1) * (IN_BLOCK + 1) ** 2;
    const wanted = Math.min(cells, Math.max(1024, count + lengthMm * this.#cellsPerMm), MOST_PLACES);
    let places = 1;
    while (places < wanted) places *= 2;
    this.#mask = places - 1;
    this.#from = new Int32Array(places);
    this.#to = new Int32Array(places);
    this.#items = new Int32Array(this.#makeRoom());
  }

  /** Puts in segment i, once. */
  insert(i: number): void {
    this.#walk(this.#segments, i, INSERT);
  }

  /** Puts in all segments. */
  insertAll(): this {
    for (let i = 0; i < this.#segments.count; i++) this.#walk(this.#segments, i, INSERT);
    return this;
  }

  /** Takes all segments out again. */
  clear(): void {
    this.#to.set(this.#from);
    this.#used = 0;
  }

  /** Shows each place that holds two segments or more: `items[from] … items[to - 1]`, in the order they were put in. */
  eachPlace(visit: (items: Int32Array, from: number, to: number) => void): void {
    for (let place = 0; place <= this.#mask; place++) {
      const from = this.#from[place]!;
      const to = this.#to[place]!;
      if (to - from > 1) visit(this.#items, from, to);
    }
  }

  /**
   * Collects the segments whose cells lie within `padMm` of the piece, each once. The returned array is reused by the next
   * call; only the first `foundCount` entries count.
   */
  search(x0: number, y0: number, x1: number, y1: number, padMm: number): Int32Array {
    this.#stamps ??= new Int32Array(this.#segments.count);
    this.#stamp++;
    this.#foundCount = 0;
    const reach = 2 * padMm * this.#cellsPerMm + 2;
    const cells = ((Math.abs(x1 - x0) + Math.abs(y1 - y0)) * this.#cellsPerMm + reach) * reach;
    if (cells <= this.#used + 64) {
      this.#sought.x0[0] = x0;
      this.#sought.y0[0] = y0;
      this.#sought.x1[0] = x1;
      this.#sought.y1[0] = y1;
      this.#searchPadMm = padMm;
      this.#walk(this.#sought, 0, SEARCH);
    }
    // So wide a search would meet more empty cells than there are entries, or none at all if it is not finite.
    else for (let place = 0; place <= this.#mask; place++) this.#gather(place);
    return this.#found;
  }

  get foundCount(): number {
    return this.#foundCount;
  }

  #cellOf(mm: number): number {
    return Math.floor(mm * this.#cellsPerMm);
  }

  /** Counts what each place will hold and lays the places side by side; answers with the entries of all. */
  #makeRoom(): number {
    for (let i = 0; i < this.#segments.count; i++) this.#walk(this.#segments, i, COUNT);
    let at = 0;
    for (let place = 0; place <= this.#mask; place++) {
      const count = this.#to[place]!;
      this.#from[place] = at;
      this.#to[place] = at;
      at += count;
    }
    return at;
  }

  /** Does something in each cell of piece i. The coordinates stay in their arrays: as arguments they would be boxed. */
  #walk(pieces: Pieces, i: number, what: number): void {
    const x0 = pieces.x0[i]!;
    const y0 = pieces.y0[i]!;
    const x1 = pieces.x1[i]!;
    const y1 = pieces.y1[i]!;
    const pad = what === SEARCH ? this.#searchPadMm : this.#padMm;
    const cellsPerMm = this.#cellsPerMm;
    const lowX = Math.min(x0, x1);
    const highX = Math.max(x0, x1);
    const lowY = Math.min(y0, y1);
    const highY = Math.max(y0, y1);
    const firstRow = Math.max(Math.floor((lowY - pad) * cellsPerMm), this.#lowRow);
    const lastRow = Math.min(Math.floor((highY + pad) * cellsPerMm), this.#highRow);
    const most = Math.floor((highX + pad + EDGE_MM) * cellsPerMm);
    const least = Math.floor((lowX - pad - EDGE_MM) * cellsPerMm);
    const dy = y1 - y0;
    // In one row, one column or four cells there is none that the piece is far from.
    const rows = lastRow - firstRow;
    const bulky = dy !== 0 && rows > 0 && most > least && (rows > 1 || most - least > 1);
    for (let row = firstRow; row <= lastRow; row++) {
      let first = least;
      let last = most;
      if (bulky) {
        // The share of the piece inside this row of cells, widened by the pad.
        const a = clamp01((row * this.cellMm - pad - EDGE_MM - y0) / dy);
        const b = clamp01(((row + 1) * this.cellMm + pad + EDGE_MM - y0) / dy);
        const atA = x0 + (x1 - x0) * a;
        const atB = x0 + (x1 - x0) * b;
        first = Math.floor((Math.min(atA, atB) - pad - EDGE_MM) * cellsPerMm);
        last = Math.floor((Math.max(atA, atB) + pad + EDGE_MM) * cellsPerMm);
      }
      if (first < this.#lowColumn) first = this.#lowColumn;
      if (last > this.#highColumn) last = this.#highColumn;
      const down = row - this.#lowRow;
      const rowPlace = (Math.imul(down >> BLOCK, this.#blocksInRow) << (2 * BLOCK)) + ((down & IN_BLOCK) << BLOCK);
      for (let column = first; column <= last; column++) {
        const along = column - this.#lowColumn;
        const place = (rowPlace + ((along >> BLOCK) << (2 * BLOCK)) + (along & IN_BLOCK)) & this.#mask;
        if (what === SEARCH) this.#gather(place);
        else if (what === COUNT) this.#to[place]!++;
        else {
          this.#items[this.#to[place]!++] = i;
          this.#used++;
        }
      }
    }
  }

  /** Notes what lies in a place, the last put in first. */
  #gather(place: number): void {
    const from = this.#from[place]!;
    const stamps = this.#stamps!;
    for (let at = this.#to[place]! - 1; at >= from; at--) {
      const item = this.#items[at]!;
      if (stamps[item] === this.#stamp) continue;
      stamps[item] = this.#stamp;
      if (this.#foundCount === this.#found.length) this.#found = grown(this.#found, 2 * this.#foundCount);
      this.#found[this.#foundCount++] = item;
    }
  }
}

const clamp01 = (v: number): number => Math.min(1, Math.max(0, v));
