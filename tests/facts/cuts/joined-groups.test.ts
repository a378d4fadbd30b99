import { describe, expect, it } from 'vitest';
import { joinedByTask } from '../../../src/facts/cuts/joined-groups.ts';
import type { ProgrammedPass, RecipeGroup } from '../../../src/facts/cuts/recipe.ts';

const pass = (setting: number): ProgrammedPass => ({
  setting,
  programmedMmPerS: 10,
  reachedMmPerS: 10,
  zMm: 0,
  air: true,
  scaled: false,
});
const [weak, strong] = [pass(0.2), pass(0.8)];
const group = (change: Partial<RecipeGroup>): RecipeGroup => ({
  taskIndex: 0,
  passes: [weak],
  passCount: 1,
  lengthMm: 10,
  strokes: Uint32Array.of(3, 4),
  box: { minX: 0, minY: 0, maxX: 5, maxY: 5 },
  slowestMmPerS: 8,
  uneven: null,
  ...change,
});

describe('groups that are not predicted', () => {
  it('are one for each task, which leaves nothing out that a program asks for', () => {
    const uneven = { fewest: 1, most: 2, shortMm: 3, stroke: 4 };
    const other = group({ taskIndex: 1 });
    const [joined, alone] = joinedByTask([
      group({}),
      other,
      group({ passes: [strong, weak, strong], passCount: 300, lengthMm: 7, strokes: Uint32Array.of(1, 4, 9), uneven }),
      group({ box: { minX: -2, minY: 1, maxX: 3, maxY: 40 }, slowestMmPerS: 2 }),
    ]);
    expect(joined).toEqual({
      taskIndex: 0,
      passes: [weak, strong],
      passCount: 300,
      lengthMm: 27,
      strokes: Uint32Array.of(1, 3, 4, 9),
      box: { minX: -2, minY: 0, maxX: 5, maxY: 40 },
      slowestMmPerS: 2,
      uneven,
    });
    expect(alone).toBe(other);
  });

  it('are cut evenly where each of them is, and have no strokes where none has', () => {
    const none = group({ strokes: new Uint32Array(0) });
    const [joined, ...others] = joinedByTask([none, none]);
    expect(others).toEqual([]);
    expect(joined).toMatchObject({ uneven: null, lengthMm: 20 });
    expect(joinedByTask([group({}), none])[0]!.strokes).toEqual(Uint32Array.of(3, 4));
  });

  it('reach as far as the farthest of them in every direction', () => {
    const boxes = [
      { minX: 3, minY: -4, maxX: 9, maxY: 5 },
      { minX: 1, minY: 2, maxX: 4, maxY: 8 },
    ];
    const [joined] = joinedByTask(boxes.map((box, i) => group({ box, slowestMmPerS: 3 + i, passCount: 4 - i })));
    expect(joined).toMatchObject({
      box: { minX: 1, minY: -4, maxX: 9, maxY: 8 },
      slowestMmPerS: 3,
      passCount: 4,
    });
  });

  it('are none where all are predicted', () => {
    expect(joinedByTask([])).toEqual([]);
  });
});
