import type { Neighbours } from '../segments/neighbours.ts';
import type { Segments } from '../segments/segments.ts';

/** A line may lean towards the other by this share before a nearest point at its end is no least distance. */
const LEAN = 0.02;

/** More than arithmetic loses on coordinates of a kilometre, mm. */
const ROUNDING = 1e-9;

/** Where two segments are nearest, when that is a least distance along both outlines. */
export interface Narrow {
  distanceMm: number;
  /** Middle between the two. */
  x: number;
  y: number;
  /** The one of the outline that was drawn first, and the other. */
  segmentA: number;
  segmentB: number;
  /** Two open ends face each other, as at a bridge left in a cut. */
  endOn: boolean;
  /** The ends of the stretch over which the two run side by side, where these are far from the place: x and y, one after the other. */
  farXy: readonly number[];
}

const NONE_FAR: readonly number[] = [];

interface Nearest {
  distance: number;
  /** On the first segment. */
  px: number;
  py: number;
  /** On the second. */
  qx: number;
  qy: number;
}

/** Measures pairs of segments: how near they come, and whether they part again on both sides. */
export class ClosestPlaces {
  readonly #s: Segments;
  readonly #near: Neighbours;
  readonly #limitMm: number;
  readonly #touchMm: number;
  readonly #reachMm: number;
  readonly #best: Nearest = { distance: 0, px: 0, py: 0, qx: 0, qy: 0 };
  readonly #end: Nearest = { distance: 0, px: 0, py: 0, qx: 0, qy: 0 };

  /** Beyond `reachMm` an end is far. */
  constructor(segments: Segments, near: Neighbours, limits: { limitMm: number; touchMm: number; reachMm: number }) {
    this.#s = segments;
    this.#near = near;
    this.#limitMm = limits.limitMm;
    this.#touchMm = limits.touchMm;
    this.#reachMm = limits.reachMm;
  }

