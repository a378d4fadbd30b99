import Flatbush from 'flatbush';
import type { Segments } from '../segments/segments.ts';

/** What 32 bits may lose of an angle, and of a distance as a share of the farthest. */
const ANGLE_SLACK = 1e-6;
const SINGLE = 2 ** -22;

/**
 * An index of the lines that segments lie on, by direction and distance from the middle of the drawing: of a thousand crossing lines it
 * finds those that run the same way and no others, which no index of places can.
 */
export class LineIndex {
  readonly #segments: Segments;
  readonly #numbers: Uint32Array;
  readonly #tree: Flatbush | null;
  readonly #middleX: number;
  readonly #middleY: number;
  /** Of any end of a segment from the middle, mm. */
  readonly #farthestMm: number;
  /** Lines that searches have come upon so far. */
  met = 0;

  /** @param numbers of the segments to enter. */
  constructor(segments: Segments, numbers: Uint32Array) {
    this.#segments = segments;
    this.#numbers = numbers;
    const { x0, y0, x1, y1 } = segments;
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const i of numbers) {
      minX = Math.min(minX, x0[i]!, x1[i]!);
      minY = Math.min(minY, y0[i]!, y1[i]!);
      maxX = Math.max(maxX, x0[i]!, x1[i]!);
      maxY = Math.max(maxY, y0[i]!, y1[i]!);
    }
    this.#middleX = (minX + maxX) / 2;
    this.#middleY = (minY + maxY) / 2;
    this.#farthestMm = Math.hypot(maxX - minX, maxY - minY) / 2;
    this.#tree = numbers.length === 0 ? null : new Flatbush(numbers.length, 16, Float32Array);
    for (const i of numbers) {
      const { angle, offMm } = this.#lineOf(i);
      this.#tree?.add(angle, offMm);
    }
    this.#tree?.finish();
  }

  /**
   * Shows the segments of which a point may lie within `padMm` of the line of segment i and that differ in direction by no more than
   * `play` radians, i among them, until `stop` answers true. True when it did.
   */
  visit(i: number, play: number, padMm: number, stop: (segment: number) => boolean): boolean {
    const { angle, offMm } = this.#lineOf(i);
    // Two lines that turn against each other part by the angle for each mm from the middle.
    const reachMm = padMm + play * this.#farthestMm + SINGLE * this.#farthestMm;
    const reach = play + ANGLE_SLACK;
    if (this.#around(angle, offMm, reach, reachMm, stop)) return true;
    // Half a turn on, a line has the same direction again, and the middle lies on its other side.
    if (angle - reach < 0 && this.#around(angle + Math.PI, -offMm, reach, reachMm, stop)) return true;
    return angle + reach >= Math.PI && this.#around(angle - Math.PI, -offMm, reach, reachMm, stop);
  }

  #around(angle: number, offMm: number, reach: number, reachMm: number, stop: (segment: number) => boolean): boolean {
    if (this.#tree === null) return false;
    return this.#tree.collides(angle - reach, offMm - reachMm, angle + reach, offMm + reachMm, (at) => {
      this.met++;
      return stop(this.#numbers[at]!);
    });
  }

  /** Direction, 0 to π, and distance of the middle from the line, mm, positive to the left of it. */
  #lineOf(i: number): { angle: number; offMm: number } {
    const { x0, y0, x1, y1 } = this.#segments;
    const dx = x1[i]! - x0[i]!;
    const dy = y1[i]! - y0[i]!;
    const offMm = (dx * (this.#middleY - y0[i]!) - dy * (this.#middleX - x0[i]!)) / Math.hypot(dx, dy);
    const angle = Math.atan2(dy, dx);
    if (angle < 0) return { angle: angle + Math.PI, offMm: -offMm };
    return angle >= Math.PI ? { angle: angle - Math.PI, offMm: -offMm } : { angle, offMm };
  }
}
