import { roundTo } from '../../units/format.ts';

/** Points that are simplified together. */
const BLOCK = 500;

/** Lines for a picture: simplified, rounded, and bounded in number. */
export class LineBudget {
  /** Points that may still be drawn. */
  #left: number;
  readonly toleranceMm: number;
  leftOut = 0;

  constructor(points: number, toleranceMm: number) {
    this.#left = points;
    this.toleranceMm = toleranceMm;
  }

  /** Adds a line while there is room; counts it otherwise. */
  add(to: number[][], xy: ArrayLike<number>, closed: boolean): void {
    const points = simplify(xy, this.toleranceMm);
    const length = points.length / 2 + (closed ? 1 : 0);
    if (length < 2) return;
    if (length > this.#left) {
      this.leftOut++;
      return;
    }
    this.#left -= length;
    if (closed) points.push(points[0]!, points[1]!);
    to.push(points.map((value) => roundTo(value, 2)));
  }
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
