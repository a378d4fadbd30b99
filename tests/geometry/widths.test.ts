import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { narrowPlaces } from '../../src/geometry/outlines/distance.ts';
import type { Polyline } from '../../src/geometry/outlines/outline.ts';
import { findJoints, leastWidthMm } from '../../src/geometry/outlines/widths.ts';
import { movedOutline, outlineOf, plate } from './drawings.ts';

const closed = (...xy: number[]): Polyline => ({ xy: Float64Array.from(xy), closed: true });
const open = (...xy: number[]): Polyline => ({ xy: Float64Array.from(xy), closed: false });
const box = (x: number, y: number, w: number, h: number): Polyline => closed(x, y, x + w, y, x + w, y + h, x, y + h);
const turned = (line: Polyline, rad: number): Polyline => {
  const xy = line.xy.slice();
  for (let i = 0; i < xy.length; i += 2) {
    xy[i] = line.xy[i]! * Math.cos(rad) - line.xy[i + 1]! * Math.sin(rad);
    xy[i + 1] = line.xy[i]! * Math.sin(rad) + line.xy[i + 1]! * Math.cos(rad);
  }
  return { xy, closed: line.closed };
};
const ring = (x: number, y: number, radius: number, chords = 360): Polyline =>
  outlineOf({ corners: 0, x, y, inradiusMm: radius, turnRad: 0, hole: false }, 0, chords);

describe('the least width', () => {
  it('of a regular polygon is its apothem doubled, or apothem and radius where the corners are odd', () => {
    for (const n of [3, 4, 5, 6, 7, 12, 99]) {
      const wanted = n % 2 === 0 ? 2 * 5 * Math.cos(Math.PI / n) : 5 * (1 + Math.cos(Math.PI / n));
      expect(leastWidthMm(ring(3, 4, 5, n))).toBeCloseTo(wanted, 9);
    }
  });

  it('of a slot is its short side, however it is turned', () => {
    fc.assert(
      fc.property(fc.double({ min: -4, max: 4, noNaN: true }), (rad) => {
        expect(leastWidthMm(turned(box(1, 2, 40, 3), rad))).toBeCloseTo(3, 9);
      }),
    );
  });

  it('agrees with the narrowest of many directions', () => {
    // Reference: extents in 720 directions, which are never less than the least width.
    const points = fc.array(fc.integer({ min: -2000, max: 2000 }), { minLength: 8, maxLength: 40 });
    fc.assert(
      fc.property(points, (values) => {
        const xy = Float64Array.from(values.slice(0, values.length & ~1), (v) => v / 100);
        // The farthest points are 57 mm apart: half a step between two directions is worth less than 0.2 mm.
        let least = Infinity;
        for (let k = 0; k < 720; k++) {
          const [c, s] = [Math.cos((k * Math.PI) / 720), Math.sin((k * Math.PI) / 720)];
          let [low, high] = [Infinity, -Infinity];
          for (let i = 0; i < xy.length; i += 2) {
            const along = xy[i]! * c + xy[i + 1]! * s;
            low = Math.min(low, along);
            high = Math.max(high, along);
          }
          least = Math.min(least, high - low);
        }
        const width = leastWidthMm({ xy, closed: true });
        expect(width).toBeLessThanOrEqual(least + 1e-9);
        expect(width).toBeGreaterThan(least - 0.2);
      }),
    );
  });

  it('of points on a line, or of none, is nothing', () => {
    expect(leastWidthMm(closed(0, 0, 1, 1, 5, 5))).toBe(0);
    expect(leastWidthMm(closed())).toBe(0);
  });
});

describe('joints', () => {
  const comb = (thickness: number): Polyline =>
    closed(0, 0, 60, 0, 60, 40, 40, 40, 40, 40 + thickness, 20, 40 + thickness, 20, 40, 0, 40);

  it('are slots, tabs and holes with their widths', () => {
    const plateWithSlot = closed(0, 0, 80, 0, 80, 50, 43, 50, 43, 25, 40, 25, 40, 50, 0, 50);
    expect(findJoints([plateWithSlot, box(10, 10, 3.1, 20)], 30)).toEqual([
      { kind: 'slot', widthMm: 3, lengthMm: 25, x: 41.5, y: 25, contour: 0 },
      { kind: 'hole', widthMm: expect.closeTo(3.1, 9), lengthMm: 20, x: expect.closeTo(11.55, 9), y: 20, contour: 1 },
    ]);
    expect(findJoints([comb(2.7)], 30)).toMatchObject([
      { kind: 'tab', widthMm: 20, lengthMm: expect.closeTo(2.7, 9), x: 30 },
    ]);
  });

  it('are found when the drawing is turned and mirrored', () => {
    const place = { scale: 1, quarterTurns: 1, mirrored: true, flippedY: false, dx: 9, dy: 9 } as const;
    const found = findJoints([turned(movedOutline(comb(4), place), 0.7)], 30);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ kind: 'tab', widthMm: expect.closeTo(20, 9), lengthMm: expect.closeTo(4, 9) });
  });

  it('keep their width when the corners are rounded', () => {
    const xy: number[] = [];
    const [w, h, r] = [12, 3, 0.4];
    for (const [cx, cy, from] of [
      [w - r, r, -90],
      [w - r, h - r, 0],
      [r, h - r, 90],
      [r, r, 180],
    ] as const) {
      for (let k = 0; k <= 6; k++) {
        const angle = ((from + 15 * k) * Math.PI) / 180;
        xy.push(20 + cx + r * Math.cos(angle), 20 + cy + r * Math.sin(angle));
      }
    }
    const found = findJoints([box(0, 0, 60, 60), closed(...xy)], 30);
    expect(found).toMatchObject([{ kind: 'hole', widthMm: expect.closeTo(3, 9), lengthMm: expect.closeTo(12, 9) }]);
  });

  it('are not circles, triangles or plain parts', () => {
    expect(findJoints([box(0, 0, 3, 40), ring(20, 20, 5), ring(50, 20, 5, 3)], 30)).toEqual([]);
  });
});

