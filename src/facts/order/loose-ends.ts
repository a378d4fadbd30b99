import { SegmentIndex } from '../../geometry/index/segment-index.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import { distanceToSegment, type Segments } from '../../geometry/segments/segments.ts';
import type { StrokeContour } from '../strokes/stroke-contours.ts';

/** A loose end this near to another cut ends on it: half a kerf and what programs round, mm. */
const ON_ANOTHER_MM = 0.3;
const ON_ANOTHER_SQUARED = ON_ANOTHER_MM * ON_ANOTHER_MM;
/** More than arithmetic loses of a square, as a share. */
const ROUNDING = 1e-9;
/** Parts of the index, mm: ends have no length. */
const PART_MM = 1;
/** Consecutive segments of a contour that are searched for together. */
const TOGETHER = 8;
/** Of so few ends no smaller index is made. */
const FEW = 64;
/** Side of the squares in which it is known whether any end is loose, mm. */
const SQUARE_MM = 1;
/** Of so many squares at most it is asked; a larger box goes to the index. */
const MOST_SQUARES = 64;

/**
 * Numbers of the open contours with an end that does not lie on another contour, ascending. The ends are indexed and all
 * contours pass by them: ends are few beside what they may lie on.
 */
export function looseEnds(contours: readonly StrokeContour[]): number[] {
  const search = new EndSearch(endsOfOpen(contours));
  for (let c = 0; c < contours.length && search.left > 0; c++) {
    const { xy, closed } = contours[c]!;
    const points = xy.length >> 1;
    const segments = closed ? points : points - 1;
    for (let from = 0; from < segments; from += TOGETHER) {
      search.takeThoseOn(c, xy, from, Math.min(from + TOGETHER, segments));
    }
  }
  return search.owners();
}

/** Ends that nothing was found at so far. */
class EndSearch {
  /** How many there are. */
  left: number;
  #ends: Segments;
  #index: SegmentIndex;
  /** 1 for the indexed ends that are still loose. */
  #loose: Uint8Array;
  readonly #squares: LooseSquares;
  readonly #box: Box = { minX: 0, minY: 0, maxX: 0, maxY: 0 };

  constructor(ends: Segments) {
    this.left = ends.count;
    this.#ends = ends;
    this.#index = new SegmentIndex(ends, PART_MM);
    this.#loose = new Uint8Array(ends.count).fill(1);
    this.#squares = new LooseSquares(ends);
  }

