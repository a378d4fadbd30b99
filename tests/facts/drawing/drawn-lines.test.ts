import { describe, expect, it } from 'vitest';
import { type GivenLine, simplify, thinLines } from '../../../src/facts/drawing/drawn-lines.ts';

const open = (...xy: number[]): GivenLine => ({ xy, closed: false });
const closed = (...xy: number[]): GivenLine => ({ xy, closed: true });

describe('lines for which there is room', () => {
  it('are drawn to a twentieth of a millimetre, and rounded to a hundredth', () => {
    const { lines, detail } = thinLines([open(0, 0, 5, 0.04, 10.004, 0, 10.004, 20.006)], 100);
    expect(lines).toEqual([[0, 0, 10, 0, 10, 20.01]]);
    expect(detail).toEqual({ withinMm: 0.05, corners: 4, kept: 3 });
  });

  it('fit to the last point, and not with one fewer', () => {
    const given = [closed(0, 0, 30, 0, 30, 20), open(50, 0, 60, 0)];
    // Three corners and the way home, and two ends.
    expect(thinLines(given, 6).detail).toEqual({ withinMm: 0.05, corners: 6, kept: 6 });
    expect(thinLines(given, 5).detail.withinMm).toBeGreaterThan(0.05);
  });

  it('are drawn each by itself, also where they are the same', () => {
    const { lines, drawnBy } = thinLines([open(0, 0, 30, 0), open(30, 0, 0, 0), open(0, 0, 30, 0)], 6);
    expect(lines).toHaveLength(3);
    expect([...drawnBy]).toEqual([0, 1, 2]);
  });

  it('are passed over where they have no two points, and counted with their corners', () => {
    const { lines, drawnBy, detail } = thinLines([open(), open(4, 4), open(0, 0, 1, 0)], 9);
    expect(lines).toEqual([[0, 0, 1, 0]]);
    expect([...drawnBy]).toEqual([-1, -1, 0]);
    expect(detail.corners).toBe(3);
  });

  it('are none where none is given', () => {
    expect(thinLines([], 2)).toEqual({
      lines: [],
      drawnBy: new Int32Array(0),
      detail: { withinMm: 0.05, corners: 0, kept: 0 },
    });
  });
});

describe('lines for which there is too little room', () => {
  it('are drawn with the corners on a grid, and said to be as far off as the grid allows', () => {
    // The second corner stands 0.2 mm off the line between its neighbours: the first grid that takes it away is that of
    // 0.2 mm; 0.2 / √2 and 0.2 / 2^¼ do not. Simplified to it, and moved by at most half its diagonal: 0.2 · (1 + 1/√2).
    expect(thinLines([open(0, 0, 0.4, 0.2, 10.09, 0, 10.11, 10)], 3)).toEqual({
      lines: [[0, 0, 10, 0, 10.2, 10]],
      drawnBy: Int32Array.of(0),
      detail: { withinMm: 0.34, corners: 4, kept: 3 },
    });
  });

  it.each([
    // 0.05 · 2^k is tried first; then the finer half of the step, and a quarter on that side.
    ['half a step finer', 0.14, 0.1414],
    ['a quarter of a step finer', 0.16, 0.1682],
    ['three quarters of a step finer', 0.115, 0.1189],
  ])('lie on a grid that is %s where that is enough', (_, offMm, gridMm) => {
    const { detail } = thinLines([open(0, 0, 5, offMm, 10, 0, 10, 10)], 3);
    expect(detail.withinMm).toBeCloseTo(gridMm * (1 + Math.SQRT1_2), 2);
    expect(detail.kept).toBe(3);
  });

  it('stay as dashes of the width of the grid where they shrink to a point', () => {
    // Two points are room for one dash only: both come to lie on it.
    const { lines, drawnBy, detail } = thinLines([open(0.01, 0, 0.02, 0.01), open(0, 0.02, 0.03, 0.02)], 2);
    expect([...drawnBy]).toEqual([0, 0]);
    expect(detail.kept).toBe(2);
    expect(lines).toHaveLength(1);
    const [x0, y0, x1, y1] = lines[0]! as [number, number, number, number];
    expect([x0, y0, y1]).toEqual([0, 0, 0]);
    expect(x1 * (1 + Math.SQRT1_2)).toBeCloseTo(detail.withinMm, 1);
    expect(x1).toBeGreaterThan(0);
  });

  it('come home where they are closed', () => {
    const given = [closed(0, 0, 20, 0, 20, 0.15, 20, 20, 0, 20), open(50, 50, 60, 50, 60, 60), open(0, 90, 10, 90)];
    // Room for one point fewer than the corners: the one that stands 0.15 mm off its neighbour goes first.
    const { lines } = thinLines([...given], 10);
    expect(lines[0]!.slice(0, 2)).toEqual(lines[0]!.slice(-2));
    expect(lines[1]!.slice(0, 2)).not.toEqual(lines[1]!.slice(-2));
  });

  it('that lie on each other are drawn once, whichever way they run, also straight up', () => {
    const given = [open(0, 20, 0, 0), open(0, 0, 0, 20), open(0, 0, 0, 20), open(20, 0, 0, 0), open(0, 0, 20, 0)];
    const { lines, drawnBy } = thinLines(given, 4);
    expect(lines).toHaveLength(2);
    expect([...drawnBy]).toEqual([0, 0, 0, 1, 1]);
  });

  it('that share both ends and not their way are drawn each', () => {
    const given = [open(0, 0, 20, 0, 20, 20), open(0, 0, 0, 20, 20, 20), open(20, 20, 0, 20, 0, 0)];
    const { lines, drawnBy } = thinLines(given, 7);
    expect(lines).toHaveLength(2);
    expect([...drawnBy]).toEqual([0, 1, 1]);
  });

  it('are passed over where they have no two points', () => {
    const { lines, drawnBy } = thinLines([open(4, 4), closed(), open(0, 0, 0, 20), open(0, 0, 0, 20)], 2);
    expect(lines).toHaveLength(1);
    expect([...drawnBy]).toEqual([-1, -1, 0, 0]);
  });

  it('are left away where they lie so far apart that no sheet holds them', () => {
    // A dash at 10³⁰ mm and one at 0 fall together on a grid beyond 0.05 · 2⁶⁰ mm ≈ 6 · 10¹⁶ mm alone.
    const { lines, drawnBy, detail } = thinLines([open(0, 0, 1, 0), open(1e30, 0, 1e30, 5)], 2);
    expect([lines, [...drawnBy]]).toEqual([[], [-1, -1]]);
    expect(detail).toEqual({ withinMm: 0, corners: 0, kept: 0 });
  });
});

