import type { Box } from '../outlines/outline.ts';
import type { Segments } from '../segments/segments.ts';

/** Squares along the longer side of a drawing. */
const ALONG = 64;
/** A square that more lines run through is no help: the few of them that are near had to be sought among all. */
const MOST_IN_A_SQUARE = 24;
/** Entries of all squares. */
const MOST_ENTRIES = 1 << 16;
/** What rounding may do to where a line enters a square, as a share of its side. */
const SLACK = 1e-6;

/**
 * The squares of a sheet with the segments that run through each, for drawings of not too many lines: what lies around a place is found by
 * two divisions, where a tree has to be descended. What that takes counts, since small drawings are laid over each other before the engine
 * has compiled anything.
 */
export class LineSquares {
  readonly columns: number;
  readonly rows: number;
  /** Where the entries of each square begin, row by row; and the end of all. */
  readonly starts: Uint32Array;
  /** Numbers of the segments. */
  readonly entries: Uint32Array;
  readonly #minX: number;
  readonly #minY: number;
  readonly #perMm: number;

  private constructor(
    box: Box,
    sideMm: number,
    columns: number,
    rows: number,
    starts: Uint32Array,
    entries: Uint32Array,
  ) {
    this.#minX = box.minX;
    this.#minY = box.minY;
    this.#perMm = 1 / sideMm;
    this.columns = columns;
    this.rows = rows;
    this.starts = starts;
    this.entries = entries;
  }

  /** Null where there are too many lines, or too many in one place. */
  static of(segments: Segments, box: Box): LineSquares | null {
    if (segments.count > MOST_ENTRIES) return null;
    const widthMm = box.maxX - box.minX;
    const heightMm = box.maxY - box.minY;
    const sideMm = Math.max(widthMm, heightMm) / ALONG || 1;
    const columns = Math.floor(widthMm / sideMm) + 1;
    const rows = Math.floor(heightMm / sideMm) + 1;
    const squares: number[] = [];
    const numbers: number[] = [];
    const counts = new Uint32Array(columns * rows + 1);
    const perMm = 1 / sideMm;
    for (let i = 0; i < segments.count; i++) {
      const x0 = (segments.x0[i]! - box.minX) * perMm;
      const y0 = (segments.y0[i]! - box.minY) * perMm;
      const x1 = (segments.x1[i]! - box.minX) * perMm;
      const y1 = (segments.y1[i]! - box.minY) * perMm;
      const lastRow = squareAt(Math.max(y0, y1) + SLACK, rows);
      for (let row = squareAt(Math.min(y0, y1) - SLACK, rows); row <= lastRow; row++) {
        const from = xAt(x0, y0, x1, y1, row - SLACK);
        const to = xAt(x0, y0, x1, y1, row + 1 + SLACK);
        const last = squareAt(Math.max(from, to) + SLACK, columns);
        for (let column = squareAt(Math.min(from, to) - SLACK, columns); column <= last; column++) {
          const square = row * columns + column;
          if (++counts[square]! > MOST_IN_A_SQUARE) return null;
          squares.push(square);
          numbers.push(i);
        }
      }
      if (squares.length > MOST_ENTRIES) return null;
    }
    let sum = 0;
    for (let square = 0; square < counts.length; square++) {
      sum += counts[square]!;
      counts[square] = sum;
    }
    const entries = new Uint32Array(sum);
    // Filled from behind, each square's count becomes where it begins, and its segments stay in their order.
    for (let k = squares.length - 1; k >= 0; k--) entries[--counts[squares[k]!]!] = numbers[k]!;
    return new LineSquares(box, sideMm, columns, rows, counts, entries);
  }

  /** The column of a place, or the nearest one. */
  columnAt(x: number): number {
    return squareAt((x - this.#minX) * this.#perMm, this.columns);
  }

  /** The row of a place, or the nearest one. */
  rowAt(y: number): number {
    return squareAt((y - this.#minY) * this.#perMm, this.rows);
  }
}

/** The square that a place lies in, in sides from the first; the nearest where it lies in none. */
const squareAt = (sides: number, count: number): number =>
  sides < 1 ? 0 : sides >= count ? count - 1 : Math.floor(sides);

/** Where a line passes a height; at its nearer end where it does not come so far. */
function xAt(x0: number, y0: number, x1: number, y1: number, y: number): number {
  const dy = y1 - y0;
  if (dy === 0) return y < y0 ? x0 : x1;
  const share = (y - y0) / dy;
  return share <= 0 ? x0 : share >= 1 ? x1 : x0 + share * (x1 - x0);
}
