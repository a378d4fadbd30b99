import { roundTo } from '../../units/format.ts';
import type { Detail } from './drawing-model.ts';

/** Points that are simplified together. */
const BLOCK = 500;
/** Lines are drawn to this where there is room for them, mm: a quarter of a fine kerf, and less than a pixel of any screen. */
const FINE_MM = 0.05;
/** More doublings than this of the grid are asked for by no size that a file can state. */
const MOST_DOUBLINGS = 60;

/** A line to be drawn. */
export interface GivenLine {
  readonly xy: ArrayLike<number>;
  readonly closed: boolean;
}

/** Lines for a picture: bounded in number, and each given one among them. */
export interface ThinnedLines {
  /** Chains of points x0, y0, x1, y1, … */
  readonly lines: number[][];
  /** For each given line the index of the one that draws it; −1 for what has no two points. */
  readonly drawnBy: Int32Array;
  readonly detail: Detail;
}

/**
 * Lines simplified and rounded so that they hold at most `points` points. None is left out: where there are too many for that, corners
 * go to a grid, and lines that come to lie on each other are drawn once. The grid is as fine as there is room for.
 */
export function thinLines(given: readonly GivenLine[], points: number): ThinnedLines {
  const corners = given.reduce((sum, { xy, closed }) => sum + xy.length / 2 + (closed ? 1 : 0), 0);
  let gridMm = 0;
  for (let doubling = 0; doubling < MOST_DOUBLINGS; doubling++) {
    const drawn = new Drawn(points);
    const drawnBy = new Int32Array(given.length).fill(-1);
    const fits = given.every((line, i) => {
      drawnBy[i] = gridMm === 0 ? drawn.add(fineLine(line)) : drawn.addOnce(coarseLine(line, gridMm));
      return !drawn.full;
    });
    if (fits) {
      // Simplified to the grid, and then moved to it by at most half its diagonal.
      const withinMm = gridMm === 0 ? FINE_MM : roundTo(gridMm * (1 + Math.SQRT1_2), 2);
      return { lines: drawn.lines, drawnBy, detail: { withinMm, corners, kept: drawn.points } };
    }
    gridMm = gridMm === 0 ? 2 * FINE_MM : 2 * gridMm;
  }
  return { lines: [], drawnBy: new Int32Array(given.length).fill(-1), detail: { withinMm: gridMm, corners, kept: 0 } };
}

/** What has been drawn so far. */
class Drawn {
  readonly lines: number[][] = [];
  points = 0;
  readonly #most: number;
  readonly #known = new Map<string, number>();

  constructor(most: number) {
    this.#most = most;
  }

  get full(): boolean {
    return this.points > this.#most;
  }

  add(line: number[]): number {
    if (line.length < 4) return -1;
    this.points += line.length / 2;
    return this.lines.push(line) - 1;
  }

  /** Lines that are the same, whichever way they run, are drawn once. */
  addOnce(line: number[]): number {
    if (line.length < 4) return -1;
    const key = oneWay(line).join(' ');
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    this.#known.set(key, this.lines.length);
    return this.add(line);
  }
}

function fineLine({ xy, closed }: GivenLine): number[] {
  return closedUp(simplify(xy, FINE_MM), closed).map((value) => roundTo(value, 2));
}

/** What shrinks to a point stays as a dash of the grid's width: it is drawn as well. */
function coarseLine({ xy, closed }: GivenLine, gridMm: number): number[] {
  const points = closedUp(simplify(xy, gridMm), closed);
  if (points.length < 4) return points;
  const line: number[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) {
    const x = roundTo(Math.round(points[i]! / gridMm) * gridMm, 2);
    const y = roundTo(Math.round(points[i + 1]! / gridMm) * gridMm, 2);
    if (line.length === 0 || line.at(-2) !== x || line.at(-1) !== y) line.push(x, y);
  }
  if (line.length === 2) line.push(roundTo(line[0]! + gridMm, 2), line[1]!);
  return line;
}

function closedUp(points: number[], closed: boolean): number[] {
  if (closed && points.length >= 2) points.push(points[0]!, points[1]!);
  return points;
}

/** A line as it is, or run backwards: the one that begins farther to the left or, where that is the same, lower. */
function oneWay(line: readonly number[]): readonly number[] {
  const [x0 = 0, y0 = 0] = line;
  const [x1 = 0, y1 = 0] = line.slice(-2);
  if (x0 < x1 || (x0 === x1 && y0 <= y1)) return line;
  const back: number[] = [];
  for (let i = line.length - 2; i >= 0; i -= 2) back.push(line[i]!, line[i + 1]!);
  return back;
}

/**
 * Leaves out points that lie within the tolerance of the line between those that stay ([DOUGLAS-1973]), with a
 * stack of its own in place of recursion. Points that are not finite are dropped.
 */
export function simplify(xy: ArrayLike<number>, toleranceMm: number): number[] {
  const points: number[] = [];
  for (let i = 0; i + 1 < xy.length; i += 2) {
    if (Number.isFinite(xy[i]! + xy[i + 1]!)) points.push(xy[i]!, xy[i + 1]!);
  }
  const count = points.length / 2;
  if (count <= 2) return points;
  const keep = new Uint8Array(count);
  keep[0] = 1;
  keep[count - 1] = 1;
  // In blocks, so that a line of a million points stays near-linear; the ends of blocks are kept.
  const waiting: [number, number][] = [];
  for (let from = 0; from < count - 1; from += BLOCK) {
    const to = Math.min(count - 1, from + BLOCK);
    keep[to] = 1;
    waiting.push([from, to]);
  }
  for (let range = waiting.pop(); range; range = waiting.pop()) {
    const [from, to] = range;
    let farthest = -1;
    let most = toleranceMm;
    for (let i = from + 1; i < to; i++) {
      const off = distance(points, i, from, to);
      if (off > most) {
        most = off;
        farthest = i;
      }
    }
    if (farthest < 0) continue;
    keep[farthest] = 1;
    waiting.push([from, farthest], [farthest, to]);
  }
  return points.filter((_, i) => keep[i >> 1] === 1);
}

function distance(points: readonly number[], i: number, from: number, to: number): number {
  const x0 = points[2 * from]!;
  const y0 = points[2 * from + 1]!;
  const dx = points[2 * to]! - x0;
  const dy = points[2 * to + 1]! - y0;
  const px = points[2 * i]! - x0;
  const py = points[2 * i + 1]! - y0;
  const squared = dx * dx + dy * dy;
  const share = squared === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / squared));
  return Math.hypot(px - share * dx, py - share * dy);
}
