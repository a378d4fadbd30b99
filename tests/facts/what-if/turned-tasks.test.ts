import { describe, expect, it } from 'vitest';
import type { CutChange } from '../../../src/facts/what-if/change.ts';
import { turnedTasks } from '../../../src/facts/what-if/turned-tasks.ts';
import { factsOf, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const facts = (planned: string) =>
  factsOf({
    ...shed(),
    'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nartwork: part.svg\ntasks:\n  - { name: outline, aim: through${planned} }\n`,
    'part.svg': OUTLINE,
  });
const ALL: CutChange = { cut: 0, setting: 0.4, speedMmPerS: 7, passes: 2, focusMm: -1.5, focusStepMm: -0.5 };

/** What the one task plans once its cut was turned. */
function plannedAfter(planned: string, change: CutChange, fromToolpath = false) {
  const { tasks, cuts } = facts(planned);
  const none = new Int32Array(0);
  const assignment = { tasks, ofStroke: none, ofArea: none, ofOutline: none, orphans: -1, endedEarly: null };
  const [turned] = turnedTasks(assignment, cuts, [change], () => fromToolpath);
  const { power, speedMmPerS, passes, focusMm, focusStepMm } = turned!.planned!;
  return { power, speedMmPerS, passes, focusMm, focusStepMm };
}

describe('the plan of a task whose cut is turned', () => {
  const stated = ', power: 80 %, speed: 12 mm/s, passes: 1, focus: -1 mm';
  const turned = { power: { fraction: 0.4 }, speedMmPerS: 7, passes: 2, focusMm: -1.5, focusStepMm: -0.5 };
  const before = { power: { fraction: 0.8 }, speedMmPerS: 12, passes: 1, focusMm: -1, focusStepMm: 0 };

  it('is turned in all that the change says', () => {
    expect(plannedAfter(stated, ALL)).toEqual(turned);
    expect(plannedAfter('', ALL)).toEqual(turned);
  });

  it.each<[keyof typeof before, Partial<CutChange>]>([
    ['power', { setting: 0.4 }],
    ['speedMmPerS', { speedMmPerS: 7 }],
    ['passes', { passes: 2 }],
    ['focusMm', { focusMm: -1.5 }],
    ['focusStepMm', { focusStepMm: -0.5 }],
  ])('stays as it is but for its %s where only that is turned', (name, change) => {
    expect(plannedAfter(stated, { cut: 0, ...change })).toEqual({ ...before, [name]: turned[name] });
  });

  it('that a toolpath is held against states no more than it did, but for the focus', () => {
    expect(plannedAfter(stated, ALL, true)).toEqual(turned);
    expect(plannedAfter(', speed: 12 mm/s', ALL, true)).toEqual({ ...turned, power: null, passes: null });
  });

  it('is made of what is turned alone where the task is not stated', () => {
    const bare = factsOf({
      ...shed(),
      'part.job.yaml':
        'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nartwork: part.svg\n',
      'part.svg': OUTLINE,
    });
    const none = new Int32Array(0);
    const assignment = {
      tasks: bare.tasks,
      ofStroke: none,
      ofArea: none,
      ofOutline: none,
      orphans: -1,
      endedEarly: null,
    };
    const [task] = bare.tasks;
    expect(task!.planned).toBeNull();
    const [turnedTask] = turnedTasks(assignment, bare.cuts, [{ cut: 0, setting: 0.4 }], () => false);
    expect(turnedTask!.planned).toEqual({
      name: task!.name,
      aim: 'through',
      strokes: null,
      program: null,
      power: { fraction: 0.4 },
      speedMmPerS: null,
      passes: null,
      focusMm: null,
      focusStepMm: 0,
      airBar: null,
    });
    expect(turnedTasks(assignment, bare.cuts, [], () => false)).toEqual(bare.tasks);
  });
});
