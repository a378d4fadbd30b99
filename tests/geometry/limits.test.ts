import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findCrossings } from '../../src/geometry/outlines/crossings.ts';
import { narrowPlaces } from '../../src/geometry/outlines/distance.ts';
import type { Polyline } from '../../src/geometry/outlines/outline.ts';
import { coverageOf } from '../../src/geometry/overlap/coverage.ts';
import { findOverlaps } from '../../src/geometry/overlap/overlap.ts';
import { findPlacement } from '../../src/geometry/placement/placement.ts';
import { segmentsOf, totalLengthMm } from '../../src/geometry/segments/segments.ts';
import { listed } from './drawings.ts';

/** Lines across a square, so that many cross, lie on each other or come near; where the square is small some are drawn again. */
const drawings = fc
  .constantFrom(3, 20)
  .chain((side) =>
    fc.array(fc.tuple(fc.nat(side), fc.nat(side), fc.nat(side), fc.nat(side)), { minLength: 2, maxLength: 25 }),
  )
  .map((rows) => rows.map(([x0, y0, x1, y1]): Polyline => ({ xy: Float64Array.of(x0, y0, x1, y1), closed: false })));
const limits = fc.nat(400);

const line = (x0: number, y0: number, x1: number, y1: number): Polyline => ({
  xy: Float64Array.of(x0, y0, x1, y1),
  closed: false,
});
/** Near enough to be one line, and not the same: those need no search. */
const copies = (count: number) => Array.from({ length: count }, (_, k) => line(0, k * 1e-4, 10, k * 1e-4));

describe('a search with a limit of work', () => {
  it('for crossings finds some of all, and all where it does not say that it ended early', () => {
    fc.assert(
      fc.property(drawings, limits, (lines, most) => {
        const all = findCrossings(lines);
        const some = findCrossings(lines, most);
        expect(all.endedEarly).toBeNull();
        if (some.endedEarly === null) expect(some).toEqual(all);
        // Some of all and in its order, not its beginning: an outline drawn again is told of wherever its like was come to.
        else
          expect(all.items.filter((one) => some.items.some((found) => isDeepStrictEqual(found, one)))).toEqual(
            some.items,
          );
      }),
    );
    expect(findCrossings([line(0, 0, 9, 9), line(0, 9, 9, 0)], 0).endedEarly).not.toBeNull();
  });

  it('for narrow places finds no more, and all where it does not say that it ended early', () => {
    fc.assert(
      fc.property(drawings, limits, (lines, mostWork) => {
        const all = narrowPlaces(lines, 2);
        const some = narrowPlaces(lines, 2, { mostWork });
        expect(all.endedEarly).toBeNull();
        if (some.endedEarly === null) expect(some).toEqual(all);
        else expect(some.items.length).toBeLessThanOrEqual(all.items.length);
      }),
    );
    expect(narrowPlaces([line(0, 0, 9, 0), line(0, 1, 9, 1)], 2, { mostWork: 0 }).endedEarly).not.toBeNull();
  });

  it('for coverage takes what it did not come to neither for covered nor for missing', () => {
    fc.assert(
      fc.property(drawings, drawings, limits, (a, b, mostWork) => {
        const [of, by] = [segmentsOf(a), segmentsOf(b)];
        const all = coverageOf(of, by, { toleranceMm: 0.1 });
        const some = coverageOf(of, by, { toleranceMm: 0.1, mostWork });
        const whole = totalLengthMm(of);
        expect(all.missing.endedEarly).toBeNull();
        expect(all.coveredMm + all.missingMm).toBeCloseTo(whole, 6);
        if (some.missing.endedEarly === null) expect(some).toEqual(all);
        else {
          expect(some.pairs.endedEarly).toBe(some.missing.endedEarly);
          expect(some.coveredMm).toBeLessThanOrEqual(all.coveredMm + 1e-9);
          expect(some.missingMm).toBeLessThanOrEqual(all.missingMm + 1e-9);
          for (const { owner } of some.missing.items) {
            expect(all.missing.items.map((one) => one.owner)).toContain(owner);
          }
        }
      }),
    );
    // The second line lies on nothing, but nobody looked.
    const found = coverageOf(segmentsOf([line(0, 0, 9, 0), line(0, 5, 9, 5)]), segmentsOf([line(0, 0, 9, 0)]), {
      toleranceMm: 0.1,
      mostWork: 1,
    });
    expect(found).toMatchObject({ coveredMm: 9, missingMm: 0, missing: { items: [] } });
    expect(found.missing.endedEarly).not.toBeNull();
  });

  it.each([
    ['work', { mostWork: 5 }],
    ['all work', { mostWork: 0 }],
  ])('for overlaps says that it ran out of %s, and loses no length', (_, limit) => {
    const segments = segmentsOf(copies(60));
    const all = findOverlaps(segments);
    const some = findOverlaps(segments, limit);
    expect(all.endedEarly).toBeNull();
    expect(listed(all).map(({ passes }) => passes)).toEqual([60]);
    expect(some.endedEarly).not.toBeNull();
    const length = listed(some).reduce((sum, one) => sum + one.passes * one.lengthMm, 0);
    expect(length).toBeCloseTo(600, 6);
  });

  it('for a placement says so where more looks possible than was tried', () => {
    // Some lines, and a hatch so dense that they lie near its lines wherever they are put, and on them nowhere.
    const some = Array.from({ length: 9 }, (_, i) =>
      line((i * 7) % 11, (i * i * 1.37) % 60, 40 + ((i * 5) % 13), (i * i * 1.37) % 60),
    );
    const hatch = Array.from({ length: 50 }, (_, i) => line(0, i * 1.6, 90, i * 1.6));
    const found = findPlacement(some, hatch);
    expect(found.placement).toBeNull();
    expect(found.endedEarly).toContain('more turns, moves and sizes look possible');
  });
});
