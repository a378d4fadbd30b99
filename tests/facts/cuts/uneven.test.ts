import { describe, expect, it } from 'vitest';
import type { ProgrammedPass } from '../../../src/facts/cuts/recipe.ts';
import { unevenGroups } from '../../../src/facts/cuts/uneven.ts';
import type { Aim } from '../../../src/job/model.ts';
import { type Stated, stretchList } from './stretch-list.ts';

const pass = {} as ProgrammedPass;

interface Case {
  aim?: Aim;
  /** Task of each stroke, by its number; 0 where nothing is said. */
  tasks?: Record<number, number>;
}

/** The uneven stretches of these, by the task and number of passes of the group that is told of them. */
function unevenOf(stated: readonly Stated[], { aim = 'through', tasks = {} }: Case = {}) {
  const taskOf = (owner: number) => tasks[owner] ?? 0;
  const lengths = new Map<string, number>();
  for (const { from, to, owners } of stated) {
    const key = `${taskOf(owners[0]!)},${owners.length}`;
    lengths.set(key, (lengths.get(key) ?? 0) + Math.hypot(to[0] - from[0], to[1] - from[1]));
  }
  const groups = [...lengths].map(([key, lengthMm]) => {
    const [taskIndex, count] = key.split(',').map(Number);
    return { taskIndex: taskIndex!, passes: Array.from({ length: count! }, () => pass), lengthMm };
  });
  const found = unevenGroups(
    groups,
    stretchList(stated),
    ({ owner }) => taskOf(owner),
    () => aim,
  );
  return [...found].map(([{ taskIndex, passes }, uneven]) => ({ taskIndex, count: passes.length, ...uneven }));
}

/** 100 mm that are run along twice, between (0, 50) and (100, 50). */
const TWICE: Stated = { from: [0, 50], to: [100, 50], owners: [0, 1] };
const once = (from: Stated['from'], to: Stated['to'], owner = 2): Stated => ({ from, to, owners: [owner] });

describe('an outline is cut unevenly where a stretch of fewer passes joins onto the rest', () => {
  it('and it is told how many passes, on which length, and by which stroke first', () => {
    expect(unevenOf([TWICE, once([100, 50], [100, 57], 4), once([0, 53], [0, 50], 3)])).toEqual([
      { taskIndex: 0, count: 1, fewest: 1, most: 2, shortMm: 10, stroke: 4 },
    ]);
  });

  it('also by the first stroke of all', () => {
    expect(unevenOf([once([0, 50], [0, 58], 0), { ...TWICE, owners: [1, 2] }, once([100, 50], [100, 58], 3)])).toEqual([
      expect.objectContaining({ shortMm: 16, stroke: 0 }),
    ]);
  });

  it.each([
    ['with its start', once([100, 50], [100, 60])],
    ['with its end', once([100, 60], [100, 50])],
    ['where the other one starts', once([0, 50], [0, 60])],
  ])('%s', (_, short) => {
    expect(unevenOf([TWICE, short])).toHaveLength(1);
  });

  // Places are held against each other in cells of 0.1 mm: those of neighbouring cells are one joint.
  it.each<[string, number, Stated['from']]>([
    ['0.1 mm to the right', 1, [100.1, 50]],
    ['0.1 mm to the left', 1, [99.9, 50]],
    ['0.1 mm above', 1, [100, 50.1]],
    ['0.1 mm below', 1, [100, 49.9]],
    ['0.1 mm both ways', 1, [99.9, 50.1]],
    ['0.3 mm to the right', 0, [100.3, 50]],
    ['0.3 mm above', 0, [100, 50.3]],
    ['3 mm to the right', 0, [103, 50]],
    ['3 mm below', 0, [100, 47]],
    ['in another row, as far to the left as a row might be long', 0, [94.8, 50.1]],
  ])('near, and not farther off: %s', (_, count, from) => {
    expect(unevenOf([TWICE, once(from, [from[0], from[1] + 20])])).toHaveLength(count);
  });

  it('on a millimetre in all, since less is how outlines begin and end', () => {
    expect(unevenOf([TWICE, once([100, 50], [100, 51])])).toHaveLength(1);
    expect(unevenOf([TWICE, once([100, 50], [100, 50.9])])).toEqual([]);
    expect(unevenOf([TWICE, once([100, 50], [100, 50.6]), once([0, 50], [0, 50.6])])).toHaveLength(1);
  });

  it('and the fewest passes count: one of three, where other places get two', () => {
    const thrice: Stated = { from: [0, 0], to: [90, 0], owners: [0, 1, 2] };
    const twice: Stated = { from: [90, 0], to: [90, 20], owners: [0, 1] };
    for (const order of [
      [thrice, twice, once([0, 0], [0, 5])],
      [thrice, once([0, 0], [0, 5]), twice],
    ]) {
      expect(unevenOf(order)).toEqual([expect.objectContaining({ count: 1, fewest: 1, most: 3, shortMm: 25 })]);
    }
    expect(unevenOf([thrice, twice])).toEqual([expect.objectContaining({ count: 2, fewest: 2, most: 3 })]);
  });

  it('onto stretches with more passes than usual too, which themselves do not fall short', () => {
    const thrice: Stated = { from: [100, 50], to: [140, 50], owners: [0, 1, 2] };
    expect(unevenOf([TWICE, thrice])).toEqual([]);
    expect(unevenOf([TWICE, thrice, once([140, 50], [140, 60])])).toEqual([
      expect.objectContaining({ most: 2, shortMm: 10 }),
    ]);
  });
});

