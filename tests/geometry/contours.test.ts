import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { joinChains } from '../../src/geometry/outlines/chains.ts';
import { isInside, nestContours, polylineLengthMm, signedAreaMm2 } from '../../src/geometry/outlines/contours.ts';
import { findCrossings } from '../../src/geometry/outlines/crossings.ts';
import type { Polyline } from '../../src/geometry/outlines/outline.ts';
import { SegmentBuilder, segmentsOf } from '../../src/geometry/segments/segments.ts';
import { numbersFrom, outlineOf, plate } from './drawings.ts';

const closed = (...xy: number[]): Polyline => ({ xy: Float64Array.from(xy), closed: true });
const open = (...xy: number[]): Polyline => ({ xy: Float64Array.from(xy), closed: false });
const square = (x: number, y: number, side: number): Polyline =>
  closed(x, y, x + side, y, x + side, y + side, x, y + side);
const circle = (x: number, y: number, radius: number, chords = 720): Polyline => {
  const inradiusMm = radius;
  return outlineOf({ corners: 0, x, y, inradiusMm, turnRad: 0, hole: false }, 0, chords);
};

describe('area and length', () => {
  it('are those of a regular polygon in closed form', () => {
    for (const n of [3, 4, 5, 12, 720]) {
      const line = circle(7, -3, 10, n);
      expect(signedAreaMm2(line)).toBeCloseTo(0.5 * n * 100 * Math.sin((2 * Math.PI) / n), 9);
      expect(polylineLengthMm(line)).toBeCloseTo(2 * n * 10 * Math.sin(Math.PI / n), 9);
    }
  });

  it('change sign with the direction, and keep precision far from the origin', () => {
    expect(signedAreaMm2(closed(0, 0, 0, 2, 3, 2, 3, 0))).toBe(-6);
    expect(signedAreaMm2(square(9e5, 9e5, 0.1))).toBeCloseTo(0.01, 8);
    expect(signedAreaMm2(open(0, 0, 1, 0))).toBe(0);
  });
});

describe('a point in a contour', () => {
  it('agrees with its distance from the middle of a circle', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -12, max: 12, noNaN: true }),
        fc.double({ min: -12, max: 12, noNaN: true }),
        (x, y) => {
          const far = Math.hypot(x, y);
          fc.pre(Math.abs(far - 10) > 0.001);
          expect(isInside(circle(0, 0, 10), x, y)).toBe(far < 10);
        },
      ),
    );
  });
});

describe('nesting', () => {
  it('tells parts, holes and parts in holes', () => {
    const lines = [square(0, 0, 100), square(10, 10, 50), circle(30, 30, 10), square(70, 70, 5), square(200, 0, 5)];
    const { parent, depth, around } = nestContours(lines);
    expect([...parent]).toEqual([-1, 0, 1, 0, -1]);
    expect([...depth]).toEqual([0, 1, 2, 1, 0]);
    expect([around(30, 30), around(15, 15), around(90, 5), around(150, 50)]).toEqual([2, 1, 0, -1]);
  });

  it('holds where corners lie on one line, which drawings on a grid have everywhere', () => {
    const diamond = (x: number, y: number, r: number): Polyline => closed(x, y - r, x + r, y, x, y + r, x - r, y);
    const { parent } = nestContours([square(0, 0, 60), diamond(20, 30, 10), diamond(45, 30, 10), diamond(45, 30, 3)]);
    expect([...parent]).toEqual([-1, 0, 0, 2]);
  });

  it('leaves parts that share an edge side by side', () => {
    expect([...nestContours([square(0, 0, 10), square(10, 0, 10)]).parent]).toEqual([-1, -1]);
  });

  it('agrees with a count of the contours around each one', () => {
    // Reference: even-odd test of one corner against every other outline.
    fc.assert(
      fc.property(fc.nat(), fc.boolean(), (seed, back) => {
        const next = numbersFrom(seed);
        const lines: Polyline[] = [];
        for (let k = 0; k < 25; k++) {
          const ring = circle(20 * Math.floor(next() * 4), 20 * Math.floor(next() * 4), 0.3 + 8 * next(), 24);
          if (back && k % 2) ring.xy = Float64Array.from(reversedPoints(ring.xy));
          const clash = lines.some((line) => findCrossings([line, ring]).items.length > 0);
          if (!clash) lines.push(ring);
        }
        const { depth } = nestContours(lines);
        lines.forEach((line, i) => {
          const around = lines.filter((other, j) => j !== i && isInside(other, line.xy[0]!, line.xy[1]!)).length;
          expect(depth[i]).toBe(around);
        });
      }),
      { numRuns: 25 },
    );
  });
});

