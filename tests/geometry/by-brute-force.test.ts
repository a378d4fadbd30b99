import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PointGrid } from '../../src/geometry/index/point-grid.ts';
import { findCrossings } from '../../src/geometry/outlines/crossings.ts';
import { narrowPlaces } from '../../src/geometry/outlines/distance.ts';
import { equalOutlines } from '../../src/geometry/outlines/equal-outlines.ts';
import { groupedPlaces } from '../../src/geometry/outlines/narrow-groups.ts';
import type { Polyline } from '../../src/geometry/outlines/outline.ts';
import { coverageOf } from '../../src/geometry/overlap/coverage.ts';
import { findOverlaps } from '../../src/geometry/overlap/overlap.ts';
import { sameSegments } from '../../src/geometry/segments/same-segments.ts';
import { segmentsOf } from '../../src/geometry/segments/segments.ts';
import {
  type Bar,
  crossingsByForce,
  groupsByForce,
  hasCloseCall,
  millimetresByPasses,
  millimetresCovered,
  narrowByForce,
} from './brute-force.ts';
import { listed, numbersFrom } from './drawings.ts';

/** A few outlines, each drawn once or several times, in any order: all corners at places of their own. */
const drawings = fc.tuple(fc.nat(1e6), fc.nat(4), fc.nat(6)).map(([seed, more, copies]): Polyline[] => {
  const next = numbersFrom(seed);
  const kinds = Array.from({ length: 1 + more }, (): Polyline => {
    const xy = Float64Array.from({ length: 2 * (3 + Math.floor(4 * next())) }, () => 20 * next());
    return { xy, closed: next() < 0.6 };
  });
  const again = Array.from({ length: copies }, () => kinds[Math.floor(next() * kinds.length)]!);
  return [...kinds, ...again]
    .map((line) => ({ key: next(), line }))
    .sort((a, b) => a.key - b.key)
    .map(({ line }) => line);
});

/** Bars, some of them many times. */
const bars = fc
  .array(
    fc
      .tuple(fc.boolean(), fc.nat(4), fc.nat(12), fc.nat(12), fc.constantFrom(1, 1, 2, 30))
      .filter((bar) => bar[2] !== bar[3]),
    { minLength: 1, maxLength: 8 },
  )
  .map((rows) =>
    rows.flatMap(([upright, row, from, to, times]) =>
      Array.from({ length: times }, (): Bar => ({ upright, row, from, to })),
    ),
  );
const lineOf = ({ upright, row, from, to }: Bar): Polyline => ({
  xy: upright ? Float64Array.of(row, from, row, to) : Float64Array.of(from, row, to, row),
  closed: false,
});
const rounded = (mm: number): number => Math.round(mm * 1e6) / 1e6;

