import type { CutContext } from '../../../src/facts/cuts/one-cut.ts';
import { cutsOfToolpath } from '../../../src/facts/cuts/toolpath-cuts.ts';
import type { Assignment } from '../../../src/facts/tasks/tasks.ts';
import type { Task } from '../../../src/job/model.ts';
import type { Strokes } from '../../../src/model/strokes.ts';
import { at, plannedTask, strokesThrough, toolpath } from '../../rules/build-facts.ts';
import { context } from './set-up.ts';
import { type Stated, stretchList } from './stretch-list.ts';

export type Place = readonly [number, number];

export interface Case {
  context?: Partial<CutContext>;
  planned?: Task | null;
  tasks?: readonly number[];
  /** The stretches of its strokes, and why their search ended; found where left out. */
  stretches?: readonly Stated[];
  stretchesEndedEarly?: string;
}

/** The cuts along a way; `change` puts other numbers into its strokes. */
export function cutsAlong(points: readonly Place[], change: (strokes: Strokes) => void = () => {}, more: Case = {}) {
  const strokes = strokesThrough(points);
  change(strokes);
  const tasks = [0, 1].map((task) => ({
    name: `task ${task}`,
    aim: 'through' as const,
    planned: more.planned === undefined ? plannedTask() : more.planned,
    location: at('part.job.yaml', 9),
  }));
  const assignment: Assignment = {
    tasks,
    ofStroke: Int32Array.from({ length: strokes.count }, (_, i) => more.tasks?.[i] ?? 0),
    ofArea: new Int32Array(0),
    ofOutline: new Int32Array(0),
    orphans: -1,
    endedEarly: null,
  };
  const stretches = more.stretches && stretchList(more.stretches, more.stretchesEndedEarly);
  return cutsOfToolpath(context(more.context), toolpath({ strokes }), assignment, stretches);
}
