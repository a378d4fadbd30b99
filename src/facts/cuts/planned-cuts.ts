import type { Task } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import { farCorner } from '../match/on-bed.ts';
import { settingOf } from '../tasks/selecting.ts';
import type { TaskFact } from '../tasks/task-fact.ts';
import type { PassFact } from './cut-fact.ts';
import { stepsFocus } from './focus-step.ts';
import { type CutContext, type FoundCut, type PlaceOnBed, predicted } from './one-cut.ts';
import { type PlannedOutlines, planOutlines } from './planned-outlines.ts';
import { wattsAt } from './power.ts';

/** Below this share of the planned speed it counts as never reached: rounding. */
const REACHED = 0.999;

/** What a task plans of its settings. */
type Plan = Pick<Task, 'power' | 'speedMmPerS' | 'passes' | 'focusMm' | 'focusStepMm' | 'airBar'>;

/** Artwork without tasks asks for its outlines and says no more. */
const NOTHING_PLANNED: Plan = {
  power: null,
  speedMmPerS: null,
  passes: null,
  focusMm: null,
  focusStepMm: 0,
  airBar: null,
};

/** The cuts of artwork alone, or of tasks that the toolpath does not have: as planned in the sidecar. */
export function cutsOfPlan(context: CutContext, artwork: Artwork, tasks: readonly TaskFact[]): FoundCut[] {
  // Without a toolpath no task has strokes; with one, only tasks that were not found in it are predicted from the plan.
  return tasks.flatMap((task, taskIndex) => {
    const { aim, outlines, strokes } = task;
    if (strokes.length > 0 || aim === 'surface' || outlines.length === 0) return [];
    return [cutOf(context, artwork, task, taskIndex)];
  });
}

function cutOf(context: CutContext, artwork: Artwork, task: TaskFact, taskIndex: number): FoundCut {
  const { job, machine, onBed } = context;
  const planned = task.planned ?? NOTHING_PLANNED;
  const first = artwork.outlines[task.outlines[0]!]!;
  const location = { file: job.files.artwork ?? job.home.file, ...artwork.elements[first.element]!.place };
  const stated = task.planned && job.sidecar;
  const settingLocation = stated?.placeOf(['tasks', taskIndex, 'speed']) ?? location;
  const run = planOutlines(artwork, machine, planned, task.outlines);
  const at = onBed.shift && run.box ? farCorner(run.box, onBed.shift) : null;
  const passes = plannedPasses(context, planned, run, at);
  const { cut, short } = predicted(context, {
    task: task.name,
    aim: task.aim,
    taskIndex,
    lengthMm: run.lengthMm,
    passes,
    passCount: passes.length,
    location,
    settingLocation,
    strokes: task.outlines,
    slowestMmPerS: run.slowestMmPerS,
    at,
    cutTimeS: run.timeS,
    uneven: null,
    noRecipe: passes.length === 0 ? 'power or speed is not planned' : null,
    focusMoves: stepsFocus(machine),
  });
  const speed = planned.speedMmPerS;
  const never = speed !== null && run.peakMmPerS < speed * REACHED;
  return {
    cut,
    speed: {
      belowShare: never ? 1 : 0,
      reachedMmPerS: run.peakMmPerS,
      programmedMmPerS: speed ?? 0,
      location: settingLocation,
    },
    short,
  };
}

/** The passes of a task as planned; none where power or speed is not planned. */
function plannedPasses(context: CutContext, planned: Plan, run: PlannedOutlines, at: PlaceOnBed): PassFact[] {
  const { power, speedMmPerS } = planned;
  if (power === null || speedMmPerS === null) return [];
  const setting = settingOf(power, context.fullW);
  const powerW = Number((wattsAt(context.machine, setting, at)?.powerW ?? 0).toFixed(2));
  return Array.from({ length: planned.passes ?? 1 }, (_, i) => ({
    powerW,
    setting,
    speedMmPerS: Math.min(speedMmPerS, run.reachedMmPerS || speedMmPerS),
    programmedMmPerS: speedMmPerS,
    focusMm: (planned.focusMm ?? 0) + i * planned.focusStepMm,
    air: planned.airBar !== null && planned.airBar > 0,
    scaled: false,
  }));
}
