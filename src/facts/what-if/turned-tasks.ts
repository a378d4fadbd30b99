import type { Task } from '../../job/model.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import type { Assignment } from '../tasks/tasks.ts';
import type { CutChange } from './change.ts';

/** What a task plans of which nothing is stated. */
const NOTHING_PLANNED: Omit<Task, 'name' | 'aim'> = {
  strokes: null,
  program: null,
  power: null,
  speedMmPerS: null,
  passes: null,
  focusMm: null,
  focusStepMm: 0,
  airBar: null,
};

/**
 * The tasks with their plans turned along with their cuts. A plan that a toolpath is only held against states no more than it did: but for
 * the focus, which such a program leaves to the plan.
 * @param planned the cuts before anything was turned
 */
export function turnedTasks(
  { tasks }: Assignment,
  planned: readonly CutFact[],
  changes: readonly CutChange[],
  fromToolpath: (cut: CutFact) => boolean,
): Assignment['tasks'] {
  const turned = [...tasks];
  for (const change of changes) {
    const cut = planned[change.cut];
    const task = cut && turned[cut.taskIndex];
    if (!cut || !task) continue;
    const plan = task.planned ?? { ...NOTHING_PLANNED, name: task.name, aim: task.aim };
    turned[cut.taskIndex] = { ...task, planned: turnedPlan(plan, change, !fromToolpath(cut)) };
  }
  return turned;
}

function turnedPlan(plan: Task, change: CutChange, rulesAlone: boolean): Task {
  const { setting, speedMmPerS, passes, focusMm, focusStepMm } = change;
  const states = (stated: unknown) => rulesAlone || stated !== null;
  return {
    ...plan,
    ...(setting !== undefined && states(plan.power) ? { power: { fraction: setting } } : {}),
    ...(speedMmPerS !== undefined && states(plan.speedMmPerS) ? { speedMmPerS } : {}),
    ...(passes !== undefined && states(plan.passes) ? { passes } : {}),
    ...(focusMm !== undefined ? { focusMm } : {}),
    ...(focusStepMm !== undefined ? { focusStepMm } : {}),
  };
}