describe('by comparing each with each, a thousand drawings for each search', () => {
  it('the crossings are the same', () => {
    fc.assert(
      fc.property(drawings, (lines) => {
        // A corner within 2 µm of a line is settled by the sides that its outline changes.
        fc.pre(!hasCloseCall(lines, 0.01));
        const text = (x: number, y: number, of: string) => `${of} at ${x.toFixed(6)}, ${y.toFixed(6)}`;
        const found = findCrossings(lines).items.map(({ x, y, contourA, contourB }) =>
          text(x, y, `${contourA} ${contourB}`),
        );
        expect(found).toEqual(crossingsByForce(lines).map(({ x, y, lines: of }) => text(x, y, of)));
      }),
      { numRuns: 1000 },
    );
  });

  it.each([1, 4])('the places narrower than %d mm are the same', (limitMm) => {
    fc.assert(
      fc.property(drawings, (lines) => {
        const found = narrowPlaces(lines, limitMm, { touchMm: 0.05 }).items;
        const text = (mm: number, of: string) => `${mm.toFixed(6)} ${of}`;
        expect(
          found.map(({ distanceMm, contourA, contourB }) => text(distanceMm, `${contourA} ${contourB}`)).sort(),
        ).toEqual(
          narrowByForce(lines, limitMm, 0.05)
            .map(({ mm, lines: of }) => text(mm, of))
            .sort(),
        );
        expect(found.map(({ distanceMm }) => distanceMm)).toEqual(
          [...found.map(({ distanceMm }) => distanceMm)].sort((a, b) => a - b),
        );
      }),
      { numRuns: 1000 },
    );
  });

  it('the lengths that are run along once, twice and more often are the same', () => {
    fc.assert(
      fc.property(bars, (all) => {
        const lengths = new Map<number, number>();
        for (const { passes, lengthMm } of listed(findOverlaps(segmentsOf(all.map(lineOf))))) {
          lengths.set(passes, (lengths.get(passes) ?? 0) + lengthMm);
        }
        const inOrder = (of: Map<number, number>) =>
          [...of].map(([n, mm]) => [n, rounded(mm)]).sort((a, b) => a[0]! - b[0]!);
        expect(inOrder(lengths)).toEqual(inOrder(millimetresByPasses(all)));
      }),
      { numRuns: 1000 },
    );
  });

  it('lines that are given once, with how often they are drawn, are run along as often as when all are given', () => {
    fc.assert(
      fc.property(bars, (all) => {
        const lines = all.map(lineOf);
        const { firsts, members } = equalOutlines(lines);
        const lengths = new Map<number, number>();
        const timesOf = members.map((of) => of.length);
        findOverlaps(segmentsOf(firsts.map((i) => lines[i]!)), { timesOf }).each(
          ({ passes, lengthMm, owners, listed: kinds }) => {
            lengths.set(passes, (lengths.get(passes) ?? 0) + lengthMm);
            expect(owners.slice(0, kinds).reduce((sum, kind) => sum + timesOf[kind]!, 0)).toBe(passes);
          },
        );
        const inOrder = (of: Map<number, number>) =>
          [...of].map(([n, mm]) => [n, rounded(mm)]).sort((a, b) => a[0]! - b[0]!);
        expect(inOrder(lengths)).toEqual(inOrder(millimetresByPasses(all)));
      }),
      { numRuns: 1000 },
    );
  });

  it('the lengths that other lines lie along are the same', () => {
    fc.assert(
      fc.property(bars, bars, (a, b) => {
        const toleranceMm = 1e-10;
        const found = coverageOf(segmentsOf(a.map(lineOf)), segmentsOf(b.map(lineOf)), { toleranceMm });
        expect(rounded(found.coveredMm)).toBe(millimetresCovered(a, b));
      }),
      { numRuns: 1000 },
    );
  });

  it('what is drawn again is the same', () => {
    fc.assert(
      fc.property(drawings, (lines) => {
        // The same outline by an array of its own, moved by less than a transform loses, or by more.
        const moved = lines.map(
          ({ xy, closed }, k): Polyline => ({ xy: xy.map((v) => v + [0, 4e-7, 1e-5][k % 3]!), closed }),
        );
        const { kindOf, firsts, members } = equalOutlines(moved);
        const isSame = (a: Polyline, b: Polyline) =>
          a.closed === b.closed && a.xy.length === b.xy.length && a.xy.every((v, k) => Math.abs(v - b.xy[k]!) <= 1e-6);
        const known: number[] = [];
        const wanted = moved.map((line, i) => {
          const kind = known.findIndex((first) => isSame(moved[first]!, line));
          return kind >= 0 ? kind : known.push(i) - 1;
        });
        expect([...kindOf]).toEqual(wanted);
        expect(firsts).toEqual(known);
        expect(members.map((of) => of[0])).toEqual(known);

        const segments = segmentsOf(lines);
        const { first, times, kinds } = sameSegments(segments);
        const row = (i: number) => [segments.x0, segments.y0, segments.x1, segments.y1].map((of) => of[i]).join();
        const rows = Array.from(first, (_, i) => row(i));
        expect([...first]).toEqual(rows.map((one) => rows.indexOf(one)));
        expect(kinds).toBe(new Set(rows).size);
        for (const i of first) expect(times[i]).toBe(rows.filter((one) => one === rows[i]).length);
      }),
      { numRuns: 1000 },
    );
  });

  it('places within reach of each other are one group, and the narrowest stands for it', () => {
    // On a lattice, so that many places are the same, as where many lines come near one corner.
    const places = fc.array(fc.tuple(fc.nat(9), fc.nat(9), fc.nat(30), fc.option(fc.nat(9), { freq: 3 })), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(places, fc.integer({ min: 0, max: 3 }), (rows, reachMm) => {
        const narrow = rows.map(([x, y, distanceMm, far], k) => ({
          distanceMm,
          x,
          y,
          segmentA: k,
          segmentB: k,
          endOn: false,
          farXy: far === null ? [] : [far, 9 - far],
        }));
        const found = groupedPlaces([...narrow], reachMm + 0.5).map(({ first, narrowest }) => [first, narrowest]);
        expect(found).toEqual(groupsByForce(narrow, reachMm + 0.5));
      }),
      { numRuns: 1000 },
    );
  });

  it('the first point within reach is the same, whatever the cells', () => {
    const points = fc.array(fc.tuple(fc.nat(40), fc.nat(40)), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(points, fc.constantFrom(0.7, 1, 4), fc.nat(8), (places, cells, reach) => {
        const reachMm = 0.5 + reach;
        const grid = new PointGrid(reachMm, places.length, cells * reachMm);
        for (const [n, [x, y]] of places.entries()) {
          const wanted = places.slice(0, n).findIndex(([px, py]) => (px - x) ** 2 + (py - y) ** 2 <= reachMm ** 2);
          expect(grid.near(x, y, reachMm)).toBe(wanted);
          grid.add(x, y);
        }
      }),
      { numRuns: 1000 },
    );
    const grid = new PointGrid(1, 1);
    for (const far of [1e300, -1e300, Infinity, NaN]) expect(grid.near(far, far, 1)).toBe(-1);
  });
});
