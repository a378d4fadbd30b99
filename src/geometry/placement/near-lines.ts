import { SegmentIndex } from '../index/segment-index.ts';
import { boxOfSegments, type Segments } from '../segments/segments.ts';
import { LineSquares } from './line-squares.ts';

/** Lines whose directions differ by more than 25° are not the same line, whatever the flattening. */
const SAME_DIRECTION = Math.sin(25 * (Math.PI / 180));

/** A place on a line, mm, with the unit direction of the line there. One is filled anew for each of many thousand places. */
export interface PlaceOnLine {
  x: number;
  y: number;
  ux: number;
  uy: number;
}

export const newPlaceOnLine = (): PlaceOnLine => ({ x: 0, y: 0, ux: 0, uy: 0 });

/** The nearest line to a place. */
export interface Hit {
  /** Distance, mm; infinite when nothing is near. */
  distanceMm: number;
  /** From the place asked for to the line. */
  dx: number;
  dy: number;
  /** Unit normal of the line. */
  nx: number;
  ny: number;
}

const newHit = (): Hit => ({ distanceMm: Infinity, dx: 0, dy: 0, nx: 0, ny: 0 });

/** The lines of a drawing, to find those near a place that run in about the same direction as the line there. */
export class NearLines {
  readonly #segments: Segments;
  readonly #squares: LineSquares | null;
  /** Where squares are of no use. */
  readonly #index: SegmentIndex | null;
  readonly #minX: number;
  readonly #minY: number;
  readonly #maxX: number;
  readonly #maxY: number;
  /** What `nearest` found last. */
  readonly hit = newHit();
  /** Square of the least distance so far, mm², and the segment that has it; one past the last where none has. */
  #bestMm2 = 0;
  #best = 0;

  constructor(segments: Segments) {
    this.#segments = segments;
    const box = boxOfSegments(segments) ?? { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
    this.#minX = box.minX;
    this.#minY = box.minY;
    this.#maxX = box.maxX;
    this.#maxY = box.maxY;
    this.#squares = segments.count === 0 ? null : LineSquares.of(segments, box);
    this.#index = this.#squares ? null : new SegmentIndex(segments, 1);
  }

  /** The nearest line within reach; of some that are equally near the first. The answer is filled anew by the next call. */
  nearest(at: PlaceOnLine, reachMm: number): Hit {
    const { hit } = this;
    hit.distanceMm = Infinity;
    if (this.#search(at, reachMm, -1)) this.#fill(at);
    return hit;
  }

  /** Whether any line lies within reach. */
  isNear(at: PlaceOnLine, reachMm: number): boolean {
    return this.#search(at, reachMm, reachMm * reachMm);
  }

  /** Finds the nearest line within reach, or any whose distance squared is at most `enoughMm2`. Whether there is one. */
  #search(at: PlaceOnLine, reachMm: number, enoughMm2: number): boolean {
    const { x, y } = at;
    const left = x - reachMm;
    const right = x + reachMm;
    const low = y - reachMm;
    const high = y + reachMm;
    if (!(right >= this.#minX && left <= this.#maxX && high >= this.#minY && low <= this.#maxY)) return false;
    const none = this.#segments.count;
    this.#bestMm2 = reachMm * reachMm;
    this.#best = none;
    const squares = this.#squares;
    if (squares === null) {
      const index = this.#index!;
      const found = index.search(x, y, x, y, reachMm);
      this.#among(found, 0, index.foundCount, at, enoughMm2);
      return this.#best !== none;
    }
    const { starts, columns } = squares;
    const first = squares.columnAt(left);
    const end = squares.columnAt(right) + 1;
    const lastRow = squares.rowAt(high);
    for (let row = squares.rowAt(low); row <= lastRow; row++) {
      const from = starts[row * columns + first]!;
      const to = starts[row * columns + end]!;
      if (from !== to && this.#among(squares.entries, from, to, at, enoughMm2)) return true;
    }
    return this.#best !== none;
  }

  /** Goes through some segments, until one is near enough. True when one is. */
  #among(list: Uint32Array | Int32Array, from: number, to: number, at: PlaceOnLine, enoughMm2: number): boolean {
    const { x0, y0, x1, y1 } = this.#segments;
    const { x, y, ux, uy } = at;
    for (let k = from; k < to; k++) {
      const e = list[k]!;
      const ax = x0[e]!;
      const ay = y0[e]!;
      const ex = x1[e]! - ax;
      const ey = y1[e]! - ay;
      const squared = ex * ex + ey * ey;
      const cross = ux * ey - uy * ex;
      if (cross * cross > SAME_DIRECTION * SAME_DIRECTION * squared) continue;
      const along = ((x - ax) * ex + (y - ay) * ey) / squared;
      const share = Math.min(1, Math.max(0, along));
      const dx = ax + share * ex - x;
      const dy = ay + share * ey - y;
      const far = dx * dx + dy * dy;
      if (far > this.#bestMm2 || (far === this.#bestMm2 && e >= this.#best)) continue;
      this.#bestMm2 = far;
      this.#best = e;
      if (far <= enoughMm2) return true;
    }
    return false;
  }

  /** What is told of the nearest line. */
  #fill({ x, y }: PlaceOnLine): void {
    const { hit } = this;
    const { x0, y0, x1, y1 } = this.#segments;
    const e = this.#best;
    const ex = x1[e]! - x0[e]!;
    const ey = y1[e]! - y0[e]!;
    const squared = ex * ex + ey * ey;
    const share = Math.min(1, Math.max(0, ((x - x0[e]!) * ex + (y - y0[e]!) * ey) / squared));
    const length = Math.sqrt(squared);
    hit.distanceMm = Math.sqrt(this.#bestMm2);
    hit.dx = x0[e]! + share * ex - x;
    hit.dy = y0[e]! + share * ey - y;
    hit.nx = -ey / length;
    hit.ny = ex / length;
  }
}
