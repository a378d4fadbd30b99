import type { Box } from '../../geometry/outlines/outline.ts';
import type { Matrix } from '../frames/matrix.ts';
import { emptyBox, growBox, keepsBoxes, mapBox, uniformScale } from '../frames/matrix.ts';
import type { Curves, EllipticArc, Pen } from './curves.ts';
import { trace } from './curves.ts';

/** Exact box and length of one contour. */
export interface Measured {
  box: Box;
  length: number;
  closed: boolean;
}

/** Relative error at which the quadrature stops halving. */
const LENGTH_ERROR = 1e-8;
const MOST_HALVINGS = 16;

// Ten-point Gauss–Legendre abscissas and weights ([ABRAMOWITZ-1964], table 25.4).
const GAUSS_X = [0.14887433898163122, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717];
const GAUSS_W = [
  0.29552422471475287, 0.26926671930999635, 0.21908636251598204, 0.1494513491505806, 0.06667134430868814,
];

function gauss(speed: (t: number) => number, from: number, to: number): number {
  const half = (to - from) / 2;
  const middle = (to + from) / 2;
  let sum = 0;
  for (let i = 0; i < 5; i++) {
    const dx = half * GAUSS_X[i]!;
    sum += GAUSS_W[i]! * (speed(middle - dx) + speed(middle + dx));
  }
  return sum * half;
}

/** Integral of a curve's speed over [from, to], halved where the curve has corners or cusps. */
function integrate(speed: (t: number) => number, from: number, to: number): number {
  const rough = gauss(speed, from, to);
  const goal = Math.max(Math.abs(rough) * LENGTH_ERROR, Number.MIN_VALUE);
  let total = 0;
  const open: [number, number, number, number][] = [[from, to, rough, 0]];
  for (let part = open.pop(); part; part = open.pop()) {
    const [a, b, whole, depth] = part;
    const middle = (a + b) / 2;
    const left = gauss(speed, a, middle);
    const right = gauss(speed, middle, b);
    if (Math.abs(left + right - whole) <= goal || depth >= MOST_HALVINGS) total += left + right;
    else open.push([a, middle, left, depth + 1], [middle, b, right, depth + 1]);
  }
  return total;
}

/** The integral of a speed over [0, 1], in parts between the turning points: where a curve doubles back, halving alone may see nothing. */
function lengthBetween(turns: readonly number[], speed: (t: number) => number): number {
  const ends = [0, ...turns.filter((t) => t > 0 && t < 1).sort((a, b) => a - b), 1];
  let length = 0;
  for (let i = 1; i < ends.length; i++) length += integrate(speed, ends[i - 1]!, ends[i]!);
  return length;
}

class Ruler implements Pen {
  readonly measured: Measured[] = [];
  #now: Measured = { box: emptyBox(), length: 0, closed: false };

  move(x: number, y: number): void {
    this.#now = { box: emptyBox(), length: 0, closed: false };
    this.measured.push(this.#now);
    growBox(this.#now.box, x, y);
  }

  line(x0: number, y0: number, x: number, y: number): void {
    growBox(this.#now.box, x, y);
    this.#now.length += Math.hypot(x - x0, y - y0);
  }

  close(x0: number, y0: number, x: number, y: number): void {
    this.#now.length += Math.hypot(x - x0, y - y0);
    this.#now.closed = true;
  }

  quadratic(x0: number, y0: number, cx: number, cy: number, x: number, y: number): void {
    const { box } = this.#now;
    growBox(box, x, y);
    const ax = x0 - 2 * cx + x;
    const ay = y0 - 2 * cy + y;
    const bx = cx - x0;
    const by = cy - y0;
    const turns = [-bx / ax, -by / ay];
    for (const t of turns) {
      if (t > 0 && t < 1) growBox(box, x0 + t * (2 * bx + t * ax), y0 + t * (2 * by + t * ay));
    }
    // Where it is slowest, it turns most sharply.
    turns.push(-(ax * bx + ay * by) / (ax * ax + ay * ay));
    this.#now.length += lengthBetween(turns, (t) => 2 * Math.hypot(bx + t * ax, by + t * ay));
  }

  cubic(x0: number, y0: number, c1x: number, c1y: number, c2x: number, c2y: number, x: number, y: number): void {
    const { box } = this.#now;
    growBox(box, x, y);
    // Derivative / 3 = p + 2 q t + r t².
    const px = c1x - x0;
    const py = c1y - y0;
    const qx = c2x - 2 * c1x + x0;
    const qy = c2y - 2 * c1y + y0;
    const rx = x - 3 * c2x + 3 * c1x - x0;
    const ry = y - 3 * c2y + 3 * c1y - y0;
    const turns = [...turningPoints(px, qx, rx), ...turningPoints(py, qy, ry)];
    for (const t of turns) {
      growBox(box, x0 + t * (3 * px + t * (3 * qx + t * rx)), y0 + t * (3 * py + t * (3 * qy + t * ry)));
    }
    const speed = (t: number): number => 3 * Math.hypot(px + t * (2 * qx + t * rx), py + t * (2 * qy + t * ry));
    this.#now.length += lengthBetween(turns, speed);
  }

  arc(arc: EllipticArc): void {
    const { box } = this.#now;
    growBox(box, arc.x, arc.y);
    const { cx, cy, ux, uy, vx, vy, t0, dt } = arc;
    for (const turn of [Math.atan2(vx, ux), Math.atan2(vy, uy)]) {
      const first = dt > 0 ? t0 : t0 + dt;
      for (let t = turn + Math.PI * Math.ceil((first - turn) / Math.PI); t < first + Math.abs(dt); t += Math.PI) {
        growBox(box, cx + ux * Math.cos(t) + vx * Math.sin(t), cy + uy * Math.cos(t) + vy * Math.sin(t));
      }
    }
    const u = Math.hypot(ux, uy);
    const v = Math.hypot(vx, vy);
    const round = Math.abs(u - v) <= 1e-12 * u && Math.abs(ux * vx + uy * vy) <= 1e-12 * u * u;
    if (round) this.#now.length += u * Math.abs(dt);
    else {
      const speed = (t: number): number =>
        Math.hypot(vx * Math.cos(t) - ux * Math.sin(t), vy * Math.cos(t) - uy * Math.sin(t));
      this.#now.length += Math.abs(integrate(speed, t0, t0 + dt));
    }
  }
}

/** Zeros of p + 2 q t + r t² inside (0, 1), found so that cancellation does not lose one. */
function turningPoints(p: number, q: number, r: number): number[] {
  const root = q * q - p * r;
  if (root < 0) return [];
  const w = -(q + (q < 0 ? -1 : 1) * Math.sqrt(root));
  return [w / r, p / w].filter((t) => t > 0 && t < 1);
}

/** Exact box and length of every contour, as seen through a matrix. */
export function measure(curves: Curves, matrix: Matrix): Measured[] {
  const ruler = new Ruler();
  trace(curves, matrix, ruler);
  return ruler.measured;
}

/** What `measure` would give through a matrix, from what it gave without one where that is exact and cheaper. */
export function remeasure(curves: Curves, plain: Measured[], matrix: Matrix): Measured[] {
  const scale = uniformScale(matrix);
  if (scale === null || !keepsBoxes(matrix)) return measure(curves, matrix);
  return plain.map((m) => ({ box: mapBox(matrix, m.box), length: m.length * scale, closed: m.closed }));
}
