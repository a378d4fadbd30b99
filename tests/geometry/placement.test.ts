import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Polyline } from '../../src/geometry/outlines/outline.ts';
import { coverageOf } from '../../src/geometry/overlap/coverage.ts';
import { findPlacement, type Placement } from '../../src/geometry/placement/placement.ts';
import { orientationOf, placePoint, placeSegments, type Similarity } from '../../src/geometry/placement/transform.ts';
import { segmentsOf } from '../../src/geometry/segments/segments.ts';
import { movedOutline, numbersFrom, outlineOf, plate } from './drawings.ts';

const turns = fc.constantFrom(0 as const, 1 as const, 2 as const, 3 as const);
const places = fc.record({
  scale: fc.constant(1),
  quarterTurns: turns,
  mirrored: fc.boolean(),
  flippedY: fc.boolean(),
  dx: fc.double({ min: -300, max: 300, noNaN: true }),
  dy: fc.double({ min: -300, max: 300, noNaN: true }),
});

function expectPlacement(found: Placement | null, wanted: Similarity, nearMm = 0.03): void {
  expect(found).not.toBeNull();
  expect({ q: found!.quarterTurns, m: found!.mirrored }).toEqual({ q: wanted.quarterTurns, m: wanted.mirrored });
  for (const [x, y] of [
    [0, 0],
    [120, 0],
    [0, 120],
  ] as const) {
    const [fx, fy] = placePoint(found!, x, y);
    const [wx, wy] = placePoint(wanted, x, y);
    expect(Math.hypot(fx - wx, fy - wy)).toBeLessThan(nearMm);
  }
}

/** The outlines as a machine program would have them: cut elsewhere, in another order, backwards, with other chords. */
function recut(lines: readonly Polyline[], seed: number): Polyline[] {
  const next = numbersFrom(seed);
  return lines
    .map((line) => {
      const points = line.xy.length / 2;
      const first = Math.floor(next() * points);
      const back = next() < 0.5;
      const xy = new Float64Array(line.xy.length);
      for (let k = 0; k < points; k++) {
        const from = (first + (back ? points - k : k)) % points;
        xy[2 * k] = line.xy[2 * from]!;
        xy[2 * k + 1] = line.xy[2 * from + 1]!;
      }
      return { line: { xy, closed: true }, key: next() };
    })
    .sort((a, b) => a.key - b.key)
    .map(({ line }) => line);
}

