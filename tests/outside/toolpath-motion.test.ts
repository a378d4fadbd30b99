import { describe, expect, it } from 'vitest';
import { cornerSpeedMmPerS, peakSpeedMmPerS, segmentTimeS } from '../../src/geometry/motion/motion.ts';
import { PathTimer } from '../../src/geometry/motion/planner.ts';
import { read } from '../gcode/reading.ts';

// Textbook kinematics of constant acceleration, computed by hand outside the project (the motion table of the cut model):
// length, speed, acceleration → time, peak speed.
const MOVES = [
  [10, 20, 500, 0.54, 20],
  [0.5, 20, 500, 0.06325, 15.811],
  [100, 100, 1000, 1.1, 100],
  [1, 50, 1000, 0.06325, 31.623],
] as const;

// Junction deviation 0.01 mm, 500 mm/s²: R = δ s/(1 − s), s = sin(θ/2), v = √(aR).
const CORNERS = [
  [45, 1.761],
  [60, 2.236],
  [90, 3.474],
  [120, 5.685],
  [135, 7.79],
  [150, 11.905],
  [170, 36.18],
] as const;

describe('motion against the published formulas', () => {
  it.each(MOVES)('%d mm at %d mm/s under %d mm/s²', (length, speed, acceleration, timeS, peak) => {
    expect(segmentTimeS(length, speed, acceleration)).toBeCloseTo(timeS, 5);
    expect(peakSpeedMmPerS(length, speed, acceleration)).toBeCloseTo(peak, 3);
    expect(
      new PathTimer({ accelerationMmPerS2: acceleration, cornerDeviationMm: 0.01 }).plan(
        [0, 0, length, 0],
        false,
        speed,
      ).timeS,
    ).toBeCloseTo(timeS, 5);
  });

  it.each(CORNERS)('a corner of %d° is taken at %d mm/s', (degrees, speed) => {
    expect(cornerSpeedMmPerS((degrees * Math.PI) / 180, 0.01, 500)).toBeCloseTo(speed, 2);
  });

  it.each(CORNERS)('a program through a corner of %d° slows to %d mm/s there', (degrees, speed) => {
    const turn = Math.PI - (degrees * Math.PI) / 180;
    const x = 50 + 50 * Math.cos(turn);
    const y = 50 * Math.sin(turn);
    const toolpath = read(`M3 S500 F6000\nG1 X50\nX${x.toFixed(9)} Y${y.toFixed(9)}`, {
      accelerationMmPerS2: 500,
      cornerDeviationMm: 0.01,
    });
    const { strokes } = toolpath;
    expect(strokes.slowestMmPerS[0]).toBe(0);
    // Both ends of the whole path are rests, so the corner's speed shows in the time alone: 50 mm from 0 to v and 50 mm from v to 0.
    const half = halfTime(50, 100, 500, speed);
    expect(toolpath.time.cuttingS).toBeCloseTo(2 * half, 3);
    expect(strokes.reachedMmPerS[0]).toBeCloseTo(50 / half, 2);
  });

  // Textbook circular motion: v²/r is the acceleration towards the centre, so a = 3000 mm/s² on r = 10 mm allows √30000 = 173.2 mm/s
  // where F60000 asks for 1000. From rest to rest: L/v + v/a.
  it('an arc is taken no faster than the acceleration towards its centre allows', () => {
    const v = 173.205;
    const lengthMm = 5 * 2 * Math.PI * 10;
    const turns = read('M3 S500 F60000\nG2 X0 Y0 I10 P5', { accelerationMmPerS2: 3000, speedMmPerS: 1000 });
    expect(turns.time.cuttingS).toBeCloseTo(lengthMm / v + v / 3000, 4);
    const unlit = read('F60000\nG2 X0 Y0 I10 P5', { accelerationMmPerS2: 3000, speedMmPerS: 1000 });
    expect(unlit.time.travelS).toBeCloseTo(lengthMm / v + v / 3000, 4);
  });

  it('a wide arc is taken at the speed that is asked for', () => {
    const lengthMm = 2 * Math.PI * 50;
    expect(read('M3 S500 F6000\nG2 X0 Y0 I50').time.cuttingS).toBeCloseTo(lengthMm / 100 + 100 / 3000, 6);
  });

  it('straight on and back', () => {
    expect(cornerSpeedMmPerS(Math.PI, 0.01, 500)).toBe(Number.POSITIVE_INFINITY);
    expect(cornerSpeedMmPerS(0, 0.01, 500)).toBe(0);
  });
});

/** From rest over `length` to the speed v, by the textbook: up to the speed or the peak, then down to v. */
function halfTime(length: number, speed: number, a: number, v: number): number {
  const peak = Math.min(speed, Math.sqrt((2 * a * length + v * v) / 2));
  const ramps = (peak * peak) / (2 * a) + (peak * peak - v * v) / (2 * a);
  return peak / a + (peak - v) / a + (length - ramps) / peak;
}
