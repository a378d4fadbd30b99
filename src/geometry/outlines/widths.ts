import { usable } from '../segments/segments.ts';
import { type Nesting, nestContours, signedAreaMm2 } from './contours.ts';
import { convexHull } from './hull.ts';
import type { Polyline } from './outline.ts';

/**
 * The least width of an outline's convex hull: the narrowest gap between two parallel lines that it fits through, mm.
 * Of a circle its diameter, of a slot its short side. 0 when the points lie on a line.
 */
export function leastWidthMm(line: Polyline): number {
  const hull = convexHull(line.xy);
  const n = hull.length >> 1;
  if (n < 3) return 0;
  let least = Infinity;
  let far = 1;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const dx = hull[2 * j]! - hull[2 * i]!;
    const dy = hull[2 * j + 1]! - hull[2 * i + 1]!;
    const height = (k: number): number =>
      dx * (hull[2 * (k % n) + 1]! - hull[2 * i + 1]!) - dy * (hull[2 * (k % n)]! - hull[2 * i]!);
    // The corner farthest from an edge only moves on as the edges turn.
    while (height(far + 1) > height(far)) far++;
    least = Math.min(least, height(far) / Math.hypot(dx, dy));
  }
  return least;
}

/** A joint drawn for a certain thickness of sheet. */
export interface Joint {
  /** `slot`: cut into a part from its edge. `tab`: stands out from it. `hole`: a closed rectangle inside a part. */
  kind: 'slot' | 'tab' | 'hole';
  /** Between the two parallel sides; the short side of a hole. */
  widthMm: number;
  /** The shorter of the two sides: the depth of a slot, how far a tab stands out; the long side of a hole. */
  lengthMm: number;
  /** Middle of the width, at the foot of the sides. */
  x: number;
  y: number;
  contour: number;
}

/** Straight edges shorter than this are part of a corner, not a side of a joint. */
const SHORTEST_EDGE_MM = 0.5;

/** Sides may be this far from parallel and square, radians. */
const SQUARE = 1 * (Math.PI / 180);

/** A straight side of a contour after points along it have been taken out. */
interface Edge {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
  lengthMm: number;
  /** Path along the contour from its end to the start of the next edge, mm. */
  gapMm: number;
}

/**
 * Finds rectangular slots, tabs and holes: two parallel sides joined by a third that is square to both. Rounded or
 * relieved corners are allowed for. Joints wider than `widestMm` are left out.
 */
export function findJoints(
  lines: readonly Polyline[],
  widestMm: number,
  { depth }: Pick<Nesting, 'depth'> = nestContours(lines),
): Joint[] {
  const joints: Joint[] = [];
  for (const [contour, line] of lines.entries()) {
    if (!line.closed) continue;
    const edges = straightEdges(line);
    const area = signedAreaMm2(line);
    const isHole = depth[contour]! % 2 === 1;
    if (edges.length === 4 && isRectangle(edges, Math.abs(area))) {
      if (isHole) joints.push(...rectangleHole(edges, contour, widestMm));
      continue;
    }
    for (let i = 0; i < edges.length && edges.length > 4; i++) {
      const joint = jointAt(edges, i, area > 0, isHole, contour);
      if (joint && joint.widthMm <= widestMm) joints.push(joint);
    }
  }
  return joints;
}

/** Edges in order: points within a hundredth of a millimetre of the line through are taken out first. */
function straightEdges(line: Polyline): Edge[] {
  const corners = cornersOf(line);
  const n = corners.length;
  const edges: Edge[] = [];
  let gap = 0;
  let lead = 0;
  for (let k = 0; k < n; k++) {
    const [x0, y0] = corners[k]!;
    const [x1, y1] = corners[(k + 1) % n]!;
    const lengthMm = Math.hypot(x1 - x0, y1 - y0);
    if (lengthMm < SHORTEST_EDGE_MM) {
      gap += lengthMm;
      continue;
    }
    const last = edges[edges.length - 1];
    if (last) last.gapMm = gap;
    else lead = gap;
    gap = 0;
    edges.push({ x0, y0, x1, y1, lengthMm, gapMm: 0 });
  }
  const last = edges[edges.length - 1];
  if (last) last.gapMm = gap + lead;
  return edges;
}

