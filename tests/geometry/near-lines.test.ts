import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NearLines } from '../../src/geometry/placement/near-lines.ts';
import { distanceToSegment, type Segments } from '../../src/geometry/segments/segments.ts';
import { type Row, segmentsOfRows } from './drawings.ts';

/** The angle between two lines, whichever way they run, in degrees. */
function degreesBetween(a: number, b: number): number {
  const turned = ((((a - b) * 180) / Math.PI) % 180) + 180;
  return Math.min(turned % 180, 180 - (turned % 180));
}

/** Distance of the nearest line that runs within 25° of a direction, by looking at each; null where one is so near to 25° that rounding decides. */
function nearestOfAll(s: Segments, x: number, y: number, angle: number): number | null {
  let least = Infinity;
  for (let i = 0; i < s.count; i++) {
    const [ax, ay, bx, by] = [s.x0[i]!, s.y0[i]!, s.x1[i]!, s.y1[i]!];
    const degrees = degreesBetween(Math.atan2(by - ay, bx - ax), angle);
    if (Math.abs(degrees - 25) < 1e-3) return null;
    if (degrees < 25) least = Math.min(least, distanceToSegment(x, y, ax, ay, bx, by));
  }
  return least;
}

/** Small drawings, and such as lie a kilometre away; few lines, and so many in one place that they are kept in another index. */
const origin = fc.constantFrom(0, 0, -350, 999_000);
const coordinate = fc.oneof(fc.integer({ min: -4, max: 4 }), fc.double({ min: -60, max: 60, noNaN: true }));
const row: fc.Arbitrary<Row> = fc.tuple(coordinate, coordinate, coordinate, coordinate);
const rows = fc.oneof(fc.array(row, { maxLength: 12 }), fc.array(row, { minLength: 60, maxLength: 120 }));
const reach = fc.constantFrom(0, 0.05, 1, 30, 500);
const angle = fc.oneof(fc.constantFrom(0, Math.PI / 2), fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }));

describe('lines near a place', () => {
  it('are found as by looking at each of them', () => {
    fc.assert(
      fc.property(rows, origin, coordinate, coordinate, angle, reach, (lines, far, dx, dy, direction, reachMm) => {
        const segments = segmentsOfRows(lines.map(([a, b, c, d]) => [far + a, far + b, far + c, far + d]));
        const near = new NearLines(segments);
        const at = { x: far + dx, y: far + dy, ux: Math.cos(direction), uy: Math.sin(direction) };
        const wanted = nearestOfAll(segments, at.x, at.y, direction);
        // Where rounding decides, either answer is right.
        if (wanted === null || Math.abs(wanted - reachMm) < 1e-6) return;
        expect(near.isNear(at, reachMm)).toBe(wanted < reachMm);
        const hit = near.nearest(at, reachMm);
        if (wanted > reachMm) {
          expect(hit.distanceMm).toBe(Infinity);
          return;
        }
        expect(hit.distanceMm).toBeCloseTo(wanted, 6);
        expect(Math.hypot(hit.dx, hit.dy)).toBeCloseTo(wanted, 6);
        // From the place by what is told one comes to a line of the drawing.
        const onto = Array.from({ length: segments.count }, (_, i) =>
          distanceToSegment(
            at.x + hit.dx,
            at.y + hit.dy,
            segments.x0[i]!,
            segments.y0[i]!,
            segments.x1[i]!,
            segments.y1[i]!,
          ),
        );
        expect(Math.min(...onto)).toBeLessThan(1e-6);
        expect(Math.hypot(hit.nx, hit.ny)).toBeCloseTo(1, 9);
      }),
      { numRuns: 300 },
    );
  });

  it('are, of some equally near, told of the first', () => {
    // By hand: the corner of an angle is as near along either leg.
    const corner = segmentsOfRows([
      [0, 0, 10, 1],
      [0, 0, 10, -1],
    ]);
    const hit = new NearLines(corner).nearest({ x: -2, y: 0, ux: 1, uy: 0 }, 3);
    expect([hit.distanceMm, hit.dx, hit.dy]).toEqual([2, 2, 0]);
    expect(hit.nx).toBeLessThan(0);
  });

  it('are found among more than any square may hold', () => {
    const fan = segmentsOfRows(Array.from({ length: 500 }, (_, i): Row => [0, i / 1000, 40, i / 1000]));
    const near = new NearLines(fan);
    expect(near.nearest({ x: 20, y: 0.2502, ux: 1, uy: 0 }, 1).distanceMm).toBeCloseTo(0.0002, 9);
    expect(near.isNear({ x: 20, y: 0.6, ux: 0, uy: 1 }, 1)).toBe(false);
  });
});