describe('a line with fewer corners', () => {
  it('keeps both ends of one that comes home, and what lies farther off than the tolerance', () => {
    expect(simplify([0, 0, 10, 0, 10, 10, 0, 0], 0.05)).toEqual([0, 0, 10, 0, 10, 10, 0, 0]);
    expect(simplify([0, 0, 0.04, 0, 0, 0.04, 0, 0], 0.05)).toEqual([0, 0, 0, 0]);
  });

  it('measures from the stretch that stays, not from its line drawn on', () => {
    // Before the start as well as behind the end it is the distance to that end.
    expect(simplify([0, 0, -0.04, 0, 10, 0], 0.05)).toEqual([0, 0, 10, 0]);
    expect(simplify([0, 0, -0.06, 0, 10, 0], 0.05)).toEqual([0, 0, -0.06, 0, 10, 0]);
    expect(simplify([0, 0, 10.06, 0, 10, 0], 0.05)).toEqual([0, 0, 10.06, 0, 10, 0]);
    // On a slant: (6, 8.05) stands 0.05 · 0.6 = 0.03 off the line through (3, 4), (4, 5.4) stands 0.04 off, (3, 4.1) 0.06.
    expect(simplify([0, 0, 6, 8.05, 12, 16], 0.04)).toEqual([0, 0, 12, 16]);
    expect(simplify([0, 0, 3, 4.1, 12, 16], 0.05)).toEqual([0, 0, 3, 4.1, 12, 16]);
  });

  it('is the same where a point lies just on the tolerance', () => {
    expect(simplify([0, 0, 5, 0.5, 10, 0], 0.5)).toEqual([0, 0, 10, 0]);
  });

  it('takes the farthest first, and looks at both sides of it', () => {
    // The peak stays; 1 mm off the legs stays too, and 0.1 mm goes.
    const line = [0, 0, 5, 6, 10, 10, 15, 5.1, 20, 0];
    expect(simplify(line, 0.5)).toEqual([0, 0, 5, 6, 10, 10, 20, 0]);
    const mirrored = [0, 0, 5, 5.1, 10, 10, 15, 6, 20, 0];
    expect(simplify(mirrored, 0.5)).toEqual([0, 0, 10, 10, 15, 6, 20, 0]);
  });

  it('leaves out what is no number, at its ends too', () => {
    expect(simplify([Number.NaN, 0, 1, 1, 2, Number.POSITIVE_INFINITY, 3, 3], 0.05)).toEqual([1, 1, 3, 3]);
    expect(simplify([Number.NaN, 0], 0.05)).toEqual([]);
    expect(simplify([4, 4], 0.05)).toEqual([4, 4]);
    // Half a point is none.
    expect(simplify([0, 0, 5, 5, 7], 0.05)).toEqual([0, 0, 5, 5]);
  });

  it('is simplified in blocks of 500 stretches, whose ends stay', () => {
    const straight = (stretches: number) => Array.from({ length: stretches + 1 }, (_, i) => [i, 0]).flat();
    expect(simplify(straight(500), 0.05)).toEqual([0, 0, 500, 0]);
    expect(simplify(straight(501), 0.05)).toEqual([0, 0, 500, 0, 501, 0]);
    expect(simplify(straight(1200), 0.05)).toEqual([0, 0, 500, 0, 1000, 0, 1200, 0]);
  });

  it('keeps a peak in a later block', () => {
    const xy = Array.from({ length: 1001 }, (_, i) => [i, i === 700 ? 3 : 0]).flat();
    expect(simplify(xy, 0.05)).toEqual([0, 0, 500, 0, 699, 0, 700, 3, 701, 0, 1000, 0]);
  });
});
