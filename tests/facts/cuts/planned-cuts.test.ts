import { describe, expect, it } from 'vitest';
import type { CutContext } from '../../../src/facts/cuts/one-cut.ts';
import { cutsOfPlan } from '../../../src/facts/cuts/planned-cuts.ts';
import type { TaskFact } from '../../../src/facts/tasks/task-fact.ts';
import type { Machine, Task } from '../../../src/job/model.ts';
import type { Artwork } from '../../../src/model/artwork.ts';
import { at, type Change, facts, machine, plannedTask, task } from '../../rules/build-facts.ts';
import { drawn, line } from './drawn-lines.ts';
import { context } from './set-up.ts';

interface Case {
  planned?: Change<Task> | null;
  of?: Change<TaskFact>;
  context?: Partial<CutContext>;
}

function cutsOf(drawing: Artwork, { planned = {}, of = {}, context: more }: Case = {}) {
  const outlines = Uint32Array.from(drawing.outlines.keys());
  const stated = planned === null ? null : plannedTask(planned);
  const fact = task({ strokes: new Uint32Array(0), outlines, ...of }, stated);
  return cutsOfPlan(context(more), drawing, [fact]);
}
const first = (...given: Parameters<typeof cutsOf>) => cutsOf(...given)[0]!;
const LINE = drawn(line(0, 0, 60, 0));

describe('a cut as planned', () => {
  it('is the task’s, from the outlines that it selects', () => {
    const { cut, short } = first(drawn(line(0, 0, 60, 0), line(0, 10, 40, 10)));
    expect(cut).toMatchObject({
      task: 'outline',
      aim: 'through',
      taskIndex: 0,
      lengthMm: 100,
      passCount: 1,
      strokes: Uint32Array.of(0, 1),
      uneven: null,
      notPredicted: null,
      location: at('coaster.svg', 4, 3),
      settingLocation: at('coaster.job.yaml', 6),
    });
    expect(short).toMatchObject({ at: null, focusMoves: true });
    // Each line from rest to rest at 12 mm/s and 3000 mm/s²: L/v + v/a.
    expect(short!.cutTimeS).toBeCloseTo(60 / 12 + 40 / 12 + (2 * 12) / 3000, 9);
  });

  it('points at the first of its outlines, and where no plan states a speed there too', () => {
    const drawing = drawn(line(0, 0, 9, 0), { ...line(0, 5, 9, 5), element: 1 });
    const one: Case = { of: { outlines: Uint32Array.of(1) } };
    expect(first(drawing, one).cut).toMatchObject({ lengthMm: 9, location: at('coaster.svg', 8, 3) });
    expect(first(drawing, { ...one, planned: null }).cut.settingLocation).toEqual(at('coaster.svg', 8, 3));
    const job = { ...facts().input, sidecar: null, files: { ...facts().input.files, artwork: null } };
    const bare = first(drawing, { ...one, context: { job: { ...job, home: at('bare.svg', 1) } } }).cut;
    expect([bare.location, bare.settingLocation]).toEqual([at('bare.svg', 8, 3), at('bare.svg', 8, 3)]);
  });

  it('has as many passes as planned, with its power, speed, air and the focus that is lowered with each', () => {
    const { cut } = first(LINE, { planned: { passes: 3, focusMm: -1, focusStepMm: -1.5 } });
    expect(cut.passCount).toBe(3);
    expect(cut.passes.map(({ focusMm }) => focusMm)).toEqual([-1, -2.5, -4]);
    expect(cut.passes[2]).toEqual({
      // 54 W × 80 %, in the middle of the bed.
      powerW: 42.12,
      setting: 0.8,
      // 60 mm in 5.004 s.
      speedMmPerS: expect.closeTo(60 / 5.004, 9),
      programmedMmPerS: 12,
      focusMm: -4,
      air: true,
      scaled: false,
    });
  });

  it('is one pass with the focus on the face where neither is planned', () => {
    const { passes } = first(LINE, { planned: { passes: null, focusMm: null } }).cut;
    expect(passes.map(({ focusMm }) => focusMm)).toEqual([0]);
  });

  it.each([
    [1.4, true],
    [0, false],
    [null, false],
  ])('at %s bar of air has air: %s', (airBar, air) => {
    expect(first(LINE, { planned: { airBar } }).cut.passes[0]!.air).toBe(air);
  });

  it('takes watts as a share of full power', () => {
    const planned = { power: { watts: 10.8 } };
    expect(first(LINE, { planned }).cut.passes[0]).toMatchObject({ setting: 0.2, powerW: 10.53 });
    expect(first(LINE, { planned, context: { fullW: 0 } }).cut.passes[0]!.setting).toBe(0);
  });

  it('lies at the far corner of all its outlines, where that is known', () => {
    const onBed = { box: null, unknown: null, unfollowed: null, shift: { xMm: 500, yMm: 300 } };
    const { cut, short } = first(drawn(line(40, 100, 60, 20), line(100, 30, 90, 40)), { context: { onBed } });
    expect(short!.at).toEqual({ xMm: 600, yMm: 400 });
    expect(cut.passes[0]!.powerW).toBe(41.04);
  });

  it('moves its focus only on a machine that moves Z', () => {
    const fixed: Machine = { ...machine(), controller: { ...machine().controller, zZero: 'fixed' } };
    const flat = machine({ travel: { zMm: 0 } });
    const unknown = machine({ travel: { zMm: null } });
    for (const still of [fixed, flat, unknown]) {
      expect(first(LINE, { context: { machine: still } }).short!.focusMoves).toBe(false);
    }
  });
});

