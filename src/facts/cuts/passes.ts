import { findOverlaps, type Stretch, type Stretches } from '../../geometry/overlap/overlap.ts';
import { MOST_LISTED } from '../../geometry/overlap/stretches.ts';
import type { Aim } from '../../job/model.ts';
import { STROKE_AIR, STROKE_SCALED, type Strokes } from '../../model/strokes.ts';
import type { Found } from '../../units/found.ts';
import { segmentsOfStrokes } from '../strokes/stroke-geometry.ts';
import { StrokeList } from '../strokes/stroke-list.ts';
import type { ProgrammedPass, RecipeGroup } from './recipe.ts';
import { unevenGroups } from './uneven.ts';

/** Two runs closer than this are runs along the same line, mm: below any kerf, above what splitting and arc-fitting move a line. */
const SAME_LINE_MM = 0.05;
/** Recipes kept apart in one task; beyond that settings are taken together in coarser steps, to the weak side. */
const MOST_RECIPES = 64;

/** So many groups are looked through before a key is made of a stretch: most programs have no more. */
const FIRST_GROUPS = 8;

/** Every place that strokes run along, with all that run along it. */
export type StretchList = Pick<Stretches, 'each' | 'endedEarly'>;

/** Finds by geometry which stretches are run again: forwards, backwards, split differently, arc or chords. `mostWork` bounds the search. */
export function stretchesOf(strokes: Strokes, mostWork = Infinity): Stretches {
  return findOverlaps(segmentsOfStrokes(strokes), { toleranceMm: SAME_LINE_MM, mostWork });
}

/**
 * Groups stretches by task and ordered passes. `aimOf` lets a stretch that several tasks share belong to the one that must part.
 */
export function groupByRecipe(
  strokes: Strokes,
  stretches: StretchList,
  taskOfStroke: Int32Array,
  aimOf: (taskIndex: number) => Aim,
): Found<RecipeGroup> {
  const taskOf = (stretch: Stretch) => taskOfStretch(stretch, taskOfStroke, aimOf);
  const collected =
    collect({ strokes, stretches, taskOf, step: exact, most: MOST_RECIPES }) ??
    collect({ strokes, stretches, taskOf, step: coarse, most: Infinity })!;
  const uneven = unevenGroups(collected, stretches, taskOf, aimOf);
  const groups = collected.map((group): RecipeGroup => ({ ...group, uneven: uneven.get(group) ?? null }));
  groups.sort((a, b) => a.strokes[0]! - b.strokes[0]!);
  return { items: groups, endedEarly: whyNotFollowed(stretches, groups) };
}

function whyNotFollowed(stretches: StretchList, groups: readonly RecipeGroup[]): string | null {
  if (stretches.endedEarly !== null) {
    return 'so many strokes lie on each other that their passes could not all be followed';
  }
  const most = groups.reduce((count, group) => Math.max(count, group.passCount), 0);
  return most > MOST_LISTED ? `one line is run along ${most} times, and only ${MOST_LISTED} passes are followed` : null;
}

interface Step {
  setting: number;
  speed: number;
}

const exact = (setting: number, speed: number): Step => ({ setting: round(setting, 1e-3), speed: round(speed, 1e-3) });

/** Steps of 5 % in setting (down) and 10 % in speed (up): the weak side of what was programmed. */
const coarse = (setting: number, speed: number): Step => ({
  setting: Math.floor(setting / 0.05) * 0.05,
  speed: speed > 0 ? 1.1 ** Math.ceil(Math.log(speed) / Math.log(1.1) - 1e-9) : speed,
});

function round(value: number, step: number): number {
  return Math.round(value / step) * step;
}

interface Open {
  taskIndex: number;
  /** The distinct programmed passes, in order. */
  ids: Uint32Array;
  passCount: number;
  lengthMm: number;
  strokes: StrokeList;
  box: { minX: number; minY: number; maxX: number; maxY: number };
  slowestMmPerS: number;
}

/** Each distinct pass that strokes ask for, once, and which one each stroke asks for. */
function programmedPasses(
  strokes: Strokes,
  step: (setting: number, speed: number) => Step,
): { passOf: ProgrammedPass[]; idOfStroke: Uint32Array } {
  const ids = new Map<string, number>();
  const idOfStroke = new Uint32Array(strokes.count);
  const asked: Omit<ProgrammedPass, 'reachedMmPerS'>[] = [];
  const reachedMmPerS: number[] = [];
  for (let i = 0; i < strokes.count; i++) {
    const id = i > 0 && asksTheSame(strokes, i, i - 1) ? idOfStroke[i - 1]! : idOf(i);
    idOfStroke[i] = id;
    reachedMmPerS[id] = Math.max(reachedMmPerS[id] ?? 0, strokes.reachedMmPerS[i]!);
  }
  return { passOf: asked.map((pass, id) => ({ ...pass, reachedMmPerS: reachedMmPerS[id]! })), idOfStroke };

  function idOf(i: number): number {
    const { setting, speed } = step(strokes.setting[i]!, strokes.speedMmPerS[i]!);
    const z = round(strokes.startZ[i]!, 0.01);
    const flags = strokes.flags[i]! & (STROKE_AIR | STROKE_SCALED);
    const key = `${setting.toFixed(4)}|${speed.toFixed(4)}|${z.toFixed(2)}|${flags}`;
    const known = ids.get(key);
    if (known !== undefined) return known;
    ids.set(key, asked.length);
    return (
      asked.push({
        setting,
        programmedMmPerS: speed,
        zMm: z,
        air: (flags & STROKE_AIR) !== 0,
        scaled: (flags & STROKE_SCALED) !== 0,
      }) - 1
    );
  }
}

