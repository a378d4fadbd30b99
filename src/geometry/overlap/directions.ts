import type { Segments } from '../segments/segments.ts';
import { ROUNDING } from './apartness.ts';
import { PARALLEL } from './piece-matcher.ts';

/**
 * Directions that a line may have, as bits: those of two that may run along each other have one in common. A direction is a number of
 * 0 … 2 along the way round half a square, which never changes more than the angle does.
 */
export class Directions {
  /** Half a turn is so many bits. */
  static readonly #BITS = 32;
  readonly #segments: Segments;
  readonly #allowance: Float32Array;
  /** What is asked elsewhere is the sine: by so much greater may the angle be. */
  readonly #perPlay: number;

  constructor(segments: Segments, allowance: Float32Array) {
    this.#segments = segments;
    this.#allowance = allowance;
    let most = 0;
    for (let i = 0; i < segments.count; i++) if (allowance[i]! > most) most = allowance[i]!;
    const sine = Math.min(1, 2 * most + PARALLEL + 2 * ROUNDING);
    this.#perPlay = Math.asin(sine) / sine;
  }

  /** The bits of a segment. */
  of(i: number): number {
    const { x0, y0, x1, y1 } = this.#segments;
    const dx = x1[i]! - x0[i]!;
    const dy = y1[i]! - y0[i]!;
    const share = dx / (Math.abs(dx) + Math.abs(dy));
    const along = dy < 0 ? 1 + share : 1 - share;
    const play = this.#perPlay * (this.#allowance[i]! + PARALLEL / 2 + 2 * ROUNDING);
    const first = Math.floor((along - play) * (Directions.#BITS / 2));
    const more = Math.floor((along + play) * (Directions.#BITS / 2)) - first;
    if (more >= Directions.#BITS - 1) return -1;
    const bits = (1 << (more + 1)) - 1;
    return (bits << first) | (bits >>> -first);
  }
}
