import type { Machine, Task } from '../../job/model.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { timePerMm } from '../../physics/march/passes.ts';
import type { Location } from '../../source/place.ts';
import type { Found } from '../../units/found.ts';
import { shareDone } from '../../units/work.ts';
import { farCorner } from '../match/on-bed.ts';
import { type Assignment, lineLocation } from '../tasks/tasks.ts';
import type { PassFact, SpeedFact } from './cut-fact.ts';
import { stepsFocus } from './focus-step.ts';
import { joinedByTask } from './joined-groups.ts';
import { type CutContext, type FoundCut, type PlaceOnBed, predicted } from './one-cut.ts';
import { groupByRecipe, type StretchList, stretchesOf } from './passes.ts';
import { wattsAt } from './power.ts';
import type { ProgrammedPass, RecipeGroup } from './recipe.ts';

/** A stroke is below its programmed speed when it reaches less than this share of it. */
const NEARLY_REACHED = 0.9;

/**
 * The cuts of a toolpath: stretches by task and recipe, found by geometry.
 * @param stretches of its strokes, where they are known already
 */
export function cutsOfToolpath(
  context: CutContext,
  toolpath: Toolpath,
  assignment: Assignment,
  stretches: StretchList = stretchesOf(toolpath.strokes, context.work.passes),
): Found<FoundCut> {
  const aimOf = (task: number) => assignment.tasks[task]!.aim;
  const groups = groupByRecipe(toolpath.strokes, stretches, assignment.ofStroke, aimOf);
  const zMoves = hasZ(toolpath);
  const most = mostPredicted(groups.items, context.work.predictedPasses);
  const tooMany =
    most < groups.items.length
      ? `so many lines are run along again at so many settings that ${shareDone(most / groups.items.length)} of the cuts were predicted, and the others of each task are listed as one`
      : null;
  const predictedOnes = groups.items.slice(0, most);
  const others = joinedByTask(groups.items.slice(most));
  const items = [
    ...predictedOnes.map((group) => cutOf(context, toolpath, assignment, group, { zMoves, noRecipe: null })),
    ...others.map((group) => cutOf(context, toolpath, assignment, group, { zMoves, noRecipe: tooMany })),
  ];
  const why = [groups.endedEarly, tooMany].filter((one) => one !== null);
  return { items, endedEarly: why.length > 0 ? why.join(', and ') : null };
}

/** Passes of a cut at so many more focus positions take as long again to predict: each looks at the slots that the others left. */
const FOCUSES_LIKE_A_PASS = 10;
/** What a prediction costs whatever its passes, in passes. */
const PASSES_LIKE_A_CUT = 3;

/** How many of the cuts are predicted, in order, before so many passes were; one at least. */
function mostPredicted(groups: readonly RecipeGroup[], mostPasses: number): number {
  let done = 0;
  for (const [i, { passes }] of groups.entries()) {
    const focuses = new Set(passes.map(({ zMm }) => zMm)).size;
    done += PASSES_LIKE_A_CUT + passes.length * (1 + (focuses - 1) / FOCUSES_LIKE_A_PASS);
    if (done > mostPasses) return Math.max(1, i);
  }
  return groups.length;
}

function cutOf(
  context: CutContext,
  toolpath: Toolpath,
  assignment: Assignment,
  group: RecipeGroup,
  { zMoves, noRecipe }: { zMoves: boolean; noRecipe: string | null },
): FoundCut {
  const file = context.job.files.toolpath ?? context.job.home.file;
  const lineOf = (stroke: number) => lineLocation(file, toolpath.strokes.line[stroke]!);
  const task = assignment.tasks[group.taskIndex]!;
  const at = context.onBed.shift ? farCorner(group.box, context.onBed.shift) : null;
  const passes = group.passes.map((pass, i) =>
    passFact(context, pass, at, focusOf(context, pass, task.planned, i, zMoves)),
  );
  const location = lineOf(group.strokes[0]!);
  const { uneven } = group;
  const { cut, short } = predicted(context, {
    task: task.name,
    aim: task.aim,
    taskIndex: group.taskIndex,
    lengthMm: group.lengthMm,
    passes,
    passCount: group.passCount,
    location,
    settingLocation: location,
    strokes: group.strokes,
    slowestMmPerS: Number.isFinite(group.slowestMmPerS) ? group.slowestMmPerS : 0,
    at,
    cutTimeS: group.lengthMm * timePerMm(passes),
    uneven: uneven && {
      fewest: uneven.fewest,
      most: uneven.most,
      shortMm: uneven.shortMm,
      location: lineOf(uneven.stroke),
    },
    noRecipe,
    focusMoves: zMoves && stepsFocus(context.machine),
  });
  return { cut, speed: speedFact(toolpath, group, location), short };
}

