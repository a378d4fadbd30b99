import { LeftRay } from '../index/left-ray.ts';
import { type Segments, segmentsOf } from '../segments/segments.ts';
import { type EqualOutlines, equalOutlines } from './equal-outlines.ts';
import type { Box, Polyline } from './outline.ts';

/** Area enclosed by a contour, mm²; positive when its points run anticlockwise with Y up. The closing line is implied. */
export function signedAreaMm2(line: Polyline): number {
  const { xy } = line;
  const points = xy.length >> 1;
  if (points < 3) return 0;
  const ox = xy[0]!;
  const oy = xy[1]!;
  let twice = 0;
  for (let i = 1; i + 1 < points; i++) {
    const ax = xy[2 * i]! - ox;
    const ay = xy[2 * i + 1]! - oy;
    twice += ax * (xy[2 * i + 3]! - oy) - ay * (xy[2 * i + 2]! - ox);
  }
  return twice / 2;
}

/** Length of a polyline in mm, the closing line included where it is closed. */
export function polylineLengthMm(line: Polyline): number {
  const { xy, closed } = line;
  const points = xy.length >> 1;
  let sum = 0;
  for (let i = 1; i < points; i++) sum += sideMm(xy, i - 1, i);
  if (closed && points > 2) sum += sideMm(xy, points - 1, 0);
  return sum;
}

/** From one point to another, mm. Asked for each of millions: Math.hypot takes ten times as long. */
function sideMm(xy: Polyline['xy'], from: number, to: number): number {
  const dx = xy[2 * to]! - xy[2 * from]!;
  const dy = xy[2 * to + 1]! - xy[2 * from + 1]!;
  return Math.sqrt(dx * dx + dy * dy);
}

/** Box around a polyline; null when it has no finite point. */
export function boxOfPolyline(line: Polyline): Box | null {
  const { xy } = line;
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const x = xy[i]!;
    const y = xy[i + 1]!;
    if (!Number.isFinite(x + y)) continue;
    if (x < minX) minX = x;
    if (y < minY) minY = y;
    if (x > maxX) maxX = x;
    if (y > maxY) maxY = y;
  }
  return minX <= maxX ? { minX, minY, maxX, maxY } : null;
}

/** Whether a point lies inside a contour by the even-odd rule; a point on the outline may count either way. */
export function isInside(line: Polyline, x: number, y: number): boolean {
  const { xy } = line;
  let inside = false;
  for (let i = 0, j = xy.length - 2; i < xy.length; j = i, i += 2) {
    const yi = xy[i + 1]!;
    const yj = xy[j + 1]!;
    if (yi > y === yj > y) continue;
    if (x < ((xy[j]! - xy[i]!) * (y - yi)) / (yj - yi) + xy[i]!) inside = !inside;
  }
  return inside;
}

/** Which contour lies in which. Open polylines have depth 0 and no parent, and enclose nothing. */
export interface Nesting {
  /** Index of the smallest contour around each one; −1 when there is none. */
  parent: Int32Array;
  /** Number of contours around each one: 0 for outer contours, 1 for holes, 2 for parts inside holes. */
  depth: Uint32Array;
  /** Index of the smallest contour around a place; −1 when there is none. */
  around(x: number, y: number): number;
}

/**
 * Sorts closed contours into a tree. From the leftmost point of each contour a ray runs to the left: the first outline
 * that it meets either encloses the contour or lies beside it under the same parent. Contours are taken from left to
 * right, so that one's place is always known before it is asked for. Contours that cross each other get one of the
 * places that fit. Of an outline that is drawn many times the last two are looked at: no ray ends at another.
 */
export function nestContours(
  lines: readonly Polyline[],
  equal: EqualOutlines = equalOutlines(closedOnly(lines)),
): Nesting {
  const parent = new Int32Array(lines.length).fill(-1);
  const depth = new Uint32Array(lines.length);
  const { kindOf, members } = equal;
  /** Whether two that are the same come after a line: a ray that could end there ends at the last of them that it does not start from. */
  const isHidden = (i: number): boolean => {
    const same = members[kindOf[i]!]!;
    return same.length > 2 && i < same[same.length - 2]!;
  };
  const edges = segmentsOf(lines.map((line, i) => (line.closed && !isHidden(i) ? line : NO_LINE)));
  const anticlockwise = lines.map((line) => line.closed && signedAreaMm2(line) > 0);
  const leftmost = leftmostPoints(edges, lines.length);
  for (const i of lines.keys()) {
    if (!isHidden(i)) continue;
    const last = members[kindOf[i]!]!.at(-1)!;
    leftmost.x[i] = leftmost.x[last]!;
    leftmost.y[i] = leftmost.y[last]!;
  }
  const order = Array.from(lines.keys()).filter((i) => Number.isFinite(leftmost.x[i]!));
  order.sort((a, b) => leftmost.x[a]! - leftmost.x[b]! || a - b);

  const ray = new LeftRay(edges);
  const beyond = (edge: number): number => {
    if (edge < 0) return -1;
    const other = edges.owner[edge]!;
    // Going down along an anticlockwise outline, the inside lies to the right: towards where the ray came from.
    const enclosed = edges.y1[edge]! < edges.y0[edge]! === anticlockwise[other];
    return enclosed ? other : parent[other]!;
  };
  /** For each kind the edge that a ray from one that is hidden ends at. */
  const hit = new Map<number, number>();
  const edgeBeside = (c: number): number => {
    const known = isHidden(c) ? hit.get(kindOf[c]!) : undefined;
    if (known !== undefined) return known;
    const edge = ray.firstHit(leftmost.x[c]!, leftmost.y[c]!, c);
    if (isHidden(c)) hit.set(kindOf[c]!, edge);
    return edge;
  };
  for (const c of order) {
    parent[c] = beyond(edgeBeside(c));
    depth[c] = parent[c]! < 0 ? 0 : depth[parent[c]!]! + 1;
  }
  return { parent, depth, around: (x, y) => beyond(ray.firstHit(x, y, -1)) };
}

const NO_LINE: Polyline = { xy: new Float64Array(0), closed: false };

/** Open lines enclose nothing and are enclosed by nothing: which of them are the same is not asked. */
const closedOnly = (lines: readonly Polyline[]): Polyline[] => lines.map((line) => (line.closed ? line : NO_LINE));

function leftmostPoints(edges: Segments, contours: number): { x: Float64Array; y: Float64Array } {
  const x = new Float64Array(contours).fill(Infinity);
  const y = new Float64Array(contours);
  for (let i = 0; i < edges.count; i++) {
    const owner = edges.owner[i]!;
    if (edges.x0[i]! >= x[owner]!) continue;
    x[owner] = edges.x0[i]!;
    y[owner] = edges.y0[i]!;
  }
  return { x, y };
}