describe('narrow places', () => {
  it('lie between two circles where they are nearest', () => {
    const { items: places } = narrowPlaces([ring(0, 0, 5), ring(10.3, 0, 5)], 1);
    expect(places).toHaveLength(1);
    expect(places[0]!.distanceMm).toBeCloseTo(0.3, 6);
    expect(places[0]).toMatchObject({ x: expect.closeTo(5.15, 6), y: expect.closeTo(0, 6), contourA: 0, contourB: 1 });
  });

  it('are one place along two lines side by side', () => {
    const { items: places } = narrowPlaces([open(0, 0, 100, 0), open(0, 0.4, 50, 0.4, 100, 0.4)], 1);
    expect(places.every((p) => Math.abs(p.distanceMm - 0.4) < 1e-9)).toBe(true);
    const rings = narrowPlaces([ring(0, 0, 20), ring(0, 0, 19.7)], 1).items;
    expect(rings).toHaveLength(1);
    expect(rings[0]!.distanceMm).toBeCloseTo(0.3, 2);
  });

  it('are one place between the long sides of two parts, and two where they come near twice', () => {
    expect(narrowPlaces([box(0, 0, 10, 60), box(10.25, 0, 10, 60)], 1).items).toMatchObject([{ distanceMm: 0.25 }]);
    expect(narrowPlaces([box(0, 0, 10, 60), box(10.25, 20, 10, 20)], 1).items).toMatchObject([{ distanceMm: 0.25 }]);
    const comb = closed(10.25, 0, 20, 0, 20, 60, 10.25, 60, 10.25, 50, 15, 50, 15, 10, 10.25, 10);
    expect(narrowPlaces([box(0, 0, 10, 60), comb], 1).items).toMatchObject([
      { distanceMm: 0.25 },
      { distanceMm: 0.25 },
    ]);
  });

  it('are found within one outline: the neck of an hourglass', () => {
    const neck = closed(0, 0, 20, 0, 10.25, 20, 20, 40, 0, 40, 9.75, 20);
    const { items: places } = narrowPlaces([neck], 1);
    expect(places).toHaveLength(1);
    expect(places[0]).toMatchObject({ distanceMm: 0.5, x: 10, y: 20 });
  });

  it('tell a bridge between two ends', () => {
    expect(narrowPlaces([open(0, 0, 10, 0), open(10.5, 0, 20, 0)], 1).items).toMatchObject([
      { distanceMm: 0.5, endOn: true },
    ]);
  });

  it.each([
    ['corners, however sharp', [closed(0, 0, 30, 0, 30, 1)]],
    ['small circles', [ring(0, 0, 0.4, 24)]],
    ['fine curves', [ring(0, 0, 5, 5000)]],
    ['touching circles', [ring(0, 0, 5), ring(10, 0, 5)]],
    ['crossing lines', [open(0, 0, 10, 10), open(0, 10, 10, 0)]],
    ['the same outline twice', [box(0, 0, 10, 10), box(0, 0, 10, 10)]],
    ['chamfered corners', [closed(0, 0, 10, 0, 10, 9.8, 9.8, 10, 0, 10)]],
  ])('are not: %s', (_, lines) => {
    expect(narrowPlaces(lines, 1).items).toEqual([]);
  });

  it('agree with the least distance between holes that circles have in closed form', () => {
    fc.assert(
      fc.property(fc.nat(5000), (seed) => {
        const holes = plate(seed)
          .slice(1)
          .map((shape) => ({ ...shape, corners: 0 }));
        const found = narrowPlaces(
          holes.map((shape) => outlineOf(shape, 0, 120)),
          5,
        ).items;
        for (let i = 0; i < holes.length; i++) {
          for (let j = 0; j < i; j++) {
            const [a, b] = [holes[i]!, holes[j]!];
            const gap = Math.hypot(a.x - b.x, a.y - b.y) - a.inradiusMm - b.inradiusMm;
            if (gap > 4.95) continue;
            const place = found.find((p) => p.contourA === j && p.contourB === i);
            expect(place?.distanceMm).toBeCloseTo(gap, 2);
          }
        }
      }),
      { numRuns: 15 },
    );
  });
});
