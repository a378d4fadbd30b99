import type { Toolpath } from '../../gcode/toolpath.ts';
import { meanSpeedAcrossMmPerS } from '../../geometry/motion/motion.ts';
import type { Machine, Task } from '../../job/model.ts';
import type { Location } from '../../source/place.ts';
import type { Artwork } from '../../svg/artwork.ts';
import type { CutFact, JobOrigin, PassFact } from '../facts.ts';
import type { SpeedFact } from '../geometry-facts.ts';
import { farCorner, type OnBed } from '../match/on-bed.ts';
import { settingOf } from '../tasks/selecting.ts';
import { type Assignment, lineLocation } from '../tasks/tasks.ts';
import { groupByRecipe, type ProgrammedPass, type RecipeGroup } from './passes.ts';
import type { PlannedOutline } from './planned-time.ts';
import { type CutPredictor, wattsAt } from './prediction.ts';

/** What cuts are predicted from. */
export interface CutContext {
  job: JobOrigin;
  machine: Machine;
  /** Null when lens, material or thickness is unknown: then `notPredicted` says why. */
  predictor: CutPredictor | null;
  notPredicted: string | null;
  onBed: OnBed;
  fullW: number;
  /** Through cuts that do not reach their limit, as they are found: `seekRemedies` looks for a way out for the worst of them. */
  short: ShortCut[];
}

/** A cut that falls short, with what a remedy rests on. */
export interface ShortCut {
  cut: CutFact;
  spread: number;
  at: { xMm: number; yMm: number } | null;
  cutTimeS: number;
}

/** Remedies are sought for so many cuts of each task, the least sure ones. */
const SHORT_PER_TASK = 2;

/** Finds the remedies of each task's worst cuts. */
export function seekRemedies({ short, predictor }: CutContext): void {
  if (!predictor) return;
  const found = new Map<number, number>();
  const byChance = [...short].sort(
    (a, b) => a.cut.prediction!.throughProbability - b.cut.prediction!.throughProbability,
  );
  for (const { cut, spread, at, cutTimeS } of byChance) {
    const count = found.get(cut.taskIndex) ?? 0;
    if (count >= SHORT_PER_TASK) continue;
    found.set(cut.taskIndex, count + 1);
    cut.remedies = predictor.remedies(cut.passes, spread, at, cutTimeS);
  }
}

/** A cut with what the speed rules need, kept side by side. */
export interface Cuts {
  cuts: CutFact[];
  speeds: SpeedFact[];
  /** What kept the cuts from being found whole, in words; null when nothing did. */
  incomplete: string | null;
}

/** The cuts of a toolpath: stretches by task and recipe, found by geometry. */
export function cutsOfToolpath(context: CutContext, toolpath: Toolpath, assignment: Assignment): Cuts {
  const aimOf = (task: number) => assignment.tasks[task]!.aim;
  const { groups, complete } = groupByRecipe(toolpath.strokes, assignment.ofStroke, aimOf);
  const file = context.job.files.toolpath ?? context.job.home.file;
  const zMoves = hasZ(toolpath);
  const incomplete = complete ? null : 'so many strokes lie on each other that their passes could not all be followed';
  const result: Cuts = { cuts: [], speeds: [], incomplete };
  for (const group of groups) {
    const task = assignment.tasks[group.taskIndex]!;
    const at = context.onBed.shift ? farCorner(group.box, context.onBed.shift) : null;
    const passes = group.passes.map((pass, i) => passFact(context, pass, task.planned, i, zMoves, at));
    const location = lineLocation(file, toolpath.strokes.line[group.strokes[0]!]!);
    const cutTimeS = group.lengthMm * passes.reduce((sum, pass) => sum + 1 / Math.max(pass.speedMmPerS, 0.01), 0);
    const cut = predicted(context, {
      task: task.name,
      aim: task.aim,
      taskIndex: group.taskIndex,
      lengthMm: group.lengthMm,
      passes,
      location,
      settingLocation: location,
      strokes: group.strokes,
      slowestMmPerS: Number.isFinite(group.slowestMmPerS) ? group.slowestMmPerS : 0,
      at,
      cutTimeS,
    });
    if (group.uneven) {
      const { fewest, most, shortMm, stroke } = group.uneven;
      cut.uneven = { fewest, most, shortMm, location: lineLocation(file, toolpath.strokes.line[stroke]!) };
    }
    result.cuts.push(cut);
    result.speeds.push(speedFact(toolpath, group, location));
  }
  return result;
}

