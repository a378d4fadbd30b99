import { describe, expect, it } from 'vitest';
import type { CutContext } from '../../../src/facts/cuts/one-cut.ts';
import { followsZ } from '../../../src/facts/cuts/toolpath-cuts.ts';
import type { Machine } from '../../../src/job/model.ts';
import { STROKE_AIR, STROKE_SCALED, type Strokes } from '../../../src/model/strokes.ts';
import { at, facts, machine, plannedTask, strokesThrough, toolpath } from '../../rules/build-facts.ts';
import { type Case, cutsAlong, type Place } from './cuts-along.ts';

const LINE: readonly Place[] = [
  [0, 0],
  [60, 0],
];
const TWICE: readonly Place[] = [...LINE, [0, 0]];
const first = (...given: Parameters<typeof cutsAlong>) => cutsAlong(...given).items[0]!;
const shiftTo = (xMm: number, yMm: number) => ({
  onBed: { box: null, unknown: null, unfollowed: null, shift: { xMm, yMm } },
});

describe('a cut of the toolpath', () => {
  it('says which task, how long, how often, and in which line of the program it begins', () => {
    const { cut } = first(TWICE, ({ line }) => line.set([21, 23]), { tasks: [1, 1] });
    const location = { file: 'coaster.gcode', line: 21, column: 1, endLine: 21, endColumn: 1 };
    expect(cut).toMatchObject({
      task: 'task 1',
      aim: 'through',
      taskIndex: 1,
      lengthMm: 60,
      passCount: 2,
      strokes: Uint32Array.of(0, 1),
      location,
      settingLocation: location,
      uneven: null,
      notPredicted: null,
    });
  });

  it('is placed in the job’s own file where that is the toolpath', () => {
    const job = { ...facts().input, files: { ...facts().input.files, toolpath: null }, home: at('bare.gcode', 1) };
    expect(first(LINE, undefined, { context: { job } }).cut.location.file).toBe('bare.gcode');
  });

  it('has watts by the setting and by where it lies: the far corner of its box, or the middle of the bed', () => {
    const watts = (where: Partial<CutContext>) => first(LINE, undefined, { context: where }).cut.passes[0]!.powerW;
    // 54 W × 80 %, less 5 % at the far corner (600, 400) of the bed, half of that in its middle.
    expect(watts({})).toBe(42.12);
    expect(watts(shiftTo(540, 400))).toBe(41.04);
    expect(watts(shiftTo(-60, 0))).toBeCloseTo(43.2 * (1 - (0.05 * 60) / Math.hypot(600, 400)), 2);
  });

  it('has no watts where the profile’s figures cannot be used', () => {
    const dead = { ...machine(), source: { ...machine().source, measuredW: 0 } };
    expect(first(LINE, undefined, { context: { machine: dead } }).cut.passes[0]!.powerW).toBe(0);
  });

  it('has the speed that is reached, and the power that follows it only where the machine scales it', () => {
    const slow = (flags: number) =>
      first(LINE, (strokes) => {
        strokes.reachedMmPerS.set([9.0031]);
        strokes.flags.set([flags]);
      }).cut.passes[0]!;
    expect(slow(STROKE_SCALED | STROKE_AIR)).toEqual({
      powerW: 31.6,
      setting: expect.closeTo(0.8, 9),
      speedMmPerS: 9,
      programmedMmPerS: 12,
      focusMm: 0,
      air: true,
      scaled: true,
    });
    expect(slow(0)).toMatchObject({ powerW: 42.12, speedMmPerS: 9, air: false, scaled: false });
  });

  it('never counts on more than the programmed speed, nor on less where nothing is known of what is reached', () => {
    const speed = (reached: number) =>
      first(LINE, ({ reachedMmPerS, flags }) => {
        reachedMmPerS.set([reached]);
        flags.set([STROKE_SCALED]);
      }).cut.passes[0]!;
    expect(speed(20)).toMatchObject({ speedMmPerS: 12, powerW: 42.12 });
    expect(speed(0)).toMatchObject({ speedMmPerS: 12, powerW: 42.12 });
  });

  it('is not predicted without a programmed speed, and keeps its power', () => {
    const { cut } = first(LINE, ({ speedMmPerS, reachedMmPerS, flags }) => {
      speedMmPerS.set([0]);
      reachedMmPerS.set([0]);
      flags.set([STROKE_SCALED]);
    });
    expect(cut).toMatchObject({ notPredicted: 'a pass has no speed', passes: [{ powerW: 42.12, speedMmPerS: 0 }] });
  });

  it('rests its remedies on the time of all its passes and on the place where it lies', () => {
    const { short } = first(TWICE, ({ reachedMmPerS }) => reachedMmPerS.fill(10), { context: shiftTo(5, 7) });
    // 60 mm at 10 mm/s, twice.
    expect(short).toMatchObject({ at: { xMm: 65, yMm: 7 }, cutTimeS: 12, focusMoves: false });
    expect(first(LINE).short).toMatchObject({ at: null, cutTimeS: 5 });
  });

  it('tells of the stretches of an outline that get fewer passes, by the line that falls short first', () => {
    const around: Place[] = [...TWICE, [0, 10], [10, 10]];
    const { items } = cutsAlong(around);
    expect(items[0]!.cut.uneven).toBeNull();
    const uneven = items[1]!.cut.uneven!;
    expect(uneven).toMatchObject({ fewest: 1, most: 2, location: { file: 'coaster.gcode', line: 12 } });
    expect(uneven.shortMm).toBeCloseTo(10, 6);
  });

  it('is slowest where its strokes are; nothing is known where no number was given', () => {
    const dead: Partial<CutContext> = { predicting: { predictor: null, notPredicted: 'whatever' } };
    const slowest = (mmPerS: number) =>
      first(LINE, ({ slowestMmPerS }) => slowestMmPerS.set([mmPerS]), { context: dead }).cut.slowestMmPerS;
    expect(slowest(4)).toBe(4);
    expect(slowest(Number.POSITIVE_INFINITY)).toBe(0);
  });
});

