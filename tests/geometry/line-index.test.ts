import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineIndex } from '../../src/geometry/index/line-index.ts';
import type { Segments } from '../../src/geometry/segments/segments.ts';
import { segmentsOfRows } from './drawings.ts';

const all = (segments: Segments) => Uint32Array.from({ length: segments.count }, (_, i) => i);

function found(index: LineIndex, i: number, play: number, padMm: number): Set<number> {
  const seen = new Set<number>();
  index.visit(i, play, padMm, (segment) => {
    expect(seen.has(segment), 'shown twice').toBe(false);
    seen.add(segment);
    return false;
  });
  return seen;
}

/** Difference of two directions, whichever way each runs. */
function turnBetween(s: Segments, i: number, j: number): number {
  const [ax, ay, bx, by] = [s.x1[i]! - s.x0[i]!, s.y1[i]! - s.y0[i]!, s.x1[j]! - s.x0[j]!, s.y1[j]! - s.y0[j]!];
  return Math.atan2(Math.abs(ax * by - ay * bx), Math.abs(ax * bx + ay * by));
}

/** Distance of the nearer end of segment j from the line of segment i. */
function offLine(s: Segments, i: number, j: number): number {
  const [dx, dy] = [s.x1[i]! - s.x0[i]!, s.y1[i]! - s.y0[i]!];
  const off = (x: number, y: number) => Math.abs(dx * (y - s.y0[i]!) - dy * (x - s.x0[i]!)) / Math.hypot(dx, dy);
  return Math.min(off(s.x0[j]!, s.y0[j]!), off(s.x1[j]!, s.y1[j]!));
}

describe('an index of lines', () => {
  it('finds every segment that runs the same way on the same line, whatever its direction and place', () => {
    const place = fc.double({ min: -400, max: 400, noNaN: true });
    // Of few directions, so that many run the same way; one is the seam between 0 and half a turn.
    const direction = fc.constantFrom(0, Math.PI, 1e-4, -1e-4, Math.PI / 4, -2.2, Math.PI / 2);
    const row = fc
      .tuple(place, place, direction, fc.double({ min: 0.5, max: 300, noNaN: true }))
      .map(([x, y, angle, length]) => [x, y, x + length * Math.cos(angle), y + length * Math.sin(angle)] as const);
    const rows = fc.array(row, { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(rows, fc.constantFrom(0, 1e-3, 0.01), fc.constantFrom(0.05, 3), (lines, play, padMm) => {
        const segments = segmentsOfRows(lines);
        const index = new LineIndex(segments, all(segments));
        for (let i = 0; i < segments.count; i++) {
          const near = found(index, i, play, padMm);
          expect(near).toContain(i);
          for (let j = 0; j < segments.count; j++) {
            if (turnBetween(segments, i, j) <= play && offLine(segments, i, j) <= padMm) expect(near).toContain(j);
          }
        }
      }),
    );
  });

  it('finds none of a thousand lines that cross at another angle', () => {
    const rows = Array.from({ length: 1000 }, (_, k) => [k / 10, 0, k / 10 + 100, 100] as const);
    const segments = segmentsOfRows([...rows, [0, 100, 199, 0]]);
    const index = new LineIndex(segments, all(segments));
    expect([...found(index, 1000, 0.01, 0.05)]).toEqual([1000]);
    expect(found(index, 500, 1e-4, 0.05).size).toBeLessThan(10);
  });

  it('stops when it is told to, and is not disturbed by being empty', () => {
    const segments = segmentsOfRows(Array.from({ length: 50 }, () => [0, 0, 5, 5] as const));
    let seen = 0;
    expect(new LineIndex(segments, all(segments)).visit(7, 0.01, 0.05, () => ++seen === 3)).toBe(true);
    expect(seen).toBe(3);
    expect(found(new LineIndex(segments, new Uint32Array()), 7, 0.01, 0.05).size).toBe(0);
  });
});
