import type { Box } from '../../geometry/outlines/outline.ts';

/** Affine matrix a b c d e f as in SVG: x' = a x + c y + e, y' = b x + d y + f. */
export type Matrix = readonly [number, number, number, number, number, number];

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** The matrix that applies `inner` first and `outer` after it. */
export function multiply(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer;
  const [g, h, i, j, k, l] = inner;
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

export function translation(x: number, y: number): Matrix {
  return [1, 0, 0, 1, x, y];
}

export function scaling(x: number, y: number): Matrix {
  return [x, 0, 0, y, 0, 0];
}

/** Rotation by an angle in degrees, clockwise on a page with Y down. Quarter turns are exact. */
export function rotation(degrees: number): Matrix {
  const quarter = ((degrees % 360) + 360) % 360;
  const radians = (degrees * Math.PI) / 180;
  let cos = Math.cos(radians);
  let sin = Math.sin(radians);
  if (quarter % 90 === 0) {
    cos = quarter === 0 ? 1 : quarter === 180 ? -1 : 0;
    sin = quarter === 90 ? 1 : quarter === 270 ? -1 : 0;
  }
  return [cos, sin, -sin, cos, 0, 0];
}

export function isFiniteMatrix(m: Matrix): boolean {
  return m.every(Number.isFinite);
}

/** True when the matrix has no inverse, so that nothing under it can be drawn. */
export function isFlat(m: Matrix): boolean {
  return m[0] * m[3] - m[1] * m[2] === 0;
}

/** The one factor by which a similarity stretches every length; null when the matrix stretches directions differently. */
export function uniformScale(m: Matrix): number | null {
  const [a, b, c, d] = m;
  const first = Math.hypot(a, b);
  const second = Math.hypot(c, d);
  const largest = Math.max(first, second);
  if (Math.abs(first - second) > 1e-12 * largest) return null;
  return Math.abs(a * c + b * d) > 1e-12 * largest * largest ? null : first;
}

/** True when axis-parallel boxes stay axis-parallel. */
export function keepsBoxes(m: Matrix): boolean {
  return (m[1] === 0 && m[2] === 0) || (m[0] === 0 && m[3] === 0);
}

/** The box of a transformed box; exact only when the matrix keeps boxes. */
export function mapBox(m: Matrix, box: Box): Box {
  const mapped = emptyBox();
  for (const x of [box.minX, box.maxX]) {
    for (const y of [box.minY, box.maxY]) {
      growBox(mapped, m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]);
    }
  }
  return mapped;
}

export function emptyBox(): Box {
  return { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
}

export function growBox(box: Box, x: number, y: number): void {
  if (x < box.minX) box.minX = x;
  if (x > box.maxX) box.maxX = x;
  if (y < box.minY) box.minY = y;
  if (y > box.maxY) box.maxY = y;
}

export function uniteBoxes(boxes: Iterable<Box>): Box | null {
  const all = emptyBox();
  for (const box of boxes) {
    growBox(all, box.minX, box.minY);
    growBox(all, box.maxX, box.maxY);
  }
  return all.minX <= all.maxX ? all : null;
}