describe('the focus of a pass', () => {
  const lowered = ({ startZ, endZ }: Strokes) => {
    startZ.set([-2, -3]);
    endZ.set([-2, -3]);
  };
  const planned = plannedTask({ focusMm: -0.5, focusStepMm: -1.5 });
  const focus = (change?: (strokes: Strokes) => void, more: Case = { planned }) =>
    first(TWICE, change, more).cut.passes.map(({ focusMm }) => focusMm);
  const fixed: Machine = { ...machine(), controller: { ...machine().controller, zZero: 'fixed' } };

  it('is planned, with its step, where the program moves no Z', () => {
    expect(focus()).toEqual([-0.5, -2]);
    expect(focus(undefined, { planned: null })).toEqual([0, 0]);
  });

  it('is where the program moves Z to, if Z is the height of the waist', () => {
    expect(focus(lowered)).toEqual([-2, -3]);
    expect(first(TWICE, lowered).short?.focusMoves).toBe(true);
  });

  it('is the planned one without a step, if Z moves and does not say where the waist lies', () => {
    expect(focus(lowered, { planned, context: { machine: fixed } })).toEqual([-0.5, -0.5]);
    expect(first(TWICE, lowered, { context: { machine: fixed } }).short?.focusMoves).toBe(false);
  });

  it('follows Z in whichever stroke that moves, at its start or at its end', () => {
    const moved = (change: (strokes: Strokes) => void) => {
      const strokes = strokesThrough(TWICE);
      change(strokes);
      return [machine(), fixed].map((on) => followsZ(on, toolpath({ strokes })));
    };
    expect(moved(() => {})).toEqual([false, false]);
    expect(moved(({ startZ }) => startZ.set([-1], 1))).toEqual([true, false]);
    expect(moved(({ endZ }) => endZ.set([3], 1))).toEqual([true, false]);
  });
});
