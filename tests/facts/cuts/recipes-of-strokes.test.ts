import { describe, expect, it } from 'vitest';
import { groupByRecipe, stretchesOf } from '../../../src/facts/cuts/passes.ts';
import type { Aim } from '../../../src/job/model.ts';
import { STROKE_AIR, STROKE_SCALED, STROKE_STARTS_PATH, type Strokes } from '../../../src/model/strokes.ts';
import { strokesThrough } from '../../rules/build-files.ts';
import { type Stated, stretchList } from './stretch-list.ts';

type Place = readonly [number, number];

const through = (): Aim => 'through';

/** Strokes along a line, each 10 mm long, with some of their numbers changed. */
function inARow(count: number, change: (strokes: Strokes) => void = () => {}): Strokes {
  const strokes = strokesThrough(Array.from({ length: count + 1 }, (_, i): Place => [10 * i, 5]));
  change(strokes);
  return strokes;
}

function grouped(strokes: Strokes, tasks: readonly number[] = [], aimOf: (task: number) => Aim = through) {
  const taskOfStroke = Int32Array.from({ length: strokes.count }, (_, i) => tasks[i] ?? 0);
  return groupByRecipe(strokes, stretchesOf(strokes), taskOfStroke, aimOf);
}

/** Puts a value in each place. */
const fill = (numbers: Float64Array, value: (i: number) => number) => {
  for (let i = 0; i < numbers.length; i++) numbers[i] = value(i);
};

const recipesOf = (strokes: Strokes) => grouped(strokes).items.map(({ strokes: own }) => [...own]);

describe('the cuts of a program', () => {
  it('have the settings, places and speeds of their strokes', () => {
    const strokes = strokesThrough([
      [50, 30],
      [10, 30],
      [10, -5],
    ]);
    strokes.reachedMmPerS.set([9, 11]);
    strokes.slowestMmPerS.set([7, 3]);
    strokes.startZ.fill(-1.5);
    strokes.flags.fill(STROKE_AIR);
    expect(grouped(strokes)).toEqual({
      items: [
        {
          taskIndex: 0,
          passes: [{ setting: 0.8, programmedMmPerS: 12, reachedMmPerS: 11, zMm: -1.5, air: true, scaled: false }],
          passCount: 1,
          lengthMm: 75,
          strokes: Uint32Array.of(0, 1),
          box: { minX: 10, minY: -5, maxX: 50, maxY: 30 },
          slowestMmPerS: 3,
          uneven: null,
        },
      ],
      endedEarly: null,
    });
  });

  it('list the passes over a line in order, each with its own settings', () => {
    const strokes = strokesThrough([
      [0, 0],
      [40, 0],
      [0, 0],
      [40, 0],
    ]);
    strokes.setting.set([0.8, 0.6, 0.8]);
    strokes.flags.set([0, STROKE_SCALED, 0]);
    const [cut, ...others] = grouped(strokes).items;
    expect(others).toEqual([]);
    expect(cut).toMatchObject({ passCount: 3, lengthMm: 40, strokes: Uint32Array.of(0, 1, 2) });
    expect(cut!.passes.map(({ setting, scaled }) => [setting, scaled])).toEqual([
      [0.8, false],
      [expect.closeTo(0.6, 9), true],
      [0.8, false],
    ]);
  });

  it.each<[string, (strokes: Strokes) => void]>([
    ['setting', ({ setting }) => setting.set([0.802], 1)],
    ['speed', ({ speedMmPerS }) => speedMmPerS.set([12.002], 1)],
    ['height', ({ startZ }) => startZ.set([-0.02], 1)],
    ['air', ({ flags }) => flags.set([STROKE_AIR], 1)],
    ['way in which power follows the speed', ({ flags }) => flags.set([STROKE_SCALED], 1)],
  ])('are apart where strokes differ in %s, and those are one that are the same again', (_, change) => {
    expect(recipesOf(inARow(3, change))).toEqual([[0, 2], [1]]);
  });

  it.each<[string, (strokes: Strokes) => void]>([
    ['setting by less than a thousandth', ({ setting }) => setting.set([0.8004], 1)],
    ['speed by less than a thousandth', ({ speedMmPerS }) => speedMmPerS.set([12.0004], 1)],
    ['height by less than a hundredth', ({ startZ }) => startZ.set([-0.004], 1)],
    ['whether a path starts', ({ flags }) => flags.set([STROKE_STARTS_PATH], 1)],
  ])('are not apart for strokes that differ in %s', (_, change) => {
    expect(recipesOf(inARow(3, change))).toEqual([[0, 1, 2]]);
  });

  it('are as many as there are recipes, however often each comes again', () => {
    const strokes = inARow(36, ({ setting }) => fill(setting, (i) => 0.3 + 0.02 * (i % 12)));
    expect(recipesOf(strokes)).toEqual(Array.from({ length: 12 }, (_, i) => [i, i + 12, i + 24]));
  });

  it('stand in the order of their first strokes', () => {
    const strokes = inARow(3, ({ setting }) => setting.set([0.3, 0.5, 0.7]));
    const one = (owner: number): Stated => ({ from: [10 * owner, 5], to: [10 * owner + 10, 5], owners: [owner] });
    const { items } = groupByRecipe(strokes, stretchList([one(1), one(2), one(0)]), new Int32Array(3), through);
    expect(items.map(({ strokes: own }) => own[0])).toEqual([0, 1, 2]);
  });

  it('are none of strokes without length, which count in no limit either', () => {
    const settings = 65;
    const strokes = inARow(settings, ({ setting }) => fill(setting, (i) => 0.2 + 0.01 * i));
    const all = Array.from(
      { length: settings },
      (_, i): Stated => ({
        from: [10 * i, 5],
        to: [10 * i + (i === 3 ? 0 : 10), 5],
        owners: [i],
      }),
    );
    const { items } = groupByRecipe(strokes, stretchList(all), new Int32Array(settings), through);
    expect(items).toHaveLength(64);
    expect(items.some(({ strokes: own }) => own.includes(3))).toBe(false);
  });
});