describe('an outline is not cut unevenly', () => {
  it('where most of its length gets the lower number, as where it overlaps itself as it closes', () => {
    expect(unevenOf([TWICE, once([100, 50], [100, 200])])).toEqual([]);
    // 60 and 60 mm once, in two places, are more than 100 mm twice.
    expect(unevenOf([TWICE, once([100, 50], [100, 110]), once([0, 50], [0, 110])])).toEqual([]);
  });

  it('where half of it gets each, if the passes come first', () => {
    expect(unevenOf([TWICE, once([100, 50], [100, 150])])).toHaveLength(1);
    expect(unevenOf([once([100, 50], [100, 150]), TWICE])).toEqual([]);
  });

  it('where the line of fewer passes touches nothing', () => {
    expect(unevenOf([TWICE, once([40, 80], [60, 80])])).toEqual([]);
    // The middle of a stretch is no joint.
    expect(unevenOf([TWICE, once([50, 50], [50, 80])])).toEqual([]);
  });

  it('where it need not go through', () => {
    expect(unevenOf([TWICE, once([100, 50], [100, 60])], { aim: 'groove' })).toEqual([]);
  });

  it('by what another task cuts there', () => {
    const other = once([100, 50], [100, 60], 5);
    expect(unevenOf([TWICE, other], { tasks: { 5: 1 } })).toEqual([]);
    // A line of its own of one pass, elsewhere, is none of it.
    expect(unevenOf([TWICE, other, once([0, 90], [9, 90], 8)], { tasks: { 5: 1 } })).toEqual([]);
    // The short line of task 1 joins only onto passes of task 0; its own stand elsewhere.
    const own: Stated = { from: [200, 0], to: [300, 0], owners: [6, 7] };
    expect(unevenOf([TWICE, other, own], { tasks: { 5: 1, 6: 1, 7: 1 } })).toEqual([]);
  });
});

it('each task is told of its own uneven stretches', () => {
  const later: Stated = { from: [0, 200], to: [100, 200], owners: [3, 4] };
  const stated = [TWICE, once([100, 50], [100, 60]), later, once([0, 200], [0, 204], 5)];
  expect(unevenOf(stated, { tasks: { 3: 1, 4: 1, 5: 1 } })).toEqual([
    { taskIndex: 0, count: 1, fewest: 1, most: 2, shortMm: 10, stroke: 2 },
    { taskIndex: 1, count: 1, fewest: 1, most: 2, shortMm: 4, stroke: 5 },
  ]);
});

it('how many passes are usual is a matter of each task', () => {
  const long = once([0, 300], [900, 300], 5);
  expect(unevenOf([TWICE, once([100, 50], [100, 60]), long], { tasks: { 5: 1 } })).toEqual([
    { taskIndex: 0, count: 1, fewest: 1, most: 2, shortMm: 10, stroke: 2 },
  ]);
});
