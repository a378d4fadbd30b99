import { describe, expect, it } from 'vitest';
import { contourKey } from '../../../src/facts/strokes/contour-key.ts';
import { contoursOfStrokes } from '../../../src/facts/strokes/stroke-contours.ts';
import {
  arcOfStroke,
  flatLengthMm,
  segmentsOfStrokes,
  strokeLengthMm,
} from '../../../src/facts/strokes/stroke-geometry.ts';
import type { Strokes } from '../../../src/model/strokes.ts';
import { strokesThrough } from '../../rules/build-facts.ts';

/** Lines by their ends, each of its own: x0, y0, x1, y1. */
function apart(...lines: [number, number, number, number][]): Strokes {
  const column = (at: number) => Float64Array.from(lines, (line) => line[at]!);
  const base = strokesThrough(Array.from({ length: lines.length + 1 }, () => [0, 0] as const));
  return { ...base, startX: column(0), startY: column(1), endX: column(2), endY: column(3) };
}

const all = (strokes: Strokes) => Uint32Array.from({ length: strokes.count }, (_, i) => i);

/** A line from (0, 0) to (30, 40), and from there half a circle of radius 10 round (40, 40) to (50, 40); both may rise. */
const line = strokesThrough([
  [0, 0],
  [30, 40],
  [50, 40],
]);
const rising = (mm: number): Strokes => ({
  ...line,
  centreX: Float64Array.of(Number.NaN, 40),
  centreY: Float64Array.of(Number.NaN, 40),
  sweepRad: Float64Array.of(0, -Math.PI),
  endZ: Float64Array.of(mm, 2 * mm),
  startZ: Float64Array.of(0, mm),
});

describe('the length of a stroke', () => {
  it('in the plane is that of the line or the arc, however it rises', () => {
    for (const mm of [0, 7]) {
      expect(flatLengthMm(rising(mm), 0)).toBeCloseTo(50, 9);
      expect(flatLengthMm(rising(mm), 1)).toBeCloseTo(10 * Math.PI, 9);
    }
  });

  it('in space is that of what rises', () => {
    expect([strokeLengthMm(rising(0), 0), strokeLengthMm(rising(0), 1)]).toEqual([
      expect.closeTo(50, 9),
      expect.closeTo(10 * Math.PI, 9),
    ]);
    // √(30² + 40² + 120²) is 130.
    expect(strokeLengthMm(rising(120), 0)).toBeCloseTo(130, 9);
    expect(strokeLengthMm(rising(120), 1)).toBeCloseTo(Math.sqrt(100 * Math.PI ** 2 + 120 ** 2), 9);
  });
});

describe('strokes as segments', () => {
  it('are the lines as they are and arcs in chords within a hundredth of a millimetre, each known by its stroke', () => {
    const { count, x0, y0, x1, y1, owner } = segmentsOfStrokes(rising(0));
    expect([x0[0], y0[0], x1[0], y1[0], owner[0]]).toEqual([0, 0, 30, 40, 0]);
    expect(count).toBeGreaterThan(20);
    for (let i = 1; i < count; i++) {
      expect(owner[i]).toBe(1);
      // Both ends lie on the circle, and the middle of a chord falls short of it by what it may.
      expect(Math.hypot(x1[i]! - 40, y1[i]! - 40)).toBeCloseTo(10, 6);
      const middle = Math.hypot((x0[i]! + x1[i]!) / 2 - 40, (y0[i]! + y1[i]!) / 2 - 40);
      expect(10 - middle).toBeLessThanOrEqual(0.01 + 1e-9);
    }
    expect([x1[count - 1], y1[count - 1]].map((mm) => Math.round(mm! * 1e6) / 1e6)).toEqual([50, 40]);
  });

  it('know of an arc where it begins and ends, its centre and how far it sweeps', () => {
    expect(arcOfStroke(rising(0), 1)).toEqual({
      cx: 40,
      cy: 40,
      startX: 30,
      startY: 40,
      endX: 50,
      endY: 40,
      sweepRad: -Math.PI,
    });
  });
});

