import { boxOfSegments, type Segments } from '../segments/segments.ts';

/** Segments there are for each tile at least, so that a sheet with little on it is not cut into millions. */
const LEAST_PER_TILE = 16;
/** Tiles that the segments may lie in, for each segment: where long ones lie in more, another search is better. */
const MOST_TILES_EACH = 2;

/** Segments by the squares of the sheet that they may reach into: those of tile t are `members[start[t]]` and what follows. */
export interface Tiles {
  grid: Grid;
  start: Uint32Array;
  members: Uint32Array;
}

/**
 * Puts segments into tiles, each into all that it may reach into. Null where they are so long, or spread so unevenly, that there would be
 * more tiles than segments or a segment would lie in more than two.
 * @param halfMm how far a segment reaches
 * @param wishedMm side of a tile, where that makes enough segments for each
 */
export function tilesOf(segments: Segments, halfMm: number, wishedMm: number): Tiles | null {
  const { count } = segments;
  const box = boxOfSegments(segments);
  if (box === null) return null;
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const sideMm = Math.max(wishedMm, Math.sqrt((width * height * LEAST_PER_TILE) / count), 8 * halfMm);
  const columns = Math.floor((width + 2 * halfMm) / sideMm) + 1;
  const rows = Math.floor((height + 2 * halfMm) / sideMm) + 1;
  // A drawing that is long and narrow.
  if (columns * rows > count) return null;
  const start = new Uint32Array(columns * rows + 1);
  const grid = { fromX: box.minX - halfMm, fromY: box.minY - halfMm, perMm: 1 / sideMm, halfMm, columns };
  const reach = new TileReach(segments, grid);
  let left = MOST_TILES_EACH * count;
  for (let i = 0; i < count; i++) {
    reach.of(i);
    left -= (reach.last - reach.first + 1) * (reach.lastRow - reach.firstRow + 1);
    if (left < 0) return null;
    for (let row = reach.firstRow; row <= reach.lastRow; row++)
      for (let column = reach.first; column <= reach.last; column++) start[row * columns + column]!++;
  }
  // Where each tile ends; filling it from there leaves where it begins.
  for (let tile = 1; tile < start.length; tile++) start[tile]! += start[tile - 1]!;
  const members = new Uint32Array(start[start.length - 1]!);
  for (let i = 0; i < count; i++) {
    reach.of(i);
    for (let row = reach.firstRow; row <= reach.lastRow; row++)
      for (let column = reach.first; column <= reach.last; column++) members[--start[row * columns + column]!] = i;
  }
  return { grid, start, members };
}

/** Where the tiles lie. */
export interface Grid {
  fromX: number;
  fromY: number;
  /** Tiles for each millimetre. */
  perMm: number;
  columns: number;
  halfMm: number;
}

/** The columns and rows of tiles that a segment may reach into. */
class TileReach {
  first = 0;
  last = 0;
  firstRow = 0;
  lastRow = 0;
  readonly #segments: Segments;
  readonly #perMm: number;
  readonly #lowX: number;
  readonly #highX: number;
  readonly #lowY: number;
  readonly #highY: number;

  constructor(segments: Segments, { fromX, fromY, perMm, halfMm }: Grid) {
    this.#segments = segments;
    this.#perMm = perMm;
    this.#lowX = fromX + halfMm;
    this.#highX = fromX - halfMm;
    this.#lowY = fromY + halfMm;
    this.#highY = fromY - halfMm;
  }

  of(i: number): void {
    const { x0, y0, x1, y1 } = this.#segments;
    this.first = ((Math.min(x0[i]!, x1[i]!) - this.#lowX) * this.#perMm) | 0;
    this.last = ((Math.max(x0[i]!, x1[i]!) - this.#highX) * this.#perMm) | 0;
    this.firstRow = ((Math.min(y0[i]!, y1[i]!) - this.#lowY) * this.#perMm) | 0;
    this.lastRow = ((Math.max(y0[i]!, y1[i]!) - this.#highY) * this.#perMm) | 0;
  }
}
