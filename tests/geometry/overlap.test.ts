import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findOverlaps } from '../../src/geometry/overlap/overlap.ts';
import type { Stretches } from '../../src/geometry/overlap/stretches.ts';
import { SegmentBuilder, type Segments, totalLengthMm } from '../../src/geometry/segments/segments.ts';
import { arcFrom, listed, type OwnedRow, segmentsOfRows } from './drawings.ts';

const lines = (...rows: OwnedRow[]) => segmentsOfRows(rows);

/** Length by number of passes. */
function lengths(stretches: Stretches): Record<number, number> {
  const by: Record<number, number> = {};
  for (const { passes, lengthMm } of listed(stretches)) by[passes] = (by[passes] ?? 0) + lengthMm;
  return by;
}

describe('a stretch that is run along again', () => {
  it('is found backwards, and only where both run', () => {
    const found = findOverlaps(lines([0, 0, 10, 0], [10, 0, 0, 0], [3, 0, 20, 0]));
    expect(lengths(found)).toEqual({ 1: 10, 2: 3, 3: 7 });
    const threefold = listed(found).find((one) => one.passes === 3);
    expect(threefold).toMatchObject({ owners: [0, 1, 2], owner: 0 });
  });

  it('counts twice when one stroke retraces itself', () => {
    const found = findOverlaps(lines([0, 0, 10, 0, 7], [10, 0, 10, 5, 7], [10, 5, 10, 0, 7], [10, 0, 20, 0, 7]));
    expect(lengths(found)).toEqual({ 1: 20, 2: 5 });
    expect(listed(found).find((one) => one.passes === 2)!.owners).toEqual([7, 7]);
  });

  it('is found between an arc and chords of the same circle', () => {
    const builder = new SegmentBuilder();
    builder.addArc(arcFrom([0, 0], [10, 0], [10, 0], 2 * Math.PI), 0.005, 0);
    for (let k = 0; k < 64; k++) {
      const a = 0.3 - (k / 64) * 2 * Math.PI;
      const b = 0.3 - ((k + 1) / 64) * 2 * Math.PI;
      builder.addLine(10 * Math.cos(a), 10 * Math.sin(a), 10 * Math.cos(b), 10 * Math.sin(b), 1);
    }
    const by = lengths(findOverlaps(builder.finish()));
    expect(Object.keys(by)).toEqual(['2']);
    expect(by[2]).toBeCloseTo(20 * Math.PI, 1);
  });

  it('is found on small holes with few chords', () => {
    const builder = new SegmentBuilder();
    builder.addArc(arcFrom([0, 0], [0.5, 0], [0.5, 0], 2 * Math.PI), 0.002, 0);
    builder.addArc(arcFrom([0, 0], [0, 0.5], [0, 0.5], -2 * Math.PI), 0.01, 1);
    const by = lengths(findOverlaps(builder.finish()));
    expect(Object.keys(by)).toEqual(['2']);
  });
});

describe('any circle', () => {
  it('overlaps itself all round when it is flattened in two ways', () => {
    const angle = fc.double({ min: 0, max: 6, noNaN: true });
    const tolerance = fc.double({ min: 0.0005, max: 0.02, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 150, noNaN: true }),
        angle,
        angle,
        tolerance,
        tolerance,
        (r, a, b, p, q) => {
          const builder = new SegmentBuilder();
          const [ax, ay, bx, by] = [r * Math.cos(a), r * Math.sin(a), r * Math.cos(b), r * Math.sin(b)];
          builder.addArc(arcFrom([0, 0], [ax, ay], [ax, ay], 2 * Math.PI), p, 0);
          builder.addArc(arcFrom([0, 0], [bx, by], [bx, by], -2 * Math.PI), q, 1);
          const by2 = lengths(findOverlaps(builder.finish()));
          // Where the first circle closes, one joint cannot be told from an end.
          expect(by2[1] ?? 0).toBeLessThan(0.05);
          expect(by2[3]).toBeUndefined();
          expect(by2[2]! / (2 * Math.PI * r)).toBeGreaterThan(0.94);
        },
      ),
    );
  });
});

