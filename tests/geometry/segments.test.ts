import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  distanceToSegment,
  flattenArc,
  SegmentBuilder,
  segmentsOf,
  totalLengthMm,
} from '../../src/geometry/segments/segments.ts';
import { arcFrom } from './drawings.ts';

const radii = fc.double({ min: 0.05, max: 2000, noNaN: true });
const sweeps = fc
  .double({ min: -3 * Math.PI, max: 3 * Math.PI, noNaN: true })
  .filter((sweep) => Math.abs(sweep) > 0.001);

describe('an arc as chords', () => {
  it('stays within the tolerance, begins and ends where the arc does', () => {
    fc.assert(
      fc.property(radii, sweeps, fc.double({ min: -4, max: 4, noNaN: true }), (radius, sweep, from) => {
        const [cx, cy] = [12, -7];
        const end = from + sweep;
        const [sx, sy] = [cx + radius * Math.cos(from), cy + radius * Math.sin(from)];
        const [ex, ey] = [cx + radius * Math.cos(end), cy + radius * Math.sin(end)];
        let [x, y] = [sx, sy];
        let length = 0;
        flattenArc(arcFrom([cx, cy], [sx, sy], [ex, ey], sweep), 0.01, (x0, y0, x1, y1) => {
          expect([x0, y0]).toEqual([x, y]);
          const sagitta = radius - Math.hypot((x0 + x1) / 2 - cx, (y0 + y1) / 2 - cy);
          expect(Math.abs(sagitta)).toBeLessThan(0.0101);
          length += Math.hypot(x1 - x0, y1 - y0);
          [x, y] = [x1, y1];
        });
        expect([x, y]).toEqual([ex, ey]);
        // The arc is longer than its chords, by 8/3 of the sagitta's square over the chord for each of them.
        expect(length).toBeLessThanOrEqual(radius * Math.abs(sweep) * (1 + 1e-9));
        expect(length).toBeGreaterThan(radius * Math.abs(sweep) * 0.97);
      }),
    );
  });

  it('blends two radii that differ a little, and takes no input that is not finite', () => {
    const builder = new SegmentBuilder();
    builder.addArc(arcFrom([0, 0], [10, 0], [0, 10.02], Math.PI / 2), 0.001, 0);
    builder.addArc(arcFrom([Number.NaN, 0], [10, 0], [0, 10], Math.PI / 2), 0.001, 0);
    builder.addArc(arcFrom([0, 0], [10, 0], [0, 10], Infinity), 0.001, 0);
    const segments = builder.finish();
    expect(segments.ignored).toBe(2);
    expect(totalLengthMm(segments)).toBeCloseTo((Math.PI / 2) * 10.01, 2);
  });

  it('of a million turns stays bounded', () => {
    let chords = 0;
    flattenArc(arcFrom([0, 0], [100, 0], [100, 0], 2e6 * Math.PI), 0.001, () => chords++);
    expect(chords).toBeLessThanOrEqual(100_000);
  });
});

describe('segments', () => {
  it('of a polyline close it when it is closed, and leave out segments without length', () => {
    const xy = Float64Array.of(0, 0, 3, 0, 3, 0, 3, 4);
    expect(totalLengthMm(segmentsOf([{ xy, closed: true }]))).toBe(12);
    expect(totalLengthMm(segmentsOf([{ xy, closed: false }]))).toBe(7);
    expect(segmentsOf([{ xy, closed: true }]).count).toBe(3);
  });

  it('know their distance from a place', () => {
    expect(distanceToSegment(5, 3, 0, 0, 10, 0)).toBe(3);
    expect(distanceToSegment(13, 4, 0, 0, 10, 0)).toBe(5);
    expect(distanceToSegment(3, 4, 0, 0, 0, 0)).toBe(5);
  });
});
