import type { ProgrammedPass, RecipeGroup } from './recipe.ts';

/**
 * Groups of stretches that are not predicted, all those of a task as one: a few kilobytes of program can have tens of thousands, each with
 * hundreds of passes. Of its passes each kind is listed once, so that whatever a program asks of the machine is still looked at.
 */
export function joinedByTask(groups: readonly RecipeGroup[]): RecipeGroup[] {
  const byTask = new Map<number, RecipeGroup[]>();
  for (const group of groups) {
    const known = byTask.get(group.taskIndex);
    if (known) known.push(group);
    else byTask.set(group.taskIndex, [group]);
  }
  return [...byTask.values()].map((of) => (of.length === 1 ? of[0]! : joined(of)));
}

function joined(groups: readonly RecipeGroup[]): RecipeGroup {
  const [first] = groups;
  const sum = (quantity: (group: RecipeGroup) => number) => groups.reduce((all, group) => all + quantity(group), 0);
  const most = (quantity: (group: RecipeGroup) => number) =>
    groups.reduce((highest, group) => Math.max(highest, quantity(group)), -Infinity);
  const strokes = new Uint32Array(sum(({ strokes: { length } }) => length));
  const passes = new Set<ProgrammedPass>();
  let at = 0;
  for (const group of groups) {
    strokes.set(group.strokes, at);
    at += group.strokes.length;
    for (const pass of group.passes) passes.add(pass);
  }
  return {
    taskIndex: first!.taskIndex,
    passes: [...passes],
    passCount: most(({ passCount }) => passCount),
    lengthMm: sum(({ lengthMm }) => lengthMm),
    strokes: strokes.sort().filter((stroke, k) => k === 0 || stroke !== strokes[k - 1]),
    box: {
      minX: -most(({ box }) => -box.minX),
      minY: -most(({ box }) => -box.minY),
      maxX: most(({ box }) => box.maxX),
      maxY: most(({ box }) => box.maxY),
    },
    slowestMmPerS: -most(({ slowestMmPerS }) => -slowestMmPerS),
    uneven: groups.find(({ uneven }) => uneven !== null)?.uneven ?? null,
  };
}