describe('what is no overlap', () => {
  it.each([
    ['a crossing at a right angle', lines([0, 0, 10, 0], [5, -5, 5, 5])],
    ['a crossing at three degrees', lines([0, 0, 40, 0], [0, -1, 40, 1])],
    ['parallel lines 0.1 mm apart', lines([0, 0, 10, 0], [0, 0.1, 10, 0.1])],
    ['lines end to end', lines([0, 0, 10, 0], [10, 0, 20, 0])],
    ['ends that meet with a rounding error', lines([0, 0, 10.0005, 0], [10, 0, 20, 0])],
  ])('%s', (_, segments) => {
    const found = listed(findOverlaps(segments));
    expect(found.every((one) => one.passes === 1)).toBe(true);
    expect(found.reduce((sum, one) => sum + one.lengthMm, 0)).toBeCloseTo(totalLengthMm(segments), 9);
  });

  it('neighbouring chords of one finely drawn circle', () => {
    const builder = new SegmentBuilder();
    for (let k = 0; k < 5000; k++) {
      const a = (k / 5000) * 2 * Math.PI;
      const b = ((k + 1) / 5000) * 2 * Math.PI;
      builder.addLine(5 * Math.cos(a), 5 * Math.sin(a), 5 * Math.cos(b), 5 * Math.sin(b), 0);
    }
    expect(Object.keys(lengths(findOverlaps(builder.finish())))).toEqual(['1']);
  });

  it('input that is not finite, which is counted', () => {
    const segments = lines([0, 0, 10, 0], [Number.NaN, 0, 1, 1], [0, 0, Infinity, 1], [0, 0, 1e9, 0]);
    expect(segments.ignored).toBe(3);
    expect(listed(findOverlaps(segments))).toHaveLength(1);
  });
});

/** Axis-parallel lines on a whole-millimetre grid: passes per unit edge can be counted by hand. */
const gridLines = fc.array(
  fc.record({
    upright: fc.boolean(),
    at: fc.integer({ min: 0, max: 3 }),
    from: fc.integer({ min: 0, max: 8 }),
    length: fc.integer({ min: 1, max: 6 }),
    back: fc.boolean(),
  }),
  { minLength: 1, maxLength: 12 },
);
type GridLine = { upright: boolean; at: number; from: number; length: number; back: boolean };

function drawn(rows: GridLine[], turnRad = 0, dx = 0, dy = 0, splits: readonly number[] = []): Segments {
  const builder = new SegmentBuilder();
  const c = Math.cos(turnRad);
  const s = Math.sin(turnRad);
  rows.forEach((row, i) => {
    const ends = row.back ? [row.from + row.length, row.from] : [row.from, row.from + row.length];
    const marks = [0, ...splits.filter((share) => share > 0.05 && share < 0.95).sort((a, b) => a - b), 1];
    for (let k = 0; k + 1 < marks.length; k++) {
      const a = ends[0]! + (ends[1]! - ends[0]!) * marks[k]!;
      const b = ends[0]! + (ends[1]! - ends[0]!) * marks[k + 1]!;
      const [ax, ay, bx, by] = row.upright ? [row.at, a, row.at, b] : [a, row.at, b, row.at];
      builder.addLine(ax * c - ay * s + dx, ax * s + ay * c + dy, bx * c - by * s + dx, bx * s + by * c + dy, i);
    }
  });
  return builder.finish();
}

/** Reference: count the lines over every unit edge of the grid. */
function countedEdges(rows: GridLine[]): Record<number, number> {
  const edges = new Map<string, number>();
  for (const row of rows) {
    for (let k = 0; k < row.length; k++) {
      const key = `${row.upright} ${row.at} ${row.from + k}`;
      edges.set(key, (edges.get(key) ?? 0) + 1);
    }
  }
  const by: Record<number, number> = {};
  for (const n of edges.values()) by[n] = (by[n] ?? 0) + 1;
  return by;
}

function expectSame(found: Record<number, number>, wanted: Record<number, number>, digits = 6): void {
  for (const n of new Set([...Object.keys(found), ...Object.keys(wanted)])) {
    expect(found[Number(n)] ?? 0, `length with ${n} passes`).toBeCloseTo(wanted[Number(n)] ?? 0, digits);
  }
}

