import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexHull } from '../../src/geometry/outlines/hull.ts';

type Point = [x: number, y: number];
const corners = (points: readonly Point[]): Point[] => {
  const hull = convexHull(points.flat());
  return Array.from({ length: hull.length / 2 }, (_, i) => [hull[2 * i]!, hull[2 * i + 1]!]);
};
/** The same ring, begun at its lowest of the leftmost corners. */
const fromLeft = (ring: readonly Point[]): Point[] => {
  const order = [...ring.keys()].sort((a, b) => ring[a]![0] - ring[b]![0] || ring[a]![1] - ring[b]![1]);
  const first = order[0] ?? 0;
  return [...ring.slice(first), ...ring.slice(0, first)];
};
const left = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point) => (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

const point: fc.Arbitrary<Point> = fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 }));
const points = fc.array(point, { minLength: 3, maxLength: 30 });

describe('the convex hull', () => {
  it('turns left at each of its corners and has every point on its left', () => {
    fc.assert(
      fc.property(points, (given) => {
        const hull = corners(given);
        if (hull.length < 3) return;
        for (const [i, a] of hull.entries()) {
          const b = hull[(i + 1) % hull.length]!;
          expect(left(a, b, hull[(i + 2) % hull.length]!)).toBeGreaterThan(0);
          for (const each of given) expect(left(a, b, each)).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  it('of its own corners is itself, whichever way and from wherever they are drawn, the first twice or not', () => {
    fc.assert(
      fc.property(points, fc.nat(), fc.boolean(), fc.boolean(), (given, start, backwards, again) => {
        const hull = corners(given);
        if (hull.length < 3) return;
        const first = start % hull.length;
        const drawn = [...hull.slice(first), ...hull.slice(0, first)];
        if (backwards) drawn.reverse();
        if (again) drawn.push(drawn[0]!);
        expect(fromLeft(corners(drawn))).toEqual(fromLeft(hull));
      }),
    );
  });

  it('of a star whose lines go round twice are its tips', () => {
    const tips = Array.from({ length: 5 }, (_, k): Point => {
      const angle = (4 * Math.PI * k) / 5;
      return [10 * Math.cos(angle), 10 * Math.sin(angle)];
    });
    const hull = corners(tips);
    expect(hull).toHaveLength(5);
    for (const [i, a] of hull.entries()) expect(left(a, hull[(i + 1) % 5]!, hull[(i + 2) % 5]!)).toBeGreaterThan(0);
  });

  it('leaves out what is no place', () => {
    expect(convexHull([Number.NaN, 0, 1, Infinity])).toHaveLength(0);
    expect(
      corners([
        [0, 0],
        [4, 0],
        [Number.NaN, 2],
        [4, 4],
        [0, 1e9],
        [0, 4],
      ]),
    ).toHaveLength(4);
  });
});