describe('strokes joined into contours', () => {
  const joined = (strokes: Strokes, chosen = all(strokes)) =>
    contoursOfStrokes(strokes, chosen).map((one) => ({ ...one, strokes: [...one.strokes], xy: [...one.xy] }));

  it('are those that are chosen, by their own numbers', () => {
    const three = apart([90, 90, 95, 90], [10, 10, 20, 10], [20, 10, 20, 30]);
    expect(joined(three, Uint32Array.of(1, 2))).toEqual([
      { xy: [10, 10, 20, 10, 20, 30], closed: false, strokes: [1, 2], gapMm: expect.closeTo(Math.hypot(10, 20), 9) },
    ]);
    expect(joined(three).map(({ strokes }) => strokes)).toEqual([[0], [1, 2]]);
    expect(joined(three, new Uint32Array(0))).toEqual([]);
  });

  it('close where their ends meet, and then have no gap', () => {
    const square = apart([0, 0, 40, 0], [40, 0, 40, 30], [40, 30, 0, 30], [0, 30, 0, 0.04]);
    expect(joined(square)).toMatchObject([{ closed: true, gapMm: 0, strokes: [0, 1, 2, 3] }]);
    const open = apart([0, 0, 40, 0], [40, 0, 40, 30], [40, 30, 0, 30], [0, 30, 0, 0.06]);
    expect(joined(open)).toMatchObject([{ closed: false, gapMm: expect.closeTo(0.06, 9) }]);
  });

  it('begin with a stroke run backwards where it is drawn from the other’s start', () => {
    expect(joined(apart([10, 10, 20, 10], [10, 10, 10, 25]))).toEqual([
      { xy: [10, 25, 10, 10, 20, 10], closed: false, strokes: [1, 0], gapMm: expect.closeTo(Math.hypot(10, 15), 9) },
    ]);
  });

  it('begin with an arc run backwards likewise', () => {
    // A quarter from (10, 10) round (10, 20) to (20, 20), after a line from (10, 10).
    const lines = apart([10, 10, -20, 10], [10, 10, 20, 20]);
    const [{ xy, strokes }] = joined({
      ...lines,
      centreX: Float64Array.of(Number.NaN, 10),
      centreY: Float64Array.of(Number.NaN, 20),
      sweepRad: Float64Array.of(0, Math.PI / 2),
    }) as [ReturnType<typeof joined>[0]];
    expect(strokes).toEqual([1, 0]);
    expect([...xy.slice(0, 2), ...xy.slice(-4)].map((mm) => Math.round(mm * 1e6) / 1e6)).toEqual([
      20, 20, 10, 10, -20, 10,
    ]);
  });

  it('are full circles each for itself, in chords within two hundredths of a millimetre', () => {
    const circle: Strokes = {
      ...apart([30, 20, 30, 20], [30, 20, 90, 20]),
      centreX: Float64Array.of(20, Number.NaN),
      centreY: Float64Array.of(20, Number.NaN),
      sweepRad: Float64Array.of(2 * Math.PI, 0),
    };
    const found = joined(circle);
    expect(found.map(({ closed, strokes }) => [closed, strokes])).toEqual([
      [true, [0]],
      [false, [1]],
    ]);
    const { xy } = found[0]!;
    for (let i = 0; i + 3 < xy.length; i += 2) {
      const middle = Math.hypot((xy[i]! + xy[i + 2]!) / 2 - 20, (xy[i + 1]! + xy[i + 3]!) / 2 - 20);
      expect(10 - middle).toBeLessThanOrEqual(0.02 + 1e-9);
    }
    // Of 10 mm radius a chord that falls short by 0.02 mm spans 0.1265 rad: some fifty of them go round.
    expect(xy.length / 2).toBeGreaterThan(45);
    expect(xy.length / 2).toBeLessThan(80);
    expect(found[1]!.xy).toEqual([30, 20, 90, 20]);
  });
});

describe('what runs over one contour, pass after pass, has in common', () => {
  const square = (mm: number, x = 0) => ({ xy: Float64Array.of(x, 0, x + mm, 0, x + mm, mm, x, mm), closed: true });

  it('its box and its length, to a tenth of a millimetre', () => {
    const key = contourKey(square(30), 120);
    expect(contourKey(square(30.01), 120.04)).toBe(key);
    expect(contourKey(square(30), 120.2)).not.toBe(key);
    expect(contourKey(square(30, 0.2), 120)).not.toBe(key);
    expect(contourKey(square(30.2), 120)).not.toBe(key);
  });

  it.each(['x', 'y'])('and no side of it may be another, along %s', (axis) => {
    const box = (low: number, high: number) => {
      const xy = axis === 'x' ? [low, 0, high, 50] : [0, low, 50, high];
      return contourKey({ xy: Float64Array.from(xy), closed: false }, 90);
    };
    expect(box(0, 30)).not.toBe(box(1, 30));
    expect(box(0, 30)).not.toBe(box(0, 31));
  });

  it('nothing where there is no point', () => {
    expect(contourKey({ xy: new Float64Array(0), closed: false }, 0)).toBeNull();
  });
});