/** Where the waist lies in a pass: where the program moves Z it is taken at its word, else the plan says. */
function focusOf(
  { machine }: CutContext,
  pass: ProgrammedPass,
  planned: Task | null,
  index: number,
  zMoves: boolean,
): number {
  if (isWaist(machine) && zMoves) return pass.zMm;
  return (planned?.focusMm ?? 0) + (zMoves ? 0 : index * (planned?.focusStepMm ?? 0));
}

function passFact({ machine }: CutContext, pass: ProgrammedPass, at: PlaceOnBed, focusMm: number): PassFact {
  const watts = wattsAt(machine, pass.setting, at);
  const reached = Math.min(pass.programmedMmPerS, pass.reachedMmPerS || pass.programmedMmPerS);
  // Power that follows the speed falls where the programmed speed is never reached: the energy per mm stays.
  const follow = pass.scaled && pass.programmedMmPerS > 0 ? reached / pass.programmedMmPerS : 1;
  return {
    powerW: Number(((watts?.powerW ?? 0) * follow).toFixed(2)),
    setting: pass.setting,
    speedMmPerS: Number(reached.toFixed(2)),
    programmedMmPerS: pass.programmedMmPerS,
    focusMm: Number(focusMm.toFixed(2)),
    air: pass.air,
    scaled: pass.scaled,
  };
}

function speedFact({ strokes }: Toolpath, group: RecipeGroup, location: Location): SpeedFact {
  let totalMm = 0;
  let belowMm = 0;
  let reachedMmPerS = 0;
  let programmedMmPerS = 0;
  const { strokes: own } = group;
  // By number: an iterator would make an object for each of millions.
  for (let k = 0; k < own.length; k++) {
    const i = own[k]!;
    const reached = strokes.reachedMmPerS[i]!;
    const wanted = strokes.speedMmPerS[i]!;
    const dx = strokes.endX[i]! - strokes.startX[i]!;
    const dy = strokes.endY[i]! - strokes.startY[i]!;
    // A full circle ends where it starts; it counts as much as a millimetre.
    const weightMm = Math.sqrt(dx * dx + dy * dy) || 1;
    totalMm += weightMm;
    if (reached < wanted * NEARLY_REACHED) belowMm += weightMm;
    reachedMmPerS = Math.max(reachedMmPerS, reached);
    programmedMmPerS = Math.max(programmedMmPerS, wanted || 0);
  }
  return { belowShare: belowMm / totalMm, reachedMmPerS, programmedMmPerS, location };
}

/** Whether Z of the head says where the waist lies. */
function isWaist({ controller }: Machine): boolean {
  return controller.zZero === 'waist-on-face';
}

/** Whether the focus of a toolpath's cuts is where its program moves Z to, and not what the plan says. */
export function followsZ(machine: Machine, toolpath: Toolpath): boolean {
  return isWaist(machine) && hasZ(toolpath);
}

/** Does the program move the focus? Z that stays at 0 leaves the focus to what the sidecar plans. */
function hasZ({ strokes }: Toolpath): boolean {
  for (let i = 0; i < strokes.count; i++) if (strokes.startZ[i] !== 0 || strokes.endZ[i] !== 0) return true;
  return false;
}
