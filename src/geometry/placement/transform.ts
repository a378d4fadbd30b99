import type { Segments } from '../segments/segments.ts';

/**
 * How one drawing lies on another: first Y is flipped where drawings and machines count it in opposite directions, then
 * it is mirrored left to right, turned anticlockwise by quarter turns, scaled and moved.
 */
export interface Similarity {
  scale: number;
  quarterTurns: 0 | 1 | 2 | 3;
  mirrored: boolean;
  /** Whether Y was flipped as a matter of course: SVG counts it downwards, machines upwards. */
  flippedY: boolean;
  dx: number;
  dy: number;
}

/** The linear part of a similarity, without its scale: x' = a x + c y, y' = b x + d y. */
export interface Orientation {
  a: number;
  b: number;
  c: number;
  d: number;
}

const COS = [1, 0, -1, 0] as const;
const SIN = [0, 1, 0, -1] as const;

export function orientationOf(place: Pick<Similarity, 'quarterTurns' | 'mirrored' | 'flippedY'>): Orientation {
  const sx = place.mirrored ? -1 : 1;
  const sy = place.flippedY ? -1 : 1;
  const cos = COS[place.quarterTurns];
  const sin = SIN[place.quarterTurns];
  return { a: cos * sx, b: sin * sx, c: -sin * sy, d: cos * sy };
}

/** Where a point comes to lie, [x, y] in mm. */
export function placePoint(place: Similarity, x: number, y: number): [number, number] {
  const { a, b, c, d } = orientationOf(place);
  return [place.scale * (a * x + c * y) + place.dx, place.scale * (b * x + d * y) + place.dy];
}

/** The segments as they come to lie; owners and order stay. */
export function placeSegments(place: Similarity, segments: Segments): Segments {
  const { a, b, c, d } = orientationOf(place);
  const { scale, dx, dy } = place;
  const n = segments.count;
  const placed: Segments = {
    ...segments,
    x0: new Float64Array(n),
    y0: new Float64Array(n),
    x1: new Float64Array(n),
    y1: new Float64Array(n),
  };
  for (let i = 0; i < n; i++) {
    placed.x0[i] = scale * (a * segments.x0[i]! + c * segments.y0[i]!) + dx;
    placed.y0[i] = scale * (b * segments.x0[i]! + d * segments.y0[i]!) + dy;
    placed.x1[i] = scale * (a * segments.x1[i]! + c * segments.y1[i]!) + dx;
    placed.y1[i] = scale * (b * segments.x1[i]! + d * segments.y1[i]!) + dy;
  }
  return placed;
}
