import type { JobFacts } from '../facts/facts.ts';
import type { TaskFact } from '../facts/tasks/task-fact.ts';
import type { Location } from '../facts/types.ts';

/** Tasks of one aim, for findings that concern all of them at once. */
export interface TasksOfAim {
  aim: 'through' | 'groove';
  tasks: string[];
  /** The first task's place. */
  location: Location;
}

/** The tasks that go into depth, through cuts first; aims without a task are left out. */
export function tasksThatCut(facts: JobFacts): TasksOfAim[] {
  return (['through', 'groove'] as const).flatMap((aim) => {
    const tasks = facts.tasks.filter((task) => task.aim === aim);
    const first = tasks[0];
    return first === undefined ? [] : [{ aim, tasks: tasks.map((task) => task.name), location: first.location }];
  });
}

/** Where a task plans a key: the sidecar's line, or the task's own place when it is implied. */
export function planPlace(facts: JobFacts, task: TaskFact, key: string): Location {
  const sidecar = facts.input.sidecar;
  const index = task.planned === null || sidecar === null ? -1 : sidecar.tasks.indexOf(task.planned);
  return index < 0 || sidecar === null ? task.location : sidecar.placeOf(['tasks', index, key], 'value');
}