function reversedPoints(xy: Float64Array): number[] {
  const points: number[] = [];
  for (let i = xy.length - 2; i >= 0; i -= 2) points.push(xy[i]!, xy[i + 1]!);
  return points;
}

describe('crossings', () => {
  it('are found where an outline crosses itself', () => {
    const bow = closed(0, 0, 10, 10, 10, 0, 0, 10);
    expect(findCrossings([bow]).items).toEqual([
      // Two triangles of 10 by 5 mm: 25 mm², and narrowest square to the longer sides.
      { x: 5, y: 5, contourA: 0, contourB: 0, loop: { widthMm: expect.closeTo(5, 9), areaMm2: expect.closeTo(25, 9) } },
    ]);
  });

  it('tell of the smaller loop, wherever the outline begins', () => {
    const corners = [
      [0, 0],
      [0.1, 0],
      [0.1, 0.2],
      [0, 0.2],
      [0, -30],
      [-40, -30],
      [-40, 0],
    ];
    for (let first = 0; first < corners.length; first++) {
      const turned = [...corners.slice(first), ...corners.slice(0, first)];
      const [crossing] = findCrossings([closed(...turned.flat())]).items;
      // A rectangle of 0.1 by 0.2 mm at the corner of a part of 40 by 30 mm.
      expect(crossing?.loop?.widthMm).toBeCloseTo(0.1, 9);
      expect(crossing?.loop?.areaMm2).toBeCloseTo(0.02, 9);
    }
  });

  it('do not measure loops of very many corners, nor what an open outline leaves open', () => {
    const wave = Array.from({ length: 300 }, (_, i) => [10 + i / 10, 20 + (i % 2)]);
    const between = findCrossings([open(0, 0, 10, 10, ...wave.flat(), 45, 5, 0, 5)]).items;
    expect(between).toMatchObject([{ contourA: 0, contourB: 0, loop: null }]);
    expect(findCrossings([open(0, 0, 10, 0), open(5, -5, 5, 5)]).items).toMatchObject([{ loop: null }]);
  });

  it('are found at a corner when the lines change sides there', () => {
    expect(findCrossings([closed(0, 0, 5, 5, 10, 10, 10, 0, 5, 5, 0, 10)]).items).toHaveLength(1);
    expect(findCrossings([open(0, 0, 5, 5, 10, 0), open(0, 10, 5, 5, 10, 10)]).items).toHaveLength(0);
    expect(findCrossings([open(0, 0, 5, 5, 10, 10), open(0, 10, 5, 5, 10, 0)]).items).toHaveLength(1);
    expect(findCrossings([open(0, 0, 5, 5, 10, 10), open(0, 10, 10, 0)]).items).toHaveLength(1);
  });

  it('of two circles are two, at the places that geometry gives', () => {
    const found = findCrossings([circle(0, 0, 5), circle(6, 0, 5)]);
    const ys = found.items.map((p) => p.y).sort((a, b) => a - b);
    expect(ys[0]).toBeCloseTo(-4, 2);
    expect(ys[1]).toBeCloseTo(4, 2);
    expect(found.items).toHaveLength(2);
  });

  it.each([
    ['parts side by side', [square(0, 0, 10), square(10, 0, 10)]],
    ['parts that share half an edge', [square(0, 0, 10), square(10, 5, 10)]],
    ['an end on a line', [open(0, 0, 10, 0), open(5, 0, 5, 5)]],
    ['a corner on a line', [open(0, 0, 10, 0), open(0, 5, 5, 0, 10, 5)]],
    ['the same outline twice', [square(0, 0, 10), square(0, 0, 10)]],
    ['a line and its way back', [open(0, 0, 10, 0, 0, 0)]],
    ['a plate with holes', plate(3).map((shape) => outlineOf(shape))],
  ])('are not: %s', (_, lines) => {
    expect(findCrossings(lines).items).toHaveLength(0);
  });

  it('agree with a test of every pair of segments', () => {
    const coordinate = fc.double({ min: 0, max: 50, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate, coordinate, coordinate), { maxLength: 25 }), (rows) => {
        const side = (a: number[], x: number, y: number): number =>
          (a[2]! - a[0]!) * (y - a[1]!) - (a[3]! - a[1]!) * (x - a[0]!);
        const length = (a: number[]): number => Math.hypot(a[2]! - a[0]!, a[3]! - a[1]!);
        let wanted = 0;
        for (let i = 0; i < rows.length; i++) {
          for (let j = 0; j < i; j++) {
            const [a, b] = [rows[i]!, rows[j]!];
            const offs = [
              side(a, b[0], b[1]) / length(a),
              side(a, b[2], b[3]) / length(a),
              side(b, a[0], a[1]) / length(b),
              side(b, a[2], a[3]) / length(b),
            ];
            // Ends that nearly touch the other line may count either way.
            fc.pre(offs.every((off) => Math.abs(off) > 0.01));
            if (offs[0]! * offs[1]! < 0 && offs[2]! * offs[3]! < 0) wanted++;
          }
        }
        expect(findCrossings(rows.map((row) => open(...row))).items).toHaveLength(wanted);
      }),
    );
  });
});