function asksTheSame({ setting, speedMmPerS, startZ, flags }: Strokes, a: number, b: number): boolean {
  return (
    setting[a] === setting[b] &&
    speedMmPerS[a] === speedMmPerS[b] &&
    startZ[a] === startZ[b] &&
    ((flags[a]! ^ flags[b]!) & (STROKE_AIR | STROKE_SCALED)) === 0
  );
}

/** Groups stretches; null where a task has more than `most` groups of any length. */
function collect({
  strokes,
  stretches,
  taskOf,
  step,
  most,
}: {
  strokes: Strokes;
  stretches: StretchList;
  taskOf: (stretch: Stretch) => number;
  step: (setting: number, speed: number) => Step;
  most: number;
}): Omit<RecipeGroup, 'uneven'>[] | null {
  const { passOf, idOfStroke } = programmedPasses(strokes, step);
  const open = new Map<string, Open>();
  const firstGroups: Open[] = [];
  const isOf = ({ ids, taskIndex }: Open, task: number, { owners, listed }: Stretch): boolean => {
    if (taskIndex !== task || ids.length !== listed) return false;
    for (let k = 0; k < ids.length; k++) if (ids[k] !== idOfStroke[owners[k]!]) return false;
    return true;
  };
  const groupOf = (task: number, stretch: Stretch): Open => {
    const { owners, listed } = stretch;
    const first = firstGroups.find((one) => isOf(one, task, stretch));
    if (first) return first;
    const ids = owners.slice(0, listed).map((stroke) => idOfStroke[stroke]!);
    const key = `${task},${ids.join()}`;
    const known = open.get(key);
    if (known) return known;
    const group: Open = {
      taskIndex: task,
      ids,
      passCount: 0,
      lengthMm: 0,
      strokes: new StrokeList(),
      box: { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity },
      slowestMmPerS: Infinity,
    };
    open.set(key, group);
    if (firstGroups.length < FIRST_GROUPS) firstGroups.push(group);
    return group;
  };
  // The group of the stretch before is tried first: most stretches go on with it.
  let group: Open | undefined;
  const groupsOfTask = new Map<number, number>();
  let tooMany = false;
  stretches.each((stretch) => {
    if (tooMany) return;
    const task = taskOf(stretch);
    if (!group || !isOf(group, task, stretch)) group = groupOf(task, stretch);
    if (group.lengthMm === 0 && stretch.lengthMm > 0) {
      const count = (groupsOfTask.get(task) ?? 0) + 1;
      groupsOfTask.set(task, count);
      tooMany = count > most;
    }
    group.lengthMm += stretch.lengthMm;
    group.passCount = Math.max(group.passCount, stretch.passes);
    for (let k = 0; k < stretch.listed; k++) {
      const stroke = stretch.owners[k]!;
      group.strokes.add(stroke);
      group.slowestMmPerS = Math.min(group.slowestMmPerS, strokes.slowestMmPerS[stroke]!);
    }
    widen(group.box, stretch);
  });
  if (tooMany) return null;
  return [...open.values()]
    .filter((group) => group.lengthMm > 0)
    .map((group) => ({
      taskIndex: group.taskIndex,
      passes: Array.from(group.ids, (id) => passOf[id]!),
      passCount: group.passCount,
      lengthMm: group.lengthMm,
      strokes: group.strokes.ascending(),
      box: group.box,
      slowestMmPerS: group.slowestMmPerS,
    }));
}

/** The task that a stretch belongs to: of several, the first that must part. */
function taskOfStretch(
  { owners, listed }: Stretch,
  taskOfStroke: Int32Array,
  aimOf: (taskIndex: number) => Aim,
): number {
  for (let k = 0; k < listed; k++) {
    const task = taskOfStroke[owners[k]!]!;
    if (aimOf(task) === 'through') return task;
  }
  return taskOfStroke[owners[0]!]!;
}

/** Takes the stretch and not its numbers, which a call would make objects of: it is called for each of millions. */
function widen(box: Open['box'], { x0, y0, x1, y1 }: Stretch): void {
  const minX = Math.min(x0, x1);
  const minY = Math.min(y0, y1);
  const maxX = Math.max(x0, x1);
  const maxY = Math.max(y0, y1);
  if (minX < box.minX) box.minX = minX;
  if (minY < box.minY) box.minY = minY;
  if (maxX > box.maxX) box.maxX = maxX;
  if (maxY > box.maxY) box.maxY = maxY;
}