describe('a placement', () => {
  it('is found for every turn, mirror image and move, with other chords and another order', () => {
    fc.assert(
      fc.property(places, fc.nat(1000), (place, seed) => {
        const a = plate(seed).map((shape) => outlineOf(shape, 0, 96));
        const b = recut(
          plate(seed).map((shape) => movedOutline(outlineOf(shape, 0, 64), place)),
          seed,
        );
        const { placement: found } = findPlacement(a, b, { expectYFlip: place.flippedY });
        expectPlacement(found, place);
        expect(found!.scale).toBe(1);
        expect(found!.coveredShare).toBeGreaterThan(0.98);
        // Of what lies as it was drawn it is not asked.
        if (place.quarterTurns > 0 || place.mirrored) expect(found!.ambiguous).toBe(false);
        else expect(found!.ambiguous).not.toBe(true);
      }),
      { numRuns: 24 },
    );
  });

  it.each([96 / 72, 96 / 90, 1 / 25.4, 25.4, 0.5, 1.037])('is found at a scale of %f', (scale) => {
    const place = { scale, quarterTurns: 1, mirrored: false, flippedY: true, dx: 12, dy: -40 } as const;
    const drawn = plate(5).map((shape) => outlineOf(shape));
    const { placement: found } = findPlacement(
      drawn,
      recut(
        drawn.map((line) => movedOutline(line, place)),
        3,
      ),
      { expectYFlip: true },
    );
    expectPlacement(found, place, 0.05);
    expect(found!.scale / scale).toBeCloseTo(1, 4);
  });

  it('names a kerf offset instead of a scale: outer contours grown and holes shrunk', () => {
    fc.assert(
      fc.property(places, fc.nat(1000), fc.double({ min: -0.3, max: 0.3, noNaN: true }), (place, seed, offset) => {
        const a = plate(seed).map((shape) => outlineOf(shape));
        const b = plate(seed).map((shape) => movedOutline(outlineOf(shape, offset), place));
        const { placement: found } = findPlacement(a, recut(b, seed), { expectYFlip: place.flippedY });
        expectPlacement(found, place, 0.06);
        expect(found!.scale).toBe(1);
        expect(found!.offsetMm).toBeCloseTo(offset, 2);
        expect(found!.coveredShare).toBeGreaterThan(0.95);
      }),
      { numRuns: 24 },
    );
  });

  it('is found with one outline dropped and one added', () => {
    fc.assert(
      fc.property(places, fc.nat(1000), fc.nat(12), (place, seed, dropped) => {
        const shapes = plate(seed);
        const a = shapes.map((shape) => outlineOf(shape));
        const added = outlineOf({ corners: 5, x: 180, y: 30, inradiusMm: 20, turnRad: 1, hole: false });
        const b = [...a.filter((_, i) => i !== dropped), added].map((line) => movedOutline(line, place));
        const { placement: found } = findPlacement(a, recut(b, seed), { expectYFlip: place.flippedY });
        expectPlacement(found, place);

        const reach = { toleranceMm: 0.1 };
        const forth = coverageOf(placeSegments(found!, segmentsOf(a)), segmentsOf(b), reach);
        const back = coverageOf(segmentsOf(b), placeSegments(found!, segmentsOf(a)), reach);
        const length = (lines: readonly Polyline[]): number =>
          lines.reduce((sum, line) => {
            const s = segmentsOf([line]);
            let mm = 0;
            for (let i = 0; i < s.count; i++) mm += Math.hypot(s.x1[i]! - s.x0[i]!, s.y1[i]! - s.y0[i]!);
            return sum + mm;
          }, 0);
        expect(forth.missingMm).toBeCloseTo(length([a[dropped]!]), 1);
        expect(new Set(forth.missing.items.map((m) => m.owner))).toEqual(new Set([dropped]));
        expect(back.missingMm).toBeCloseTo(length([added]), 1);
      }),
      { numRuns: 16 },
    );
  });

  /** Four circles around the middle. */
  const ring = [0, 1, 2, 3].map((k) =>
    outlineOf({
      corners: 0,
      x: 30 * Math.cos((k * Math.PI) / 2),
      y: 30 * Math.sin((k * Math.PI) / 2),
      inradiusMm: 5,
      turnRad: 0,
      hole: false,
    }),
  );

  it('of symmetrical artwork is the plainest one, and it is not asked whether others fit', () => {
    const place = { scale: 1, quarterTurns: 3, mirrored: true, flippedY: true, dx: 100, dy: 50 } as const;
    const { placement: found } = findPlacement(
      ring,
      ring.map((line) => movedOutline(line, place)),
      { expectYFlip: true },
    );
    expect(found).toMatchObject({ scale: 1, quarterTurns: 0, mirrored: false, ambiguous: null });
  });

  it('that has to be turned says whether others fit', () => {
    const place = { scale: 1, quarterTurns: 1, mirrored: false, flippedY: true, dx: 100, dy: 50 } as const;
    // Two circles side by side have to be stood up, and are alike from either end; with a third on one side they are not.
    for (const [lines, ambiguous] of [
      [[ring[0]!, ring[2]!], true],
      [[ring[0]!, ring[2]!, outlineOf({ corners: 5, x: 9, y: 3, inradiusMm: 4, turnRad: 1, hole: false })], false],
    ] as const) {
      const { placement: found } = findPlacement(
        lines,
        lines.map((line) => movedOutline(line, place)),
        { expectYFlip: true },
      );
      expect(found).toMatchObject({ scale: 1, quarterTurns: 1, mirrored: false, ambiguous });
    }
  });

  it('is found when the toolpath has single strokes where the artwork has contours', () => {
    const a = plate(9).map((shape) => outlineOf(shape));
    const place = { scale: 1, quarterTurns: 2, mirrored: true, flippedY: true, dx: 7, dy: 9 } as const;
    const b = a.flatMap((line) => {
      const { xy } = movedOutline(line, place);
      return Array.from({ length: xy.length / 2 }, (_, k) => {
        const to = (2 * k + 2) % xy.length;
        return { xy: Float64Array.of(xy[2 * k]!, xy[2 * k + 1]!, xy[to]!, xy[to + 1]!), closed: false };
      });
    });
    expectPlacement(findPlacement(a, b, { expectYFlip: true }).placement, place);
  });

  it('is not found in an unrelated drawing, or in none', () => {
    const a = plate(1, 20)
      .slice(1)
      .map((shape) => outlineOf(shape));
    const other = Array.from({ length: 30 }, (_, k) => ({
      xy: Float64Array.of(k * 7, 0, k * 7 + 100, 90 + k),
      closed: false,
    }));
    expect(findPlacement(a, other)).toEqual({ placement: null, endedEarly: null });
    expect(findPlacement(a, [])).toEqual({ placement: null, endedEarly: null });
    expect(findPlacement([], a)).toEqual({ placement: null, endedEarly: null });
  });
});

describe('an orientation', () => {
  it('turns anticlockwise after mirroring and flipping', () => {
    // By hand: (1, 2) flipped is (1, −2), mirrored (−1, −2), turned a quarter (2, −1).
    expect(placePoint({ scale: 1, quarterTurns: 1, mirrored: true, flippedY: true, dx: 0, dy: 0 }, 1, 2)).toEqual([
      2, -1,
    ]);
    const { a, b, c, d } = orientationOf({ quarterTurns: 3, mirrored: false, flippedY: false });
    expect([a, b, c, d].map((v) => v + 0)).toEqual([0, -1, 1, 0]);
  });
});