describe('chains', () => {
  /** Edges of closed outlines in any order and direction. */
  function shuffled(lines: readonly Polyline[], seed: number) {
    const next = numbersFrom(seed);
    const s = segmentsOf(lines);
    const rows = Array.from({ length: s.count }, (_, i) => ({ i, key: next(), back: next() < 0.5 }));
    rows.sort((a, b) => a.key - b.key);
    const builder = new SegmentBuilder();
    for (const { i, back } of rows) {
      if (back) builder.addLine(s.x1[i]!, s.y1[i]!, s.x0[i]!, s.y0[i]!, s.owner[i]!);
      else builder.addLine(s.x0[i]!, s.y0[i]!, s.x1[i]!, s.y1[i]!, s.owner[i]!);
    }
    return builder.finish();
  }

  it('join the edges of closed outlines whatever their order and direction', () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const lines = plate(seed).map((shape) => outlineOf(shape, 0, 24));
        const edges = shuffled(lines, seed);
        const chains = joinChains(edges, 0.01);
        expect(chains.count).toBe(lines.length);
        expect([...chains.closed].every((c) => c === 1)).toBe(true);
        expect([...chains.item].sort((a, b) => a - b)).toEqual(Array.from({ length: edges.count }, (_, i) => i));
        for (let c = 0; c < chains.count; c++) {
          const items = chains.item.subarray(chains.start[c]!, chains.start[c + 1]!);
          expect(new Set([...items].map((i) => edges.owner[i])).size).toBe(1);
        }
      }),
      { numRuns: 50 },
    );
  });

  it('stay open, and say how far their ends are apart', () => {
    const chains = joinChains(segmentsOf([open(0, 0, 10, 0, 10, 10, 0, 10, 0, 0.4)]), 0.01);
    expect([...chains.closed]).toEqual([0]);
    expect(chains.gapMm[0]).toBeCloseTo(0.4, 12);
    expect([chains.startX[0], chains.startY[0], chains.endX[0], chains.endY[0]]).toEqual([0, 0, 0, 0.4]);
  });

  it('take a full circle in one stroke as closed', () => {
    const at = Float64Array.of(5, 20);
    const chains = joinChains({ count: 2, x0: at, y0: at, x1: at, y1: Float64Array.of(5, 20) }, 0.01, {
      lengthOf: () => 31.4,
    });
    expect([...chains.closed]).toEqual([1, 1]);
  });

  it('do not turn back along a line that came: another that goes on is taken, or none', () => {
    // Two lines of 10 mm on each other, and one that goes on from where they end.
    const lines = segmentsOf([open(0, 0, 10, 0), open(10, 0, 0, 0), open(10, 0, 10, 10)]);
    const wayOf = (end: number) => (end & 1 ? -1 : 1) * (lines.x1[end >> 1]! - lines.x0[end >> 1]!);
    const chains = joinChains(lines, 0.01, { leaveTogether: (end, other) => wayOf(end) * wayOf(other) > 0 });
    expect([...chains.closed]).toEqual([0, 0]);
    expect([...chains.item].map((item, k) => [item, chains.reversed[k]])).toEqual([
      [0, 0],
      [2, 0],
      [1, 0],
    ]);
    // Without that the first two are a loop.
    expect([...joinChains(lines, 0.01).closed]).toEqual([1, 0]);
  });

  it('keep two loops that touch in one point apart', () => {
    const eight = segmentsOf([square(0, 0, 10), closed(0, 0, -10, 0, -10, -10, 0, -10)]);
    expect([...joinChains(eight, 0.01).closed]).toEqual([1, 1]);
  });
});
