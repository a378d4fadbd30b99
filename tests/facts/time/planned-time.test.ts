import { describe, expect, it } from 'vitest';
import { jobTime } from '../../../src/facts/time/job-time.ts';
import type { Outline } from '../../../src/facts/types.ts';
import { artwork, machine, plannedTask, task, toolpath } from '../../rules/build-facts.ts';

/** 100 mm from rest to rest at 20 mm/s and 3000 mm/s² (textbook kinematics): L/v + v/a. */
const CUT_S = 100 / 20 + 20 / 3000;
/** From rest to rest below the rapid speed of 600 mm/s: 2√(L/a). */
const travelS = (...lengthsMm: number[]) => lengthsMm.reduce((sum, mm) => sum + 2 * Math.sqrt(mm / 3000), 0);

const outline = (xy: number[], closed = false): Outline => {
  const [xs, ys] = [xy.filter((_, i) => i % 2 === 0), xy.filter((_, i) => i % 2 === 1)];
  return {
    xy: Float64Array.from(xy),
    closed,
    element: 0,
    lengthMm: 100,
    box: { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) },
  };
};

/** Two lines of 100 mm: the first begins 30 mm and 40 mm from the corner, the second 40 mm below where the first ends. */
const LINES = [outline([30, 40, 130, 40]), outline([130, 80, 30, 80])];

const lines = (numbers: number[], planned: Parameters<typeof plannedTask>[0] = {}) =>
  task({ outlines: Uint32Array.from(numbers) }, plannedTask({ speedMmPerS: 20, passes: null, ...planned }));

const timeOf = (tasks: ReturnType<typeof task>[], outlines = LINES) =>
  jobTime(machine(), null, artwork({ outlines }), tasks);

describe('the time of artwork', () => {
  it('is the cutting, the straight ways from the corner to each line and on, and the wait for the air', () => {
    const found = timeOf([lines([0, 1])])!;
    expect(found).toEqual({
      totalS: expect.closeTo(2 * CUT_S + travelS(50, 40) + 0.5, 9),
      cuttingS: expect.closeTo(2 * CUT_S, 9),
      rasterS: 0,
      travelS: expect.closeTo(travelS(50, 40), 9),
      dwellS: 0.5,
      basis: 'artwork',
    });
  });

  it('runs all lines of a task once a pass, one pass after the other, and the tasks in their order', () => {
    // From (30, 80) back to (30, 40): another 40 mm, and 40 mm again.
    const twice = timeOf([lines([0, 1], { passes: 2 })])!;
    expect(twice.cuttingS).toBeCloseTo(4 * CUT_S, 9);
    expect(twice.travelS).toBeCloseTo(travelS(50, 40, 40, 40), 9);
    // The second line first: √(130² + 80²) mm to it, on which the rapid speed is reached, and 40 mm from where it ends to the first.
    const turned = timeOf([lines([1]), lines([0])])!;
    expect(turned.travelS).toBeCloseTo(Math.hypot(130, 80) / 600 + 600 / 3000 + travelS(40), 9);
  });

  it('goes on from where a closed line began', () => {
    const square = outline([30, 40, 55, 40, 55, 65, 30, 65, 30, 40], true);
    const found = timeOf([lines([0, 1])], [square, outline([30, 70, 130, 70])])!;
    expect(found.travelS).toBeCloseTo(travelS(50, 30), 9);
    const open = timeOf([lines([0, 1])], [{ ...square, xy: square.xy.slice(0, 8), closed: false }, LINES[1]!])!;
    expect(open.travelS).toBeCloseTo(travelS(50, Math.hypot(100, 15)), 9);
  });

  it('leaves out tasks that nobody planned', () => {
    const implied = task({ outlines: Uint32Array.of(1) }, null);
    expect(timeOf([implied, lines([0])])).toEqual(timeOf([lines([0])]));
  });

  it('passes over outlines without points', () => {
    const empty = { ...LINES[0]!, xy: new Float64Array(0), lengthMm: 0 };
    expect(timeOf([lines([0, 1, 2])], [LINES[0]!, empty, LINES[1]!])!.travelS).toBeCloseTo(travelS(50, 40), 9);
  });

  it('waits for no air where nothing is cut', () => {
    expect(timeOf([lines([])])).toMatchObject({ totalS: 0, cuttingS: 0, travelS: 0, dwellS: 0 });
  });

  it('is not known without a planned speed, nor without files', () => {
    expect(timeOf([lines([0], { speedMmPerS: null })])).toBeNull();
    expect(timeOf([task({}, null)])).toBeNull();
    expect(timeOf([lines([0], { speedMmPerS: null }), lines([1])])).not.toBeNull();
    expect(jobTime(machine(), null, null, [lines([0])])).toBeNull();
  });

  it('is that of the toolpath where there is one', () => {
    const time = { totalS: 26, cuttingS: 20, rasterS: 3, travelS: 2, dwellS: 1 };
    expect(jobTime(machine(), toolpath({ time }), artwork({ outlines: LINES }), [lines([0])])).toEqual({
      ...time,
      basis: 'toolpath',
    });
  });
});