describe('no cut is taken from the plan', () => {
  it.each<[string, Change<TaskFact>]>([
    ['where the toolpath has the task', { strokes: Uint32Array.of(3) }],
    ['of a task that only marks the surface', { aim: 'surface' }],
    ['of a task that selects nothing', { outlines: new Uint32Array(0) }],
  ])('%s', (_, of) => {
    expect(cutsOf(LINE, { of })).toEqual([]);
  });
});

describe('a cut whose plan says too little', () => {
  it.each<[string, Change<Task> | null]>([
    ['power', { power: null }],
    ['speed', { speedMmPerS: null }],
    ['anything', null],
  ])('is not predicted without %s', (_, planned) => {
    const { cut, speed, short } = first(LINE, { planned });
    expect(cut).toMatchObject({ passes: [], passCount: 0, notPredicted: 'power or speed is not planned' });
    expect(short).toBeNull();
    expect(speed.belowShare).toBe(0);
  });

  it('has no programmed speed either, and no watts where the profile gives none', () => {
    expect(first(LINE, { planned: null }).speed).toEqual({
      belowShare: 0,
      reachedMmPerS: 0,
      programmedMmPerS: 0,
      location: at('coaster.svg', 4, 3),
    });
    const dead = machine({ source: { measuredW: 0 } });
    expect(first(LINE, { context: { machine: dead } }).cut.passes[0]!.powerW).toBe(0);
  });
});

describe('the planned speed', () => {
  const speed = (drawing: Artwork, speedMmPerS: number) => first(drawing, { planned: { speedMmPerS } }).speed;

  it('is reached on a line that is long enough, though the mean stays below it', () => {
    expect(speed(LINE, 12)).toEqual({
      belowShare: 0,
      reachedMmPerS: 12,
      programmedMmPerS: 12,
      location: at('coaster.job.yaml', 6),
    });
  });

  it('is never reached on short lines, nor above what the machine does', () => {
    // From rest to rest over 0.75 mm: √(a L) = 47.43 mm/s at most.
    expect(speed(drawn(line(0, 0, 0.75, 0)), 100)).toMatchObject({
      belowShare: 1,
      reachedMmPerS: expect.closeTo(47.4342, 4),
      programmedMmPerS: 100,
    });
    expect(speed(drawn(line(0, 0, 500, 0)), 1000)).toMatchObject({ belowShare: 1, reachedMmPerS: 500 });
  });

  it('counts as reached but for a thousandth', () => {
    // √(a L) is 99.95 and 99.85 mm/s.
    const [nearly, below] = [99.95, 99.85].map((peak) => speed(drawn(line(0, 0, peak ** 2 / 3000, 0)), 100));
    expect([nearly!.belowShare, below!.belowShare]).toEqual([0, 1]);
  });

  it('is what the passes count on where nothing is known of what is reached', () => {
    expect(first(drawn(line(3, 3, 3, 3))).cut.passes[0]!.speedMmPerS).toBe(12);
  });

  it('is what the passes count on where it is lower than the mean, and the mean of the fastest outline else', () => {
    const { passes } = first(drawn(line(0, 0, 0.75, 0), line(0, 5, 3, 5)), { planned: { speedMmPerS: 400 } }).cut;
    // 3 mm from rest to rest: √(a L)/2.
    expect(passes[0]!.speedMmPerS).toBeCloseTo(47.4342, 4);
  });
});
