import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { joinChains } from '../../src/geometry/outlines/chains.ts';
import { nestContours } from '../../src/geometry/outlines/contours.ts';
import { findCrossings } from '../../src/geometry/outlines/crossings.ts';
import { narrowPlaces } from '../../src/geometry/outlines/distance.ts';
import type { Polyline } from '../../src/geometry/outlines/outline.ts';
import { findJoints, leastWidthMm } from '../../src/geometry/outlines/widths.ts';
import { coverageOf } from '../../src/geometry/overlap/coverage.ts';
import { findOverlaps } from '../../src/geometry/overlap/overlap.ts';
import { findPlacement } from '../../src/geometry/placement/placement.ts';
import { segmentsOf } from '../../src/geometry/segments/segments.ts';
import { listed } from './drawings.ts';

/** Every search, on one drawing. */
function searchAll(lines: Polyline[]): void {
  const segments = segmentsOf(lines);
  const overlaps = listed(findOverlaps(segments));
  expect(overlaps.every((one) => one.lengthMm > 0 && Number.isFinite(one.lengthMm))).toBe(true);
  const chains = joinChains(segments, 0.01);
  expect(chains.item).toHaveLength(segments.count);
  expect(nestContours(lines).parent).toHaveLength(lines.length);
  expect(findCrossings(lines).items.every((p) => Number.isFinite(p.x + p.y))).toBe(true);
  expect(narrowPlaces(lines, 1).items.every((p) => p.distanceMm > 0 && p.distanceMm < 1)).toBe(true);
  const covered = coverageOf(segments, segments, { toleranceMm: 0.05 });
  expect(covered.missingMm).toBeLessThanOrEqual(1e-9 * (1 + covered.coveredMm));
  findJoints(lines, 30);
  for (const line of lines) expect(leastWidthMm(line)).not.toBeNaN();
  findPlacement(lines, lines);
}

describe('every search ends with finite numbers', () => {
  it('on drawings of odd coordinates', () => {
    const coordinate = fc.oneof(
      fc.integer({ min: -5, max: 5 }),
      fc.double({ min: -50, max: 50 }),
      fc.double(),
      fc.constantFrom(Number.NaN, Infinity, -Infinity, 1e6, -1e6, 1e-300, Number.MAX_VALUE),
    );
    const polyline = fc
      .record({ values: fc.array(coordinate, { maxLength: 16 }), closed: fc.boolean() })
      .map(({ values, closed }) => ({ xy: Float64Array.from(values), closed }));
    fc.assert(
      fc.property(fc.array(polyline, { maxLength: 5 }), (lines) => {
        searchAll(lines);
      }),
      { numRuns: 60 },
    );
  });

  it('on ten thousand copies of one line, there and back', () => {
    const xy = new Float64Array(20_000);
    for (let i = 2; i < xy.length; i += 4) xy[i] = 100;
    const found = listed(findOverlaps(segmentsOf([{ xy, closed: false }])));
    expect(found).toHaveLength(1);
    expect(found[0]!.passes).toBe(9_999);
    expect(found[0]!.owners).toHaveLength(255);
  });

  it('on a thousand lines through one point', () => {
    const lines = Array.from({ length: 1000 }, (_, k) => {
      const [c, s] = [50 * Math.cos((k * Math.PI) / 1000), 50 * Math.sin((k * Math.PI) / 1000)];
      return { xy: Float64Array.of(-c, -s, c, s), closed: false };
    });
    const crossings = findCrossings(lines);
    expect(crossings.items).toHaveLength(10_000);
    expect(crossings.endedEarly).toContain('more than 10000 places');
    expect(narrowPlaces(lines, 1).endedEarly).toBeNull();
  });

  it('on five thousand contours one in another', () => {
    const lines = Array.from({ length: 5000 }, (_, k) => {
      const r = 1 + k / 50;
      return { xy: Float64Array.of(-r, -r, r, -r, r, r, -r, r), closed: true };
    });
    const { depth } = nestContours(lines);
    expect(depth[4999]).toBe(0);
    expect(depth[0]).toBe(4999);
  });
});
