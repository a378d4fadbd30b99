import { SegmentIndex } from '../../geometry/index/segment-index.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import { distanceToSegment, type Segments } from '../../geometry/segments/segments.ts';

/** A loose end this near to another cut ends on it: half a kerf and what programs round, mm. */
const ON_ANOTHER_MM = 0.3;
const ON_ANOTHER_SQUARED = ON_ANOTHER_MM * ON_ANOTHER_MM;
/** More than arithmetic loses of a square, as a share. */
const ROUNDING = 1e-9;
/** More than that by what arithmetic loses on coordinates of a kilometre, mm. */
const REACH_MM = ON_ANOTHER_MM + 1e-6;
/** Side of the squares of the sheet that ends are kept by, mm. */
const SQUARE_MM = 1;
/** A box across more squares goes to an index. */
const MOST_SQUARES = 128;
/** Parts of the index, mm: ends have no length. */
const PART_MM = 1;
/** Of so few ends no smaller index is made. */
const FEW = 64;

/** No end. */
const NONE = -1;

/**
 * Ends that nothing was found at so far, in lists by the square of the sheet that they lie in. Squares are hashed, so that some share a list.
 * An end that something was found at is taken out, and where contours are crowded there are soon none left in most.
 */
export class EndSearch {
  /** How many there are. */
  left: number;
  readonly #ends: Segments;
  /** 1 for the ends that are still loose. */
  readonly #loose: Uint8Array;
  readonly #mask: number;
  /** The first end of each list, and the next after each end. */
  readonly #first: Int32Array;
  readonly #next: Int32Array;
  /** For what reaches across many squares: made when it is asked for, and how many ends were left then. */
  #index: SegmentIndex | null = null;
  #indexed = 0;
  /** Around the segments at hand, and what is within reach of them. */
  readonly #box: Box = { minX: 0, minY: 0, maxX: 0, maxY: 0 };

  /** @param ends segments without length, owned by their contours in ascending order */
  constructor(ends: Segments) {
    const { count, x0, y0 } = ends;
    this.left = count;
    this.#ends = ends;
    this.#loose = new Uint8Array(count).fill(1);
    let lists = 64;
    while (lists < 4 * count) lists *= 2;
    this.#mask = lists - 1;
    this.#first = new Int32Array(lists).fill(NONE);
    this.#next = new Int32Array(count);
    for (let end = 0; end < count; end++) {
      const list = this.#listOf(squareOf(x0[end]!), squareOf(y0[end]!));
      this.#next[end] = this.#first[list]!;
      this.#first[list] = end;
    }
  }

  /** Takes the ends that lie on segments `from … to − 1` of contour `c` from the loose ones; the point after the last is the first. */
  takeThoseOn(c: number, xy: Float64Array, from: number, to: number): void {
    const box = this.#layBox(xy, from, to);
    const column = squareOf(box.minX);
    const columns = squareOf(box.maxX) - column + 1;
    const row = squareOf(box.minY);
    const rows = squareOf(box.maxY) - row + 1;
    if (!(columns * rows <= MOST_SQUARES)) {
      this.#takeByIndex(c, xy, from, to);
      return;
    }
    for (let r = 0; r < rows; r++) {
      for (let k = 0; k < columns; k++) {
        const list = this.#listOf(column + k, row + r);
        if (this.#first[list] !== NONE) this.#takeFromList(list, c, xy, from, to);
      }
    }
  }

  /** Contours of the ends that are left, ascending. */
  owners(): number[] {
    const open = new Set<number>();
    for (let end = 0; end < this.#loose.length; end++) if (this.#loose[end] === 1) open.add(this.#ends.owner[end]!);
    return [...open];
  }

  #takeFromList(list: number, c: number, xy: Float64Array, from: number, to: number): void {
    let before = NONE;
    for (let end = this.#first[list]!; end !== NONE; end = this.#next[end]!) {
      this.#takeIfOn(end, c, xy, from, to);
      if (this.#loose[end] === 1) before = end;
      else if (before === NONE) this.#first[list] = this.#next[end]!;
      else this.#next[before] = this.#next[end]!;
    }
  }

  /** Lays `#box` around points of a contour and what is within reach of them. */
  #layBox(xy: Float64Array, from: number, to: number): Box {
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
    const box = this.#box;
    box.minX = minX - REACH_MM;
    box.minY = minY - REACH_MM;
    box.maxX = maxX + REACH_MM;
    box.maxY = maxY + REACH_MM;
    return box;
  }

  #takeByIndex(c: number, xy: Float64Array, from: number, to: number): void {
    // What is left is looked for alone once it is less than half.
    if (this.#index === null || (2 * this.left < this.#indexed && this.#indexed > FEW)) {
      this.#index = new SegmentIndex(this.#ends, PART_MM, this.#numbersOfThoseLeft());
      this.#indexed = this.left;
    }
    const near = this.#index.searchBox(this.#box, 0);
    for (let k = 0; k < this.#index.foundCount; k++) this.#takeIfOn(near[k]!, c, xy, from, to);
  }

  #numbersOfThoseLeft(): Uint32Array {
    const numbers = new Uint32Array(this.left);
    let at = 0;
    for (let end = 0; end < this.#loose.length; end++) if (this.#loose[end] === 1) numbers[at++] = end;
    return numbers;
  }

  #takeIfOn(end: number, c: number, xy: Float64Array, from: number, to: number): void {
    const { x0, y0, owner } = this.#ends;
    if (this.#loose[end] === 0 || owner[end] === c) return;
    const x = x0[end]!;
    const y = y0[end]!;
    const { minX, minY, maxX, maxY } = this.#box;
    if (x < minX || x > maxX || y < minY || y > maxY) return;
    for (let i = from; i < to; i++) {
      const next = 2 * i + 2 === xy.length ? 0 : 2 * i + 2;
      if (!isOn(x, y, xy[2 * i]!, xy[2 * i + 1]!, xy[next]!, xy[next + 1]!)) continue;
      this.#loose[end] = 0;
      this.left--;
      return;
    }
  }

  #listOf(column: number, row: number): number {
    return (Math.imul(column, 73856093) ^ Math.imul(row, 19349663)) & this.#mask;
  }
}

const squareOf = (mm: number): number => Math.floor(mm / SQUARE_MM);

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
