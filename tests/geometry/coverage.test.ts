import { describe, expect, it } from 'vitest';
import { coverageOf } from '../../src/geometry/overlap/coverage.ts';
import { SegmentBuilder, segmentsOf, totalLengthMm } from '../../src/geometry/segments/segments.ts';
import { arcFrom, type OwnedRow, outlineOf, segmentsOfRows } from './drawings.ts';

const lines = (...rows: OwnedRow[]) => segmentsOfRows(rows);

describe('coverage', () => {
  it('says what is covered, by whom, and what is missing, where', () => {
    const artwork = lines([0, 0, 10, 0, 4], [10, 0, 30, 0, 4]);
    const toolpath = lines([18, 0, 0, 0, 1], [25, 0, 20, 0, 2]);
    const found = coverageOf(artwork, toolpath, { toleranceMm: 0.01 });
    expect(found.coveredMm).toBeCloseTo(23, 1);
    expect(found.missingMm).toBeCloseTo(7, 1);
    expect(found.missing.items.map((m) => [m.owner, Math.round(m.x0), Math.round(m.x1)])).toEqual([
      [4, 18, 20],
      [4, 25, 30],
    ]);
    expect(found.pairs.items.map((p) => [p.ownerA, p.ownerB, Math.round(p.lengthMm)])).toEqual([
      [4, 1, 18],
      [4, 2, 5],
    ]);
    expect([...found.coveredBySegmentMm].map(Math.round)).toEqual([10, 13]);
  });

  it('is full between an arc and chords, and joins what is missing of a curve into one place', () => {
    const arcs = new SegmentBuilder();
    arcs.addArc(arcFrom([0, 0], [5, 0], [-5, 0], Math.PI), 0.002, 0);
    const whole = segmentsOf([outlineOf({ corners: 0, x: 0, y: 0, inradiusMm: 5, turnRad: 0, hole: false }, 0, 90)]);
    const half = arcs.finish();
    expect(coverageOf(half, whole, { toleranceMm: 0.05 }).missingMm).toBe(0);
    const back = coverageOf(whole, half, { toleranceMm: 0.05 });
    expect(back.missing.items).toHaveLength(1);
    expect(back.missingMm).toBeCloseTo(5 * Math.PI, 0);
  });

  it('allows for a kerf offset, with square and with rounded corners', () => {
    const square = segmentsOf([{ xy: Float64Array.of(0, 0, 20, 0, 20, 20, 0, 20), closed: true }]);
    const offset = 0.12;
    const grown = new SegmentBuilder();
    const r = offset;
    grown.addLine(0, -r, 20, -r, 0);
    grown.addArc(arcFrom([20, 0], [20, -r], [20 + r, 0], Math.PI / 2), 0.002, 0);
    grown.addLine(20 + r, 0, 20 + r, 20, 0);
    grown.addArc(arcFrom([20, 20], [20 + r, 20], [20, 20 + r], Math.PI / 2), 0.002, 0);
    grown.addLine(20, 20 + r, 0, 20 + r, 0);
    grown.addArc(arcFrom([0, 20], [0, 20 + r], [-r, 20], Math.PI / 2), 0.002, 0);
    grown.addLine(-r, 20, -r, 0, 0);
    grown.addArc(arcFrom([0, 0], [-r, 0], [0, -r], Math.PI / 2), 0.002, 0);
    const rounded = grown.finish();
    const options = { toleranceMm: 0.05, offsetMm: offset };
    expect(coverageOf(square, rounded, options).missingMm).toBe(0);
    expect(coverageOf(rounded, square, options).missingMm).toBe(0);
    expect(coverageOf(square, rounded, { toleranceMm: 0.05 }).coveredMm).toBeLessThan(1);
    const shrunk = segmentsOf([{ xy: Float64Array.of(r, r, 20 - r, r, 20 - r, 20 - r, r, 20 - r), closed: true }]);
    expect(coverageOf(square, shrunk, options).missingMm).toBe(0);
  });

  it('does not take crossing lines, or lines beside, for cover', () => {
    const line = lines([0, 0, 10, 0]);
    expect(coverageOf(line, lines([5, -5, 5, 5], [0, 0.2, 10, 0.2]), { toleranceMm: 0.1 }).coveredMm).toBe(0);
    expect(coverageOf(line, lines(), { toleranceMm: 0.1 })).toMatchObject({ coveredMm: 0, missingMm: 10 });
    expect(coverageOf(lines(), line, { toleranceMm: 0.1 })).toMatchObject({ coveredMm: 0, missingMm: 0 });
  });

  it('counts each part once, for the nearest line', () => {
    const a = lines([0, 0, 10, 0]);
    const found = coverageOf(a, lines([0, 0.04, 10, 0.04], [10, 0.01, 0, 0.01]), { toleranceMm: 0.05 });
    expect(found.pairs.items).toEqual([{ ownerA: 0, ownerB: 1, lengthMm: 10 }]);
    expect(found.coveredMm).toBe(totalLengthMm(a));
  });
});
