import { usable } from '../segments/segments.ts';

/** The convex hull's corners, anticlockwise, as x0, y0, x1, y1, … Points that are not finite, or beyond a kilometre, are left out. */
export function convexHull(xy: ArrayLike<number>): Float64Array {
  return convexRing(xy) ?? hullOf(xy);
}

/**
 * The least width of a convex ring as `convexHull` gives it: how far apart two parallel lines are at the least between which it lies. A
 * circle of a greater diameter fits into nothing that lies inside the ring.
 */
export function widthOfHull(hull: ArrayLike<number>): number {
  let least = Infinity;
  for (let a = hull.length - 2, b = 0; b < hull.length; a = b, b += 2) {
    const lengthMm = Math.hypot(hull[b]! - hull[a]!, hull[b + 1]! - hull[a + 1]!);
    let farthest = 0;
    for (let c = 0; c < hull.length; c += 2) farthest = Math.max(farthest, turn(hull, a, b, c));
    if (lengthMm > 0) least = Math.min(least, farthest / lengthMm);
  }
  return Number.isFinite(least) ? least : 0;
}

/** The points of an outline that turns at each of them and is convex already, anticlockwise; null when it is not. Most parts are. */
function convexRing(xy: ArrayLike<number>): Float64Array | null {
  const ring = ringOf(xy);
  const n = ring?.length ?? 0;
  if (ring === null || n < 6) return null;
  let left = false;
  let right = false;
  // An outline that turns one way only is convex if it goes round but once: if it begins to rise but once.
  let rises = 0;
  let rising = risesFrom(ring, n - 2, 0);
  for (let a = n - 2, b = 0; b < n; a = b, b += 2) {
    const c = b + 2 < n ? b + 2 : 0;
    const turned = turn(ring, a, b, c);
    if (turned > 0) left = true;
    else if (turned < 0) right = true;
    if (turned === 0 || (left && right)) return null;
    const risesNow = risesFrom(ring, b, c);
    if (risesNow && !rising && ++rises > 1) return null;
    rising = risesNow;
  }
  return left ? ring : reversed(ring, n);
}

/** Whether the side from point `a` to point `b` leads up, or level to the right. */
function risesFrom(ring: Float64Array, a: number, b: number): boolean {
  return ring[a + 1]! < ring[b + 1]! || (ring[a + 1] === ring[b + 1] && ring[a]! < ring[b]!);
}

/** The points once each, where the outline stands still; null when one of them cannot be used. */
function ringOf(xy: ArrayLike<number>): Float64Array | null {
  const ring = new Float64Array(xy.length);
  let n = 0;
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const x = xy[i]!;
    const y = xy[i + 1]!;
    if (!usable(x) || !usable(y)) return null;
    if (n > 0 && ring[n - 2] === x && ring[n - 1] === y) continue;
    ring[n++] = x;
    ring[n++] = y;
  }
  while (n > 2 && ring[0] === ring[n - 2] && ring[1] === ring[n - 1]) n -= 2;
  return ring.subarray(0, n);
}

/** Andrew's monotone chains. */
function hullOf(xy: ArrayLike<number>): Float64Array {
  const order: number[] = [];
  for (let i = 0; i + 1 < xy.length; i += 2) if (usable(xy[i]!) && usable(xy[i + 1]!)) order.push(i);
  order.sort((a, b) => xy[a]! - xy[b]! || xy[a + 1]! - xy[b + 1]!);
  const hull: number[] = [];
  const chain = (points: readonly number[], floor: number): void => {
    for (const p of points) {
      while (hull.length >= floor + 2 && turn(xy, hull[hull.length - 2]!, hull[hull.length - 1]!, p) <= 0) hull.pop();
      hull.push(p);
    }
    hull.pop();
  };
  chain(order, 0);
  chain(order.reverse(), hull.length);
  return Float64Array.from(hull.flatMap((p) => [xy[p]!, xy[p + 1]!]));
}

const turn = (xy: ArrayLike<number>, a: number, b: number, c: number): number =>
  (xy[b]! - xy[a]!) * (xy[c + 1]! - xy[a + 1]!) - (xy[b + 1]! - xy[a + 1]!) * (xy[c]! - xy[a]!);

function reversed(ring: Float64Array, n: number): Float64Array {
  const turned = new Float64Array(n);
  for (let i = 0; i < n; i += 2) {
    turned[i] = ring[n - 2 - i]!;
    turned[i + 1] = ring[n - 1 - i]!;
  }
  return turned;
}
