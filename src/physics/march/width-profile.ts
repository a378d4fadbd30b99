import type { Beam } from '../beam/focused-beam.ts';

/** The width that one pass removes, as a function of depth. */
export class WidthProfile {
  readonly focusMm: number;
  readonly spotSquare: number;
  readonly coneSquare: number;
  readonly share: number;
  /** Square of the free beam's width where it meets the walls: the waist, or the face when the waist is above it. */
  readonly entrySquare: number;
  readonly entrySquareOffset: number;
  /** How deep this pass widened or cut the slot. */
  reachMm = 0;

  constructor(beam: Beam, share: number, focusMm: number) {
    const entry = Math.max(0, focusMm);
    this.focusMm = focusMm;
    this.spotSquare = beam.spotMm * beam.spotMm;
    this.coneSquare = beam.cone * beam.cone;
    this.share = share;
    this.entrySquareOffset = entry * entry;
    this.entrySquare = this.spotSquare + this.coneSquare * this.entrySquareOffset;
  }

  squareAt(depthMm: number): number {
    const fromWaist = depthMm + this.focusMm;
    return fromWaist <= 0
      ? this.spotSquare + this.coneSquare * fromWaist * fromWaist
      : this.entrySquare + this.share * this.coneSquare * (fromWaist * fromWaist - this.entrySquareOffset);
  }

  /**
   * Whether another pass was as wide all the way between two depths that do not lie on two sides of this one's waist; false too where that
   * cannot be told. Where this pass is a free beam, or that one is guided, the difference of the squares of their widths is convex in the
   * depth: nowhere above the greater of its ends.
   */
  isWithin(other: WidthProfile, fromMm: number, toMm: number): boolean {
    const convex = toMm <= -this.focusMm || fromMm >= -other.focusMm;
    return convex && this.squareAt(fromMm) <= other.squareAt(fromMm) && this.squareAt(toMm) <= other.squareAt(toMm);
  }

  /** Length over which the width changes by about its own size: the natural step. Endless for a perfect guide. */
  lengthAt(depthMm: number): number {
    const share = depthMm + this.focusMm < 0 ? 1 : this.share;
    return Math.sqrt(this.squareAt(depthMm) / (share * this.coneSquare));
  }
}

/** Width of the slot as the widest of the passes that reached there: the first `count` of a list whose reach falls. */
export function slotWidth(byReach: readonly WidthProfile[], count: number, depthMm: number): number {
  let square = 0;
  for (let i = 0; i < count; i++) square = Math.max(square, byReach[i]!.squareAt(depthMm));
  return Math.sqrt(square);
}
