import type { Segments } from '../segments/segments.ts';
import { PARALLEL } from './piece-matcher.ts';

/** More than arithmetic loses on coordinates of a kilometre, mm and radians. */
export const ROUNDING = 1e-6;

/**
 * Tells pairs of segments that have nothing to do with each other: a cheap test ahead of the measuring by `PieceMatcher`. Where that would
 * find an overlap, this one never says that there is none.
 */
export class Apartness {
  readonly #segments: Segments;
  readonly #allowance: Float32Array;
  readonly #tolerance: number;

  /** @param allowance for each segment, radians: see `directionAllowances` */
  constructor(segments: Segments, allowance: Float32Array, toleranceMm: number) {
    this.#segments = segments;
    this.#allowance = allowance;
    this.#tolerance = toleranceMm;
  }

  /** True when no part of the later segment j can run along a part of i, however both are shared out to others. */
  areApart(i: number, j: number): boolean {
    const { x0, y0, x1, y1 } = this.#segments;
    const px = x0[i]!;
    const py = y0[i]!;
    const dx = x1[i]! - px;
    const dy = y1[i]! - py;
    const sx = x0[j]! - px;
    const sy = y0[j]! - py;
    const ex = x1[j]! - px;
    const ey = y1[j]! - py;
    const squared = dx * dx + dy * dy;
    const reach = this.#tolerance + ROUNDING;
    // How far the two ends of j lie off the line of i, times its length: most that runs side by side lies too far to one side as a whole.
    const startAside = sy * dx - sx * dy;
    const endAside = ey * dx - ex * dy;
    const least = reach * reach * squared;
    if (startAside * endAside > 0 && startAside * startAside > least && endAside * endAside > least) return true;
    const cross = dx * (ey - sy) - dy * (ex - sx);
    const otherSquared = (ex - sx) * (ex - sx) + (ey - sy) * (ey - sy);
    // An angle is no less than its sine.
    const play = this.#allowance[i]! + this.#allowance[j]! + PARALLEL + ROUNDING;
    if (cross * cross > play * play * squared * otherSquared) return true;
    const length = Math.sqrt(squared);
    const ux = dx / length;
    const uy = dy / length;
    const start = sx * ux + sy * uy;
    const end = ex * ux + ey * uy;
    let low = Math.max(0, Math.min(start, end));
    let high = Math.min(length, Math.max(start, end));
    const shortest = Math.min(this.#tolerance / 8, Math.sqrt(otherSquared) / 8, length / 16) * (1 - ROUNDING);
    if (high - low < shortest) return true;
    const startOff = startAside / length;
    const endOff = endAside / length;
    if (startOff > reach || startOff < -reach || endOff > reach || endOff < -reach) {
      // The part that lies within reach.
      const perOff = (end - start) / (endOff - startOff);
      const a = start + (reach - startOff) * perOff;
      const b = start + (-reach - startOff) * perOff;
      low = Math.max(low, Math.min(a, b));
      high = Math.min(high, Math.max(a, b));
      if (!(high - low >= shortest)) return true;
    }
    return false;
  }
}
