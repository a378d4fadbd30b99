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
  const passes = new Set<ProgrammedPass>();
  for (const group of groups) for (const pass of group.passes) passes.add(pass);
  return {
    taskIndex: first!.taskIndex,
    passes: [...passes],
    passCount: most(({ passCount }) => passCount),
    lengthMm: sum(({ lengthMm }) => lengthMm),
    strokes: inAny(groups.map(({ strokes }) => strokes)),
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

/** The numbers that are in any of the lists, ascending; each list ascends. Thousands of lists may have the same numbers. */
function inAny(lists: readonly Uint32Array[]): Uint32Array {
  const last = lists.reduce((highest, list) => Math.max(highest, list[list.length - 1] ?? 0), 0);
  const is = new Uint8Array(last + 1);
  for (const list of lists) for (let k = 0; k < list.length; k++) is[list[k]!] = 1;
  const numbers = new Uint32Array(is.reduce((count, one) => count + one, 0));
  for (let number = 0, at = 0; number <= last; number++) if (is[number] === 1) numbers[at++] = number;
  return numbers;
}
