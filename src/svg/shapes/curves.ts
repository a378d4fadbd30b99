import type { Matrix } from '../frames/matrix.ts';

/**
 * Kinds of step in a chain of curves, with the numbers each one takes:
 * MOVE x y; LINE x y; QUADRATIC cx cy x y; CUBIC c1x c1y c2x c2y x y; ARC cx cy ux uy vx vy t0 dt x y; CLOSE none.
 * An arc is centre + u cos t + v sin t for t from t0 to t0 + dt: a form that every affine map keeps.
 */
const MOVE = 0;
const LINE = 1;
const QUADRATIC = 2;
const CUBIC = 3;
const ARC = 4;
const CLOSE = 5;

const STEP_SIZE: readonly number[] = [2, 2, 4, 6, 10, 0];

/** What walks along a chain of curves. Starting points are handed on, so that no pen keeps a position of its own. */
export interface Pen {
  move(x: number, y: number): void;
  line(x0: number, y0: number, x: number, y: number): void;
  quadratic(x0: number, y0: number, cx: number, cy: number, x: number, y: number): void;
  cubic(x0: number, y0: number, c1x: number, c1y: number, c2x: number, c2y: number, x: number, y: number): void;
  arc(arc: EllipticArc): void;
  /** The closing line back to the contour's start. */
  close(x0: number, y0: number, x: number, y: number): void;
}

export interface EllipticArc {
  cx: number;
  cy: number;
  ux: number;
  uy: number;
  vx: number;
  vy: number;
  t0: number;
  dt: number;
  x: number;
  y: number;
}

/** Geometry of one element as its curves, in one coordinate system; contours begin with MOVE. */
export class Curves {
  readonly steps: number[] = [];
  readonly xy: number[] = [];
  #startX = 0;
  #startY = 0;
  #open = false;
  /** Current point. */
  x = 0;
  y = 0;

  get isEmpty(): boolean {
    return this.steps.length === 0;
  }

  move(x: number, y: number): void {
    this.#startX = x;
    this.#startY = y;
    this.x = x;
    this.y = y;
    this.#open = false;
  }

  line(x: number, y: number): void {
    this.#begin();
    this.steps.push(LINE);
    this.xy.push(x, y);
    this.x = x;
    this.y = y;
  }

  quadratic(cx: number, cy: number, x: number, y: number): void {
    this.#begin();
    this.steps.push(QUADRATIC);
    this.xy.push(cx, cy, x, y);
    this.x = x;
    this.y = y;
  }

  cubic(c1x: number, c1y: number, c2x: number, c2y: number, x: number, y: number): void {
    this.#begin();
    this.steps.push(CUBIC);
    this.xy.push(c1x, c1y, c2x, c2y, x, y);
    this.x = x;
    this.y = y;
  }

  /** An arc by centre and half axes u, v; the end is given so that contours meet exactly. */
  arc(arc: EllipticArc): void {
    this.#begin();
    this.steps.push(ARC);
    this.xy.push(arc.cx, arc.cy, arc.ux, arc.uy, arc.vx, arc.vy, arc.t0, arc.dt, arc.x, arc.y);
    this.x = arc.x;
    this.y = arc.y;
  }

  close(): void {
    this.#begin();
    this.steps.push(CLOSE);
    this.x = this.#startX;
    this.y = this.#startY;
    this.#open = false;
  }

  /** A contour starts with its first drawn step: a move alone draws nothing. */
  #begin(): void {
    if (this.#open) return;
    this.#startX = this.x;
    this.#startY = this.y;
    this.steps.push(MOVE);
    this.xy.push(this.x, this.y);
    this.#open = true;
  }
}

/**
 * An elliptical arc from the current point by SVG's end-point form, appended to the curves.
 * Source: SVG 2, implementation notes B.2 (out-of-range radii are made positive, zero radii give a line, too small ones are
 * scaled up; flags as given).
 */
