import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  meanSpeedAcrossMmPerS,
  profile,
  segmentTimeS,
  speedAtMmPerS,
  timeAtS,
} from '../../src/geometry/motion/motion.ts';
import { PathTimer, WINDOW } from '../../src/geometry/motion/planner.ts';
import { read } from './reading.ts';

const LIMITS = { accelerationMmPerS2: 2000, cornerDeviationMm: 0.02 };

describe('the planner', () => {
  it('takes a straight path the same, however it is cut up', () => {
    const whole = segmentTimeS(300, 100, 2000);
    for (const parts of [1, 2, 7, 300, 3000]) {
      const xy = Array.from({ length: parts + 1 }, (_, i) => [(300 * i) / parts, 0]).flat();
      expect(new PathTimer(LIMITS).plan(xy, false, 100).timeS).toBeCloseTo(whole, 6);
    }
  });

  it('is never faster than the speed allows and never slower than stopping at each corner', () => {
    const point = fc.tuple(fc.double({ min: 0, max: 200, noNaN: true }), fc.double({ min: 0, max: 200, noNaN: true }));
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 60 }),
        fc.boolean(),
        fc.double({ min: 1, max: 500, noNaN: true }),
        (points, closed, speed) => {
          const path = new PathTimer(LIMITS).plan(points.flat(), closed, speed);
          let stops = 0;
          for (let i = 1; i <= (closed ? points.length : points.length - 1); i++) {
            const [x0, y0] = points[i - 1]!;
            const [x1, y1] = points[i % points.length]!;
            stops += segmentTimeS(Math.hypot(x1 - x0, y1 - y0), speed, 2000);
          }
          expect(path.timeS).toBeGreaterThanOrEqual(path.lengthMm / speed - 1e-9);
          expect(path.timeS).toBeLessThanOrEqual(stops + 1e-9);
          expect(path.peakMmPerS).toBeLessThanOrEqual(speed + 1e-9);
        },
      ),
      { seed: 10, numRuns: 300 },
    );
  });

  it('looks far enough ahead: a longer path than the window loses next to nothing', () => {
    const n = 8 * WINDOW;
    const xy = Array.from({ length: n + 1 }, (_, i) => [i * 0.5, i % 2 === 0 ? 0 : 0.001]).flat();
    const { timeS, lengthMm } = new PathTimer(LIMITS).plan(xy, false, 100);
    expect(timeS).toBeCloseTo(segmentTimeS(lengthMm, 100, 2000), 2);
  });

  it('the mean speed across a corner is that of coming down to it and speeding up again', () => {
    // From rest s = a·t²/2, so that half a spot of 0.12 mm takes 6.325 ms at 3000 mm/s²: textbook kinematics.
    expect(meanSpeedAcrossMmPerS(0, 0.12, 3000)).toBeCloseTo(0.06 / 0.006325, 2);
    for (const slowest of [0, 4, 12, 40]) {
      const halfS = timeAtS(0.07, 1000, 2000, slowest, 1e6, 0);
      expect(meanSpeedAcrossMmPerS(slowest, 0.14, 2000)).toBeCloseTo(0.07 / halfS, 6);
    }
  });

  it('a profile’s time and speed run from its entry to its exit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (length, entry, share) => {
          const exit = Math.min(50, Math.sqrt(entry * entry + 4000 * length)) * share;
          if (entry * entry > exit * exit + 4000 * length) return;
          const { peakMmPerS, timeS } = profile(length, 50, 2000, entry, exit);
          expect(timeAtS(0, length, 2000, entry, peakMmPerS, exit)).toBeCloseTo(0, 9);
          expect(timeAtS(length, length, 2000, entry, peakMmPerS, exit)).toBeCloseTo(timeS, 6);
          expect(speedAtMmPerS(0, length, 2000, entry, peakMmPerS, exit)).toBeCloseTo(entry, 5);
          expect(speedAtMmPerS(length, length, 2000, entry, peakMmPerS, exit)).toBeCloseTo(exit, 5);
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });
});