/** The cuts of artwork alone, or of a task that the toolpath does not have: as planned in the sidecar. */
export function cutsOfPlan(
  context: CutContext,
  artwork: Artwork,
  assignment: Assignment,
  taskIndices: readonly number[],
  outlinesOf: (taskIndex: number) => Uint32Array,
  timing: (task: Task, outlines: Uint32Array) => PlannedOutline,
): Cuts {
  const result: Cuts = { cuts: [], speeds: [], incomplete: null };
  for (const taskIndex of taskIndices) {
    const { planned, name, aim } = assignment.tasks[taskIndex]!;
    const outlines = outlinesOf(taskIndex);
    if (!planned || planned.aim === 'surface' || outlines.length === 0) continue;
    const file = context.job.files.artwork ?? context.job.home.file;
    const first = artwork.outlines[outlines[0]!]!;
    const location: Location = { file, ...artwork.elements[first.element]!.place };
    const time = timing(planned, outlines);
    const at = context.onBed.shift && time.box ? farCorner(time.box, context.onBed.shift) : null;
    const speed = planned.speedMmPerS;
    const passes =
      planned.power === null || speed === null
        ? []
        : Array.from({ length: planned.passes }, (_, i): PassFact => {
            const setting = settingOf(planned.power!, context.fullW);
            return {
              powerW: roundW(wattsAt(context.machine, setting, at)?.powerW ?? 0),
              setting,
              speedMmPerS: Math.min(speed, time.reachedMmPerS || speed),
              programmedMmPerS: speed,
              focusMm: (planned.focusMm ?? 0) + i * planned.focusStepMm,
              air: planned.airBar !== null && planned.airBar > 0,
              scaled: false,
            };
          });
    const sidecarTask = context.job.sidecar?.placeOf(['tasks', taskIndex, 'speed']) ?? location;
    const cut = predicted(context, {
      task: name,
      aim,
      taskIndex,
      lengthMm: time.lengthMm,
      passes,
      location,
      settingLocation: sidecarTask,
      strokes: outlines,
      slowestMmPerS: time.slowestMmPerS,
      at,
      cutTimeS: time.timeS,
    });
    if (passes.length === 0) cut.notPredicted = 'power or speed is not planned';
    result.cuts.push(cut);
    result.speeds.push({
      belowShare: speed !== null && time.reachedMmPerS < speed * 0.999 && time.peakMmPerS < speed * 0.999 ? 1 : 0,
      reachedMmPerS: time.peakMmPerS,
      programmedMmPerS: speed ?? 0,
      location: sidecarTask,
    });
  }
  return result;
}

interface CutParts {
  task: string;
  aim: Task['aim'];
  taskIndex: number;
  lengthMm: number;
  passes: PassFact[];
  location: Location;
  settingLocation: Location;
  strokes: Uint32Array;
  slowestMmPerS: number;
  at: { xMm: number; yMm: number } | null;
  cutTimeS: number;
}