  /** Takes the ends that lie on segments `from … to − 1` of contour `c` from the loose ones. */
  takeThoseOn(c: number, xy: Float64Array, from: number, to: number): void {
    const { x0, y0, owner } = this.#ends;
    const box = layAround(this.#box, xy, from, to);
    if (this.#squares.areEmpty(box)) return;
    const near = this.#index.searchBox(box, ON_ANOTHER_MM);
    for (let k = 0; k < this.#index.foundCount; k++) {
      const end = near[k]!;
      if (this.#loose[end] === 0 || owner[end] === c) continue;
      if (!passesBy(x0[end]!, y0[end]!, xy, from, to)) continue;
      this.#loose[end] = 0;
      this.#squares.take(x0[end]!, y0[end]!);
      this.left--;
    }
    // Where contours are crowded most ends are soon found to lie on one: what is left is looked for alone.
    if (2 * this.left < this.#loose.length && this.#loose.length > FEW) this.#indexThoseLeft();
  }

  /** Contours of the ends that are left, ascending. */
  owners(): number[] {
    const open = new Set<number>();
    for (let end = 0; end < this.#loose.length; end++) if (this.#loose[end] === 1) open.add(this.#ends.owner[end]!);
    return [...open];
  }

  #indexThoseLeft(): void {
    const { x0, y0, owner } = this.#ends;
    const isLeft = (_: number, end: number): boolean => this.#loose[end] === 1;
    const x = x0.filter(isLeft);
    const y = y0.filter(isLeft);
    this.#ends = { count: x.length, x0: x, y0: y, x1: x, y1: y, owner: owner.filter(isLeft), ignored: 0 };
    this.#index = new SegmentIndex(this.#ends, PART_MM);
    this.#loose = new Uint8Array(x.length).fill(1);
  }
}

/**
 * How many ends are loose in each square of the sheet: where contours are crowded there are soon none left in most, and to know that takes
 * less than a search. Squares are hashed, so that some are taken for others.
 */
class LooseSquares {
  readonly #mask: number;
  readonly #counts: Uint32Array;

  constructor({ count, x0, y0 }: Segments) {
    let size = 64;
    while (size < 4 * count) size *= 2;
    this.#mask = size - 1;
    this.#counts = new Uint32Array(size);
    for (let end = 0; end < count; end++) this.#counts[this.#squareOf(squareOf(x0[end]!), squareOf(y0[end]!))]!++;
  }

  /** An end at this place is loose no more. */
  take(x: number, y: number): void {
    this.#counts[this.#squareOf(squareOf(x), squareOf(y))]!--;
  }

  /** True when no loose end is within reach of a box; false when one may be. */
  areEmpty({ minX, minY, maxX, maxY }: Box): boolean {
    const first = squareOf(minX - ON_ANOTHER_MM);
    const columns = squareOf(maxX + ON_ANOTHER_MM) - first + 1;
    const firstRow = squareOf(minY - ON_ANOTHER_MM);
    const rows = squareOf(maxY + ON_ANOTHER_MM) - firstRow + 1;
    if (!(columns * rows <= MOST_SQUARES)) return false;
    for (let row = 0; row < rows; row++)
      for (let column = 0; column < columns; column++)
        if (this.#counts[this.#squareOf(first + column, firstRow + row)] !== 0) return false;
    return true;
  }

  #squareOf(column: number, row: number): number {
    return (Math.imul(column, 73856093) ^ Math.imul(row, 19349663)) & this.#mask;
  }
}

const squareOf = (mm: number): number => Math.floor(mm / SQUARE_MM);

/** Lays a box around points `from … to` of a contour; the one after the last is the first. */
function layAround(box: Box, xy: Float64Array, from: number, to: number): Box {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let point = from; point <= to; point++) {
    const at = 2 * point === xy.length ? 0 : 2 * point;
    minX = Math.min(minX, xy[at]!);
    minY = Math.min(minY, xy[at + 1]!);
    maxX = Math.max(maxX, xy[at]!);
    maxY = Math.max(maxY, xy[at + 1]!);
  }
  box.minX = minX;
  box.minY = minY;
  box.maxX = maxX;
  box.maxY = maxY;
  return box;
}

/** Whether one of the segments `from … to − 1` of a contour comes near to a place. */
function passesBy(x: number, y: number, xy: Float64Array, from: number, to: number): boolean {
  for (let i = from; i < to; i++) {
    const next = 2 * i + 2 === xy.length ? 0 : 2 * i + 2;
    if (isOn(x, y, xy[2 * i]!, xy[2 * i + 1]!, xy[next]!, xy[next + 1]!)) return true;
  }
  return false;
}

/** Whether a place is within reach of a segment: by squares, and by the distance itself only where it is near the border. */
function isOn(x: number, y: number, x0: number, y0: number, x1: number, y1: number): boolean {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const squared = dx * dx + dy * dy;
  const share = squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / squared));
  const offX = x - x0 - share * dx;
  const offY = y - y0 - share * dy;
  const off = offX * offX + offY * offY;
  if (off > ON_ANOTHER_SQUARED * (1 + ROUNDING)) return false;
  if (off < ON_ANOTHER_SQUARED * (1 - ROUNDING)) return true;
  return distanceToSegment(x, y, x0, y0, x1, y1) <= ON_ANOTHER_MM;
}

/** The two ends of each open contour as segments without length, owned by the contour. */
function endsOfOpen(contours: readonly StrokeContour[]): Segments {
  const open = Array.from(contours.keys()).filter((c) => !contours[c]!.closed);
  const x = new Float64Array(2 * open.length);
  const y = new Float64Array(2 * open.length);
  const owner = new Uint32Array(2 * open.length);
  for (const [k, c] of open.entries()) {
    const { xy } = contours[c]!;
    x.set([xy[0]!, xy[xy.length - 2]!], 2 * k);
    y.set([xy[1]!, xy[xy.length - 1]!], 2 * k);
    owner.fill(c, 2 * k, 2 * k + 2);
  }
  return { count: x.length, x0: x, y0: y, x1: x, y1: y, owner, ignored: 0 };
}