describe('a program in time', () => {
  it('is the sum of its parts, and the strokes’ times are the cutting time', () => {
    const toolpath = read('M3 S500 F3000\nG0 X10 Y10\nG1 X60\nY40 S600\nX10 F1200\nY10\nG4 P1\nG0 X0 Y0');
    const { time, strokes } = toolpath;
    expect(time.totalS).toBeCloseTo(time.cuttingS + time.travelS + time.dwellS, 9);
    let sum = 0;
    for (let i = 0; i < strokes.count; i++) {
      sum +=
        Math.hypot(strokes.endX[i]! - strokes.startX[i]!, strokes.endY[i]! - strokes.startY[i]!) /
        strokes.reachedMmPerS[i]!;
      expect(strokes.reachedMmPerS[i]).toBeLessThanOrEqual(strokes.speedMmPerS[i]! + 1e-9);
      expect(strokes.slowestMmPerS[i]).toBeLessThanOrEqual(strokes.reachedMmPerS[i]! + 1e-9);
    }
    expect(sum).toBeCloseTo(time.cuttingS, 6);
    expect(toolpath.timeByLabelS.reduce((a, b) => a + b, 0)).toBeCloseTo(time.cuttingS, 9);
  });

  it('pieces of one straight line with different power do not stop in between', () => {
    const pieces = Array.from({ length: 100 }, (_, i) => `X${i + 1} S${100 + i}`);
    const toolpath = read(['M3 S100 F6000', 'G1', ...pieces]);
    expect(toolpath.time.cuttingS).toBeCloseTo(segmentTimeS(100, 100, 3000), 9);
    expect(toolpath.strokes.slowestMmPerS[50]).toBeCloseTo(100, 9);
  });

  it('a change of beam mode and a dwell are stops', () => {
    const through = read('M3 S1 F6000\nG1 X50\nX100').time.cuttingS;
    for (const between of ['M4', 'M5\nM3', 'G4 P0.001']) {
      expect(read(`M3 S1 F6000\nG1 X50\n${between}\nX100`).time.cuttingS).toBeCloseTo(
        2 * segmentTimeS(50, 100, 3000),
        9,
      );
    }
    expect(through).toBeCloseTo(segmentTimeS(100, 100, 3000), 9);
  });

  it('rapids go at the machine’s own speed whatever feed is in force, moves at the feed at no more than that', () => {
    expect(read('F60\nG0 X600').time.travelS).toBeCloseTo(segmentTimeS(600, 600, 3000), 9);
    expect(read('F6000\nG1 X600').time.travelS).toBeCloseTo(segmentTimeS(600, 100, 3000), 9);
    expect(read('F6000\nM3 S1\nG1 X600').time.cuttingS).toBeCloseTo(segmentTimeS(600, 100, 3000), 9);
  });

  it('travel is what is moved without power, at the rapid or at the feed, in lines and in arcs', () => {
    const { travelLengthMm, cutLengthMm, travels } = read(
      'F600\nG0 X30 Y40\nG1 X40\nG2 X60 I10\nM3 S5\nG1 X65\nG2 X75 I5\nM5\nG1 Z3\nG0 Z0',
    );
    expect(travelLengthMm).toBeCloseTo(50 + 10 + 10 * Math.PI + 3 + 3, 9);
    expect(cutLengthMm).toBeCloseTo(5 + 5 * Math.PI, 9);
    // Two lines, the half circle of radius 10 in chords as close to it as 0.05 mm, and the lift in two: 2 acos(1 - 0.05 / 10) rad a chord.
    expect(travels.count).toBe(4 + Math.ceil(Math.PI / (2 * Math.acos(1 - 0.05 / 10))));
  });

  it('no move is faster than the machine', () => {
    expect(read('M3 S1 F600000\nG1 X5000').time.cuttingS).toBeCloseTo(segmentTimeS(5000, 500, 3000), 9);
  });
});
