import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { looseEnds } from '../../../src/facts/order/loose-ends.ts';
import type { StrokeContour } from '../../../src/facts/strokes/stroke-contours.ts';
import { distanceToSegment } from '../../../src/geometry/segments/segments.ts';

/** A loose end this near to another cut ends on it, mm: as the fact states it. */
const ON_ANOTHER_MM = 0.3;

const contour = (points: readonly (readonly [number, number])[], closed: boolean): StrokeContour => ({
  xy: Float64Array.from(points.flat()),
  closed,
  strokes: new Uint32Array(0),
  gapMm: 0,
});

/** By comparing each end with each segment of all others. */
function byBruteForce(contours: readonly StrokeContour[]): number[] {
  const isOnAnother = (own: number, x: number, y: number): boolean =>
    contours.some(({ xy, closed }, other) => {
      if (other === own) return false;
      const points = xy.length / 2;
      for (let i = 0; i < (closed ? points : points - 1); i++) {
        const next = (i + 1) % points;
        const off = distanceToSegment(x, y, xy[2 * i]!, xy[2 * i + 1]!, xy[2 * next]!, xy[2 * next + 1]!);
        if (off <= ON_ANOTHER_MM) return true;
      }
      return false;
    });
  return contours.flatMap(({ xy, closed }, c) => {
    const isLoose = !isOnAnother(c, xy[0]!, xy[1]!) || !isOnAnother(c, xy.at(-2)!, xy.at(-1)!);
    return !closed && isLoose ? [c] : [];
  });
}

/** On a small sheet, so that ends lie on others; on a large one lines reach across so many squares that an index is asked. */
const drawings = fc.constantFrom(3, 12, 400).chain((sideMm) => {
  const place = fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 40 }));
  const points = fc.array(place, { minLength: 2, maxLength: 14 });
  return fc.array(fc.tuple(points, fc.boolean()), { minLength: 1, maxLength: 60 }).map((lines) =>
    lines.map(([places, closed]) =>
      contour(
        places.map(([x, y]) => [(x / 40) * sideMm - 1, (y / 40) * sideMm - 1] as const),
        closed,
      ),
    ),
  );
});

describe('loose ends', () => {
  it('are those that comparing each end with each segment finds', () => {
    let loose = 0;
    fc.assert(
      fc.property(drawings, (contours) => {
        const found = looseEnds(contours);
        loose += found.length;
        expect(found).toEqual(byBruteForce(contours));
      }),
      { numRuns: 200 },
    );
    expect(loose).toBeGreaterThan(0);
  });

  it('reach to three tenths of a millimetre and no further', () => {
    const line = contour(
      [
        [0, 0],
        [300, 200],
      ],
      false,
    );
    const beside = (offMm: number) => {
      const [ux, uy] = [300 / Math.hypot(300, 200), 200 / Math.hypot(300, 200)];
      const [x, y] = [120 * ux - offMm * uy, 120 * uy + offMm * ux];
      return contour(
        [
          [x, y],
          [x + 0.1, y],
        ],
        false,
      );
    };
    expect(looseEnds([line, beside(0.05)])).toEqual([0]);
    expect(looseEnds([line, beside(0.45)])).toEqual([0, 1]);
  });
});
