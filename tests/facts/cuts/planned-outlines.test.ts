import { describe, expect, it } from 'vitest';
import { planOutlines } from '../../../src/facts/cuts/planned-outlines.ts';
import { machine } from '../../rules/build-facts.ts';
import { drawn, line } from './drawn-lines.ts';

const LINE = drawn(line(0, 0, 60, 0));

describe('the outlines of a task', () => {
  const planned = { speedMmPerS: 20, passes: 3 };

  it('take their time in all passes, each from rest to rest', () => {
    const drawing = drawn(line(0, 0, 60, 0), line(5, -8, 5, 12));
    const plan = planOutlines(drawing, machine(), planned, Uint32Array.of(0, 1));
    const [long, short] = [60 / 20 + 20 / 3000, 20 / 20 + 20 / 3000];
    expect(plan).toEqual({
      lengthMm: 80,
      timeS: expect.closeTo(3 * (long + short), 9),
      reachedMmPerS: expect.closeTo(60 / long, 9),
      peakMmPerS: 20,
      slowestMmPerS: expect.closeTo(20 / short, 9),
      box: { minX: 0, minY: -8, maxX: 60, maxY: 12 },
    });
    expect(planOutlines(drawing, machine(), { ...planned, passes: null }, Uint32Array.of(1, 0))).toMatchObject({
      timeS: expect.closeTo(long + short, 9),
      reachedMmPerS: expect.closeTo(60 / long, 9),
      slowestMmPerS: expect.closeTo(20 / short, 9),
    });
  });

  it('close where they are closed', () => {
    const open = { ...line(0, 0, 30, 0), closed: true };
    const { timeS } = planOutlines(drawn(open), machine(), { ...planned, passes: 1 }, Uint32Array.of(0));
    // There and back, with a stop at the turn.
    expect(timeS).toBeCloseTo(2 * (30 / 20 + 20 / 3000), 9);
  });

  it('take no time without a speed, and are still as long and as wide', () => {
    const none = { timeS: 0, reachedMmPerS: 0, peakMmPerS: 0, slowestMmPerS: 0 };
    for (const speedMmPerS of [null, 0]) {
      expect(planOutlines(LINE, machine(), { ...planned, speedMmPerS }, Uint32Array.of(0))).toEqual({
        ...none,
        lengthMm: 60,
        box: { minX: 0, minY: 0, maxX: 60, maxY: 0 },
      });
    }
    expect(planOutlines(LINE, machine(), planned, new Uint32Array(0))).toEqual({ ...none, lengthMm: 0, box: null });
  });

  it('say nothing of the slowest speed by one without length', () => {
    const { slowestMmPerS, box } = planOutlines(
      drawn(line(3, 3, 3, 3), line(0, 0, 60, 0), line(9, 9, 9, 9)),
      machine(),
      planned,
      Uint32Array.of(0, 1, 2),
    );
    expect(slowestMmPerS).toBeCloseTo(60 / (3 + 20 / 3000), 9);
    expect(box).toEqual({ minX: 0, minY: 0, maxX: 60, maxY: 9 });
    expect(planOutlines(drawn(line(3, 4, 3, 4)), machine(), planned, Uint32Array.of(0)).box).not.toBeNull();
  });
});