describe('passes over a grid of lines', () => {
  it('agree with a count edge by edge, turned and moved at will', () => {
    fc.assert(
      fc.property(gridLines, fc.double({ min: -4, max: 4, noNaN: true }), fc.integer(), (rows, turn, shift) => {
        const found = findOverlaps(drawn(rows, turn, shift % 500, -(shift % 300)));
        expectSame(lengths(found), countedEdges(rows));
      }),
    );
  });

  it('do not change when every line is split', () => {
    const splits = fc.array(fc.double({ min: 0.1, max: 0.9, noNaN: true }), { maxLength: 3 }).filter((marks) => {
      const sorted = [...marks].sort((a, b) => a - b);
      return sorted.every((m, i) => i === 0 || m - sorted[i - 1]! > 0.15);
    });
    fc.assert(
      fc.property(gridLines, splits, (rows, marks) => {
        // Joints closer than the tolerance are drawn together, so lengths may move by that much at each.
        const play = 0.05 * 2 * rows.length * (marks.length + 2);
        const found = lengths(findOverlaps(drawn(rows, 0.4, 3, 5, marks)));
        const wanted = countedEdges(rows);
        for (const n of new Set([...Object.keys(found), ...Object.keys(wanted)])) {
          expect(Math.abs((found[Number(n)] ?? 0) - (wanted[Number(n)] ?? 0))).toBeLessThanOrEqual(play);
        }
      }),
    );
  });

  it('are the same for long slanted lines, some of them cut to pieces, alone or in a crowd', () => {
    const unitMm = 25;
    fc.assert(
      fc.property(
        gridLines,
        fc.double({ min: 0.2, max: 1.3, noNaN: true }),
        fc.constantFrom(1, 14),
        (rows, turn, copies) => {
          const [c, s] = [unitMm * Math.cos(turn), unitMm * Math.sin(turn)];
          const builder = new SegmentBuilder();
          const line = (row: GridLine, a: number, b: number) => {
            const [ax, ay, bx, by] = row.upright ? [row.at, a, row.at, b] : [a, row.at, b, row.at];
            builder.addLine(ax * c - ay * s, ax * s + ay * c, bx * c - by * s, bx * s + by * c, 0);
          };
          for (let copy = 0; copy < copies; copy++) {
            for (const [i, row] of rows.entries()) {
              // Every third in pieces of a fifth: short beside the others.
              const pieces = i % 3 === 2 ? 5 * row.length : 1;
              for (let k = 0; k < pieces; k++) {
                line(row, row.from + (row.length * k) / pieces, row.from + (row.length * (k + 1)) / pieces);
              }
            }
          }
          const wanted: Record<number, number> = {};
          for (const [n, edges] of Object.entries(countedEdges(rows))) wanted[Number(n) * copies] = edges * unitMm;
          expectSame(lengths(findOverlaps(builder.finish())), wanted, 3);
        },
      ),
    );
  });

  it('grow with the number of copies, from two to a crowd', () => {
    fc.assert(
      fc.property(gridLines, fc.constantFrom(2, 7, 200), (rows, copies) => {
        const found = findOverlaps(drawn(Array.from({ length: copies }, () => rows).flat()));
        const wanted: Record<number, number> = {};
        for (const [n, edges] of Object.entries(countedEdges(rows))) wanted[Number(n) * copies] = edges;
        expectSame(lengths(found), wanted);
      }),
      { numRuns: 40 },
    );
  });

  it('do not change when lines are drawn the other way round', () => {
    fc.assert(
      fc.property(gridLines, (rows) => {
        const turned = rows.map((row) => ({ ...row, back: !row.back }));
        expectSame(lengths(findOverlaps(drawn(turned))), lengths(findOverlaps(drawn(rows))));
      }),
    );
  });

  it('conserve the length: stretches times passes is all that was drawn', () => {
    fc.assert(
      fc.property(gridLines, (rows) => {
        const segments = drawn(rows);
        const by = lengths(findOverlaps(segments));
        const sum = Object.entries(by).reduce((total, [n, mm]) => total + Number(n) * mm, 0);
        expect(sum).toBeCloseTo(totalLengthMm(segments), 6);
      }),
    );
  });
});