/** The points where a contour really turns. */
function cornersOf(line: Polyline): [number, number][] {
  const points: [number, number][] = [];
  for (let i = 0; i + 1 < line.xy.length; i += 2) {
    const x = line.xy[i]!;
    const y = line.xy[i + 1]!;
    const last = points[points.length - 1];
    if (usable(x) && usable(y) && !(last && last[0] === x && last[1] === y)) points.push([x, y]);
  }
  while (points.length > 1 && samePoint(points[0]!, points[points.length - 1]!)) points.pop();
  const n = points.length;
  return points.filter(([x, y], k) => {
    const [ax, ay] = points[(k + n - 1) % n]!;
    const [bx, by] = points[(k + 1) % n]!;
    const angle = Math.atan2((x - ax) * (by - y) - (y - ay) * (bx - x), (x - ax) * (bx - x) + (y - ay) * (by - y));
    return Math.abs(angle) > SQUARE / 2;
  });
}

const samePoint = (a: readonly [number, number], b: readonly [number, number]): boolean =>
  Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-6;

/** Turn from one edge to the next, radians, left positive. */
function turnBetween(a: Edge, b: Edge): number {
  const ax = a.x1 - a.x0;
  const ay = a.y1 - a.y0;
  const bx = b.x1 - b.x0;
  const by = b.y1 - b.y0;
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

function isRectangle(edges: readonly Edge[], areaMm2: number): boolean {
  const turns = edges.map((edge, i) => turnBetween(edge, edges[(i + 1) % 4]!));
  if (!turns.every((t) => Math.abs(Math.abs(t) - Math.PI / 2) < SQUARE && Math.sign(t) === Math.sign(turns[0]!))) {
    return false;
  }
  const { width, length } = sides(edges);
  // Rounded corners take a little of the area; anything more is no rectangle.
  return areaMm2 > 0.8 * width * length;
}

/** Distances between opposite sides of a rectangle: they hold where the corners are rounded too. */
function sides(edges: readonly Edge[]): { width: number; length: number } {
  const a = apart(edges[0]!, edges[2]!);
  const b = apart(edges[1]!, edges[3]!);
  return { width: Math.min(a, b), length: Math.max(a, b) };
}

/** Distance of the middle of `b` from the line through `a`, mm. */
function apart(a: Edge, b: Edge): number {
  const x = (b.x0 + b.x1) / 2 - a.x0;
  const y = (b.y0 + b.y1) / 2 - a.y0;
  return Math.abs((a.x1 - a.x0) * y - (a.y1 - a.y0) * x) / a.lengthMm;
}

function rectangleHole(edges: readonly Edge[], contour: number, widestMm: number): Joint[] {
  const { width, length } = sides(edges);
  if (width > widestMm) return [];
  const x = edges.reduce((sum, e) => sum + (e.x0 + e.x1) / 8, 0);
  const y = edges.reduce((sum, e) => sum + (e.y0 + e.y1) / 8, 0);
  return [{ kind: 'hole', widthMm: width, lengthMm: length, x, y, contour }];
}

/** A joint whose first side is edge i, when the next two close it. */
function jointAt(
  edges: readonly Edge[],
  i: number,
  anticlockwise: boolean,
  isHole: boolean,
  contour: number,
): Joint | null {
  const n = edges.length;
  const a = edges[i]!;
  const foot = edges[(i + 1) % n]!;
  const b = edges[(i + 2) % n]!;
  const first = turnBetween(a, foot);
  const second = turnBetween(foot, b);
  if (Math.abs(Math.abs(first) - Math.PI / 2) > SQUARE || Math.abs(second - first) > SQUARE) return null;
  const widthMm = apart(a, b);
  const play = 0.3 * widthMm;
  if (a.gapMm > play || foot.gapMm > play) return null;
  // Turning towards the inside of the contour goes round material, or, in a hole, round the void.
  const inwards = first > 0 === anticlockwise;
  return {
    kind: inwards === isHole ? 'slot' : 'tab',
    widthMm,
    lengthMm: Math.min(a.lengthMm, b.lengthMm) + Math.max(a.gapMm, foot.gapMm) / 2,
    x: (foot.x0 + foot.x1) / 2,
    y: (foot.y0 + foot.y1) / 2,
    contour,
  };
}