export function appendArc(
  curves: Curves,
  radiusX: number,
  radiusY: number,
  rotationDegrees: number,
  large: boolean,
  sweep: boolean,
  x: number,
  y: number,
): void {
  const { x: x0, y: y0 } = curves;
  if (x0 === x && y0 === y) return;
  let rx = Math.abs(radiusX);
  let ry = Math.abs(radiusY);
  if (rx === 0 || ry === 0) {
    curves.line(x, y);
    return;
  }
  const phi = ((rotationDegrees % 360) * Math.PI) / 180;
  const cos = Math.cos(phi);
  const sin = Math.sin(phi);
  const halfX = (x0 - x) / 2;
  const halfY = (y0 - y) / 2;
  const px = (cos * halfX + sin * halfY) / rx;
  const py = (-sin * halfX + cos * halfY) / ry;
  const squared = px * px + py * py;
  if (squared > 1) {
    const grow = Math.sqrt(squared);
    rx *= grow;
    ry *= grow;
  }
  // In the unit circle's space: chord midpoint at the origin, start at (qx, qy), centre on its normal.
  const grow = squared > 1 ? 1 / Math.sqrt(squared) : 1;
  const qx = px * grow;
  const qy = py * grow;
  const chord = qx * qx + qy * qy;
  const off = Math.sqrt(Math.max(0, (1 - chord) / chord)) * (large === sweep ? -1 : 1);
  const mx = off * qy;
  const my = -off * qx;
  const t0 = Math.atan2(qy - my, qx - mx);
  let dt = Math.atan2(-qy - my, -qx - mx) - t0;
  if (sweep && dt < 0) dt += 2 * Math.PI;
  if (!sweep && dt > 0) dt -= 2 * Math.PI;
  curves.arc({
    cx: (x0 + x) / 2 + cos * rx * mx - sin * ry * my,
    cy: (y0 + y) / 2 + sin * rx * mx + cos * ry * my,
    ux: cos * rx,
    uy: sin * rx,
    vx: -sin * ry,
    vy: cos * ry,
    t0,
    dt,
    x,
    y,
  });
}

/** Walks a pen along all contours, seen through a matrix. */
export function trace(curves: Curves, m: Matrix, pen: Pen): void {
  const [a, b, c, d, e, f] = m;
  const { steps, xy } = curves;
  let at = 0;
  let x0 = 0;
  let y0 = 0;
  let startX = 0;
  let startY = 0;
  const mapX = (i: number): number => a * xy[i]! + c * xy[i + 1]! + e;
  const mapY = (i: number): number => b * xy[i]! + d * xy[i + 1]! + f;
  for (let s = 0; s < steps.length; s++) {
    const step = steps[s]!;
    const size = STEP_SIZE[step]!;
    const x = size > 0 ? mapX(at + size - 2) : startX;
    const y = size > 0 ? mapY(at + size - 2) : startY;
    if (step === LINE) pen.line(x0, y0, x, y);
    else if (step === MOVE) {
      startX = x;
      startY = y;
      pen.move(x, y);
    } else if (step === QUADRATIC) pen.quadratic(x0, y0, mapX(at), mapY(at), x, y);
    else if (step === CUBIC) pen.cubic(x0, y0, mapX(at), mapY(at), mapX(at + 2), mapY(at + 2), x, y);
    else if (step === ARC) {
      const ux = xy[at + 2]!;
      const uy = xy[at + 3]!;
      const vx = xy[at + 4]!;
      const vy = xy[at + 5]!;
      pen.arc({
        cx: mapX(at),
        cy: mapY(at),
        ux: a * ux + c * uy,
        uy: b * ux + d * uy,
        vx: a * vx + c * vy,
        vy: b * vx + d * vy,
        t0: xy[at + 6]!,
        dt: xy[at + 7]!,
        x,
        y,
      });
    } else pen.close(x0, y0, x, y);
    x0 = x;
    y0 = y;
    at += size;
  }
}