describe('a task of very many recipes', () => {
  const rising = (count: number) => inARow(count, ({ setting }) => fill(setting, (i) => 0.2 + 0.001 * (i + 1)));

  it('keeps 64 of them apart', () => {
    const { items } = grouped(rising(64));
    expect(items).toHaveLength(64);
    expect(items[10]!.passes[0]).toMatchObject({ setting: expect.closeTo(0.211, 9), programmedMmPerS: 12 });
  });

  it('takes more together, settings down to whole steps of 5 % and speeds up by less than a tenth', () => {
    // 20.1 to 26.5 %: 49 below 25 %, 16 from there on.
    const { items } = grouped(rising(65));
    expect(items.map(({ passes, strokes }) => [passes[0]!.setting, strokes.length])).toEqual([
      [expect.closeTo(0.2, 9), 49],
      [expect.closeTo(0.25, 9), 16],
    ]);
    // Powers of 1.1: 11.918 and 13.110 on either side of 12.
    for (const { passes } of items) expect(passes[0]!.programmedMmPerS).toBeCloseTo(13.11, 2);
  });

  it('keeps a speed that is such a step, and one that is not stated', () => {
    const strokes = rising(65);
    strokes.speedMmPerS.fill(1.1 ** 10);
    strokes.speedMmPerS.fill(Number.NaN, 60);
    strokes.speedMmPerS.fill(0, 64);
    const speeds = grouped(strokes).items.map(({ passes }) => passes[0]!.programmedMmPerS);
    expect(speeds).toEqual([expect.closeTo(2.5937, 4), expect.closeTo(2.5937, 4), Number.NaN, 0]);
  });

  it('is told from two tasks that have fewer each', () => {
    const tasks = Array.from({ length: 80 }, (_, i) => (i < 40 ? 0 : 1));
    const { items } = grouped(rising(80), tasks);
    expect(items).toHaveLength(80);
    expect(items.map(({ taskIndex }) => taskIndex)).toEqual(tasks);
  });
});

describe('a line that strokes of several tasks run along', () => {
  const twice = strokesThrough([
    [0, 0],
    [40, 0],
    [0, 0],
  ]);
  const taskWhere = (...aims: Aim[]) => grouped(twice, [0, 1], (task) => aims[task]!).items.map((cut) => cut.taskIndex);

  it('belongs to the one that must part the sheet, the first if both must or none', () => {
    expect(taskWhere('groove', 'through')).toEqual([1]);
    expect(taskWhere('through', 'groove')).toEqual([0]);
    expect(taskWhere('through', 'through')).toEqual([0]);
    expect(taskWhere('groove', 'groove')).toEqual([0]);
  });

  it('says nothing of the lines beside it', () => {
    const strokes = inARow(3, ({ flags }) => flags.fill(STROKE_STARTS_PATH));
    const cuts = grouped(strokes, [1, 0, 1], (task) => (task === 0 ? 'through' : 'groove')).items;
    expect(cuts.map(({ taskIndex, strokes: own }) => [taskIndex, [...own]])).toEqual([
      [1, [0, 2]],
      [0, [1]],
    ]);
  });
});

describe('passes that could not all be followed', () => {
  it('are told where the search for them ended early', () => {
    const strokes = inARow(1);
    const list = stretchList([{ from: [0, 5], to: [10, 5], owners: [0] }], 'whatever ended it');
    expect(groupByRecipe(strokes, list, new Int32Array(1), through).endedEarly).toBe(
      'so many strokes lie on each other that their passes could not all be followed',
    );
  });
});