  /**
   * Where segment `later` and segment `earlier` (of the outline that was drawn first, or the lower number) are nearest, when that is within
   * the limit and a least distance along both outlines. Null else.
   */
  between(later: number, earlier: number): Narrow | null {
    const { x0, y0, x1, y1 } = this.#s;
    if (this.#apart(later, earlier)) return null;
    const best = this.#best;
    best.distance = this.#limitMm;
    // Two segments that do not cross are nearest at an end of one of them.
    this.#fromEnd(later, x0[earlier]!, y0[earlier]!, false, best);
    this.#fromEnd(later, x1[earlier]!, y1[earlier]!, false, best);
    this.#fromEnd(earlier, x0[later]!, y0[later]!, true, best);
    this.#fromEnd(earlier, x1[later]!, y1[later]!, true, best);
    const { distance, px, py, qx, qy } = best;
    if (distance >= this.#limitMm || distance <= this.#touchMm) return null;
    if (!this.#isLeast(later, px, py, qx, qy) || !this.#isLeast(earlier, qx, qy, px, py)) return null;
    if (this.#cross(later, earlier)) return null;
    const x = (px + qx) / 2;
    const y = (py + qy) / 2;
    const alone = this.#isAlone(later) && this.#isAlone(earlier);
    return {
      distanceMm: distance,
      x,
      y,
      segmentA: earlier,
      segmentB: later,
      endOn: this.#isOpenEnd(later, px, py) && this.#isOpenEnd(earlier, qx, qy),
      farXy: alone ? NONE_FAR : this.#farEnds(later, earlier, x, y),
    };
  }

  /** Whether the boxes around two segments are farther apart than the limit: most of what an index shows, at little cost. */
  #apart(i: number, j: number): boolean {
    const { x0, y0, x1, y1 } = this.#s;
    const limit = this.#limitMm + ROUNDING;
    return (
      Math.min(x0[i]!, x1[i]!) - Math.max(x0[j]!, x1[j]!) > limit ||
      Math.min(x0[j]!, x1[j]!) - Math.max(x0[i]!, x1[i]!) > limit ||
      Math.min(y0[i]!, y1[i]!) - Math.max(y0[j]!, y1[j]!) > limit ||
      Math.min(y0[j]!, y1[j]!) - Math.max(y0[i]!, y1[i]!) > limit
    );
  }

  /**
   * The ends of the stretch along which two segments stay within the limit, as far as they lie out of reach of the place. The
   * distance of a line from another is convex, so that all between two near points is near.
   */
  #farEnds(i: number, j: number, x: number, y: number): readonly number[] {
    const s = this.#s;
    const nearest = this.#end;
    let far: number[] | null = null;
    for (let end = 0; end < 4; end++) {
      const from = end < 2 ? i : j;
      const to = end < 2 ? j : i;
      nearest.distance = this.#limitMm;
      const atStart = end % 2 === 0;
      this.#fromEnd(to, atStart ? s.x0[from]! : s.x1[from]!, atStart ? s.y0[from]! : s.y1[from]!, true, nearest);
      if (nearest.distance >= this.#limitMm) continue;
      const endX = (nearest.px + nearest.qx) / 2;
      const endY = (nearest.py + nearest.qy) / 2;
      if (Math.hypot(endX - x, endY - y) <= this.#reachMm) continue;
      // Where both lines end the stretch ends once.
      if (far && Math.hypot(endX - far[0]!, endY - far[1]!) <= this.#reachMm) continue;
      far ??= [];
      far.push(endX, endY);
    }
    return far ?? NONE_FAR;
  }

  /** Whether a segment is all of its line: two such lines have one narrow place at most. */
  #isAlone(e: number): boolean {
    return this.#near.before[e]! < 0 && this.#near.after[e]! < 0;
  }

  /** Measures from an end (x, y) of one segment to segment `e`; `endIsFirst` when the end belongs to the first. */
  #fromEnd(e: number, x: number, y: number, endIsFirst: boolean, best: Nearest): void {
    const s = this.#s;
    const dx = s.x1[e]! - s.x0[e]!;
    const dy = s.y1[e]! - s.y0[e]!;
    const along = ((x - s.x0[e]!) * dx + (y - s.y0[e]!) * dy) / (dx * dx + dy * dy);
    const share = Math.min(1, Math.max(0, along));
    // The far end itself, not a sum that rounding takes beside it: `#isLeast` asks whether the place is an end.
    const ox = share === 1 ? s.x1[e]! : s.x0[e]! + share * dx;
    const oy = share === 1 ? s.y1[e]! : s.y0[e]! + share * dy;
    // The square first, with room for rounding: Math.hypot takes ten times as long.
    const squared = (x - ox) * (x - ox) + (y - oy) * (y - oy);
    if (squared > best.distance * best.distance * (1 + 1e-9)) return;
    const distance = Math.hypot(x - ox, y - oy);
    if (distance >= best.distance) return;
    best.distance = distance;
    best.px = endIsFirst ? x : ox;
    best.py = endIsFirst ? y : oy;
    best.qx = endIsFirst ? ox : x;
    best.qy = endIsFirst ? oy : y;
  }

  /** Whether going on along the outline from p, where that is an end of the segment, does not lead nearer to q. */
  #isLeast(seg: number, px: number, py: number, qx: number, qy: number): boolean {
    const s = this.#s;
    const distance = Math.hypot(px - qx, py - qy);
    if (px === s.x0[seg]! && py === s.y0[seg]!) {
      const next = this.#near.before[seg]!;
      if (next >= 0 && leans(s.x0[next]! - px, s.y0[next]! - py, px - qx, py - qy, distance)) return false;
    }
    if (px === s.x1[seg]! && py === s.y1[seg]!) {
      const next = this.#near.after[seg]!;
      if (next >= 0 && leans(s.x1[next]! - px, s.y1[next]! - py, px - qx, py - qy, distance)) return false;
    }
    return true;
  }

  #isOpenEnd(seg: number, x: number, y: number): boolean {
    const s = this.#s;
    if (this.#near.before[seg]! < 0 && x === s.x0[seg]! && y === s.y0[seg]!) return true;
    return this.#near.after[seg]! < 0 && x === s.x1[seg]! && y === s.y1[seg]!;
  }

  #cross(i: number, j: number): boolean {
    const { x0, y0, x1, y1 } = this.#s;
    return (
      this.#side(i, x0[j]!, y0[j]!) * this.#side(i, x1[j]!, y1[j]!) < 0 &&
      this.#side(j, x0[i]!, y0[i]!) * this.#side(j, x1[i]!, y1[i]!) < 0
    );
  }

  #side(e: number, x: number, y: number): number {
    const { x0, y0, x1, y1 } = this.#s;
    return (x1[e]! - x0[e]!) * (y - y0[e]!) - (y1[e]! - y0[e]!) * (x - x0[e]!);
  }
}

const leans = (dx: number, dy: number, awayX: number, awayY: number, distance: number): boolean =>
  dx * awayX + dy * awayY < -LEAN * distance * Math.hypot(dx, dy);
