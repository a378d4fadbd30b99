import type { Polyline } from '../../geometry/outlines/outline.ts';
import type { Matrix } from '../frames/matrix.ts';
import type { Curves, EllipticArc, Pen } from './curves.ts';
import { trace } from './curves.ts';

/** Most chords for one curve: a circle of 100 m at 0.01 mm needs 7,000. */
const MOST_CHORDS = 20_000;

/**
 * Chords that keep a curve within the tolerance. A chord over a step h of the parameter strays at most h² max|P″| / 8
 * (the error of linear interpolation), so n equal steps over a range need n = range √(max|P″| / 8 tolerance).
 */
function chords(range: number, secondDerivative: number, tolerance: number): number {
  const n = Math.ceil(range * Math.sqrt(secondDerivative / (8 * tolerance)));
  return Math.min(Math.max(n, 1), MOST_CHORDS);
}

class Flattener implements Pen {
  readonly polylines: Polyline[] = [];
  readonly #tolerance: number;
  #xy: number[] = [];
  #closed = false;
  #left: number;

  constructor(tolerance: number, mostPoints: number) {
    this.#tolerance = tolerance;
    this.#left = mostPoints;
  }

  get ranOut(): boolean {
    return this.#left < 0;
  }

  #point(x: number, y: number): void {
    if (--this.#left >= 0) this.#xy.push(x, y);
  }

  finish(): void {
    if (this.#xy.length > 0) this.polylines.push({ xy: new Float64Array(this.#xy), closed: this.#closed });
    this.#xy = [];
    this.#closed = false;
  }

  move(x: number, y: number): void {
    this.finish();
    this.#point(x, y);
  }

  line(_x0: number, _y0: number, x: number, y: number): void {
    this.#point(x, y);
  }

  close(x0: number, y0: number, x: number, y: number): void {
    // The closing edge is implied: a last point on the start would be an edge of no length.
    const xy = this.#xy;
    if (xy.length > 4 && x0 === x && y0 === y) xy.length -= 2;
    if (xy.length === 2) this.#point(x, y);
    this.#closed = true;
  }

  quadratic(x0: number, y0: number, cx: number, cy: number, x: number, y: number): void {
    const ax = x0 - 2 * cx + x;
    const ay = y0 - 2 * cy + y;
    const n = chords(1, 2 * Math.hypot(ax, ay), this.#tolerance);
    for (let i = 1; i < n; i++) {
      const t = i / n;
      this.#point(x0 + t * (2 * (cx - x0) + t * ax), y0 + t * (2 * (cy - y0) + t * ay));
    }
    this.#point(x, y);
  }

  cubic(x0: number, y0: number, c1x: number, c1y: number, c2x: number, c2y: number, x: number, y: number): void {
    // |P″| is linear in t, so its greatest value stands at an end.
    const first = Math.hypot(x0 - 2 * c1x + c2x, y0 - 2 * c1y + c2y);
    const last = Math.hypot(c1x - 2 * c2x + x, c1y - 2 * c2y + y);
    const n = chords(1, 6 * Math.max(first, last), this.#tolerance);
    for (let i = 1; i < n; i++) {
      const t = i / n;
      const s = 1 - t;
      const k0 = s * s * s;
      const k1 = 3 * s * s * t;
      const k2 = 3 * s * t * t;
      const k3 = t * t * t;
      this.#point(k0 * x0 + k1 * c1x + k2 * c2x + k3 * x, k0 * y0 + k1 * c1y + k2 * c2y + k3 * y);
    }
    this.#point(x, y);
  }

  arc(arc: EllipticArc): void {
    const { cx, cy, ux, uy, vx, vy, t0, dt } = arc;
    // The greatest half axis is at most √(u² + v²); for conjugate half axes at right angles it is the larger one.
    const u = Math.hypot(ux, uy);
    const v = Math.hypot(vx, vy);
    const square = Math.abs(ux * vx + uy * vy) <= 1e-9 * u * v;
    const n = chords(Math.abs(dt), square ? Math.max(u, v) : Math.hypot(u, v), this.#tolerance);
    for (let i = 1; i < n; i++) {
      const t = t0 + (dt * i) / n;
      const cos = Math.cos(t);
      const sin = Math.sin(t);
      this.#point(cx + ux * cos + vx * sin, cy + uy * cos + vy * sin);
    }
    this.#point(arc.x, arc.y);
  }
}

/**
 * The contours as chains of chords, none further from its curve than the tolerance (in the units that the matrix maps to).
 * `ranOut` tells that the chains were cut short at `mostPoints`.
 */
export function flatten(
  curves: Curves,
  matrix: Matrix,
  tolerance: number,
  mostPoints: number,
): { polylines: Polyline[]; ranOut: boolean } {
  const flattener = new Flattener(tolerance, mostPoints);
  trace(curves, matrix, flattener);
  flattener.finish();
  return { polylines: flattener.polylines, ranOut: flattener.ranOut };
}