function predicted(context: CutContext, parts: CutParts): CutFact {
  const { at, cutTimeS, ...rest } = parts;
  const fastest = Math.max(0, ...parts.passes.map((pass) => pass.programmedMmPerS));
  const scaled = parts.passes.every((pass) => pass.scaled);
  // Energy is felt over the width of the beam: a head that stands still for an instant does not burn without end.
  const { accelerationMmPerS2 } = context.machine.motion;
  const slowest = meanSpeedAcrossMmPerS(parts.slowestMmPerS, context.predictor?.spotMm ?? 0, accelerationMmPerS2);
  const cut: CutFact = {
    ...rest,
    slowestMmPerS: slowest,
    prediction: null,
    notPredicted: null,
    remedies: [],
    cornerOverburn: scaled || slowest <= 0 ? 1 : Math.max(1, fastest / slowest),
    uneven: null,
    throughWithFocusStep: null,
  };
  if (parts.aim === 'surface') cut.notPredicted = 'a surface is marked, not cut';
  else if (!context.predictor) cut.notPredicted = context.notPredicted;
  else if (parts.passes.some((pass) => !(pass.speedMmPerS > 0))) cut.notPredicted = 'a pass has no speed';
  else {
    const spread = Math.max(0, ...parts.passes.map((pass) => wattsAt(context.machine, pass.setting, at)?.spread ?? 0));
    const wanted = parts.aim === 'through' ? 'through' : 'depth';
    const answer = context.predictor.predict(parts.passes, spread, wanted);
    if ('problem' in answer) cut.notPredicted = answer.problem;
    else {
      cut.prediction = answer.prediction;
      cut.throughWithFocusStep = answer.throughWithFocusStep;
      if (wanted === 'through' && answer.prediction.throughProbability < answer.prediction.limit) {
        context.short.push({ cut, spread, at, cutTimeS });
      }
    }
  }
  return cut;
}

function passFact(
  context: CutContext,
  pass: ProgrammedPass,
  planned: Task | null,
  index: number,
  zMoves: boolean,
  at: { xMm: number; yMm: number } | null,
): PassFact {
  const watts = wattsAt(context.machine, pass.setting, at);
  const reached = Math.min(pass.programmedMmPerS, pass.reachedMmPerS || pass.programmedMmPerS);
  // Power that follows the speed falls where the programmed speed is never reached: the energy per mm stays.
  const follow = pass.scaled && pass.programmedMmPerS > 0 ? reached / pass.programmedMmPerS : 1;
  const focus =
    context.machine.controller.zZero === 'waist-on-face' && zMoves
      ? pass.zMm
      : (planned?.focusMm ?? 0) + (zMoves ? 0 : index * (planned?.focusStepMm ?? 0));
  return {
    powerW: roundW((watts?.powerW ?? 0) * follow),
    setting: pass.setting,
    speedMmPerS: Number(reached.toFixed(2)),
    programmedMmPerS: pass.programmedMmPerS,
    focusMm: Number(focus.toFixed(2)),
    air: pass.air,
    scaled: pass.scaled,
  };
}

function speedFact(toolpath: Toolpath, group: RecipeGroup, location: Location): SpeedFact {
  const { strokes } = toolpath;
  let total = 0;
  let below = 0;
  let reached = 0;
  let programmed = 0;
  for (const i of group.strokes) {
    const length = strokes.reachedMmPerS[i]!;
    const wanted = strokes.speedMmPerS[i]!;
    const [dx, dy] = [strokes.endX[i]! - strokes.startX[i]!, strokes.endY[i]! - strokes.startY[i]!];
    const weight = Math.sqrt(dx * dx + dy * dy) || 1;
    total += weight;
    if (length < wanted * 0.9) below += weight;
    reached = Math.max(reached, length);
    programmed = Math.max(programmed, wanted || 0);
  }
  return { belowShare: total > 0 ? below / total : 0, reachedMmPerS: reached, programmedMmPerS: programmed, location };
}

/** Does the program move the focus? Z that stays at 0 leaves the focus to what the sidecar plans. */
function hasZ(toolpath: Toolpath): boolean {
  const { strokes } = toolpath;
  for (let i = 0; i < strokes.count; i++) if (strokes.startZ[i] !== 0 || strokes.endZ[i] !== 0) return true;
  return false;
}

function roundW(watts: number): number {
  return Number(watts.toFixed(2));
}
