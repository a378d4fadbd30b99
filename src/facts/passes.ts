import { STROKE_AIR, STROKE_SCALED, type Strokes } from '../gcode/toolpath.ts';
import { findOverlaps, type Stretches } from '../geometry/overlap.ts';
import { flattenArc, SegmentBuilder } from '../geometry/segments.ts';
import { type Ends, locate } from '../geometry/stretches.ts';
import type { Aim } from '../job/model.ts';
import { StrokeList } from './stroke-list.ts';

/** One pass as programmed: what one stroke asks of the machine. */
export interface ProgrammedPass {
  setting: number;
  programmedMmPerS: number;
  /** Fastest mean speed that strokes of this pass reach, mm/s. */
  reachedMmPerS: number;
  /** Z of the head, mm. */
  zMm: number;
  air: boolean;
  scaled: boolean;
}

/** All stretches of one task that receive the same ordered passes. */
export interface RecipeGroup {
  taskIndex: number;
  passes: ProgrammedPass[];
  lengthMm: number;
  /** Strokes that run here, ascending. */
  strokes: Uint32Array;
  /** Middle of the box around the group's stretches, and the box, mm. */
  box: { minX: number; minY: number; maxX: number; maxY: number };
  slowestMmPerS: number;
  /** Stretches that get fewer passes than the rest of the outline they belong to. */
  uneven: { fewest: number; most: number; shortMm: number; stroke: number } | null;
}

/** Two runs closer than this are runs along the same line, mm: below any kerf, above what splitting and arc-fitting move a line. */
const SAME_LINE_MM = 0.05;
/** Arcs are compared as chords this close to them, mm. */
const CHORD_MM = 0.01;
/** Recipes kept apart in one task; beyond that settings are taken together in coarser steps, to the weak side. */
const MOST_RECIPES = 64;
/** Overlaps shorter than this are how outlines begin and end, not passes, mm. */
const SHORT_MM = 1;

/** Strokes as segments; the owner of a segment is its stroke. */
export function segmentsOfStrokes(strokes: Strokes) {
  const builder = new SegmentBuilder();
  for (let i = 0; i < strokes.count; i++) addStroke(builder, strokes, i);
  return builder.finish();
}

function addStroke(builder: SegmentBuilder, strokes: Strokes, i: number): void {
  const x0 = strokes.startX[i]!;
  const y0 = strokes.startY[i]!;
  const x1 = strokes.endX[i]!;
  const y1 = strokes.endY[i]!;
  const sweep = strokes.sweepRad[i]!;
  if (sweep === 0) {
    builder.addLine(x0, y0, x1, y1, i);
    return;
  }
  flattenArc(strokes.centreX[i]!, strokes.centreY[i]!, x0, y0, x1, y1, sweep, CHORD_MM, (ax, ay, bx, by) =>
    builder.addLine(ax, ay, bx, by, i),
  );
}

/**
 * Finds by geometry which stretches are run again (forwards, backwards, split differently, arc or chords) and groups
 * them by task and ordered passes. `aimOf` lets a stretch that several tasks share belong to the one that must part.
 */
export function groupByRecipe(
  strokes: Strokes,
  taskOfStroke: Int32Array,
  aimOf: (taskIndex: number) => Aim,
): { groups: RecipeGroup[]; complete: boolean } {
  const stretches = findOverlaps(segmentsOfStrokes(strokes), { toleranceMm: SAME_LINE_MM });
  const fine = collect(strokes, stretches, taskOfStroke, aimOf, exact);
  const perTask = new Map<number, number>();
  for (const group of fine) perTask.set(group.taskIndex, (perTask.get(group.taskIndex) ?? 0) + 1);
  const crowded = [...perTask.values()].some((n) => n > MOST_RECIPES);
  const groups = crowded ? collect(strokes, stretches, taskOfStroke, aimOf, coarse) : fine;
  markUneven(groups, strokes, stretches, taskOfStroke, aimOf);
  groups.sort((a, b) => a.strokes[0]! - b.strokes[0]!);
  return { groups, complete: stretches.complete };
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
  const passOf: ProgrammedPass[] = [];
  for (let i = 0; i < strokes.count; i++) {
    const id = i > 0 && asksTheSame(strokes, i, i - 1) ? idOfStroke[i - 1]! : idOf(i);
    idOfStroke[i] = id;
    const pass = passOf[id]!;
    pass.reachedMmPerS = Math.max(pass.reachedMmPerS, strokes.reachedMmPerS[i]!);
  }
  return { passOf, idOfStroke };

  function idOf(i: number): number {
    const { setting, speed } = step(strokes.setting[i]!, strokes.speedMmPerS[i]!);
    const z = round(strokes.startZ[i]!, 0.01);
    const flags = strokes.flags[i]! & (STROKE_AIR | STROKE_SCALED);
    const key = `${setting.toFixed(4)}|${speed.toFixed(4)}|${z.toFixed(2)}|${flags}`;
    const known = ids.get(key);
    if (known !== undefined) return known;
    ids.set(key, passOf.length);
    return (
      passOf.push({
        setting,
        programmedMmPerS: speed,
        reachedMmPerS: 0,
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

function collect(
  strokes: Strokes,
  stretches: Stretches,
  taskOfStroke: Int32Array,
  aimOf: (taskIndex: number) => Aim,
  step: (setting: number, speed: number) => Step,
): RecipeGroup[] {
  const { passOf, idOfStroke } = programmedPasses(strokes, step);
  const open = new Map<string, Open>();
  const sameRecipe = ({ ids, taskIndex }: Open, task: number, s: number): boolean => {
    const from = stretches.coverStart[s]!;
    if (taskIndex !== task || ids.length !== stretches.coverStart[s + 1]! - from) return false;
    for (let k = 0; k < ids.length; k++) if (ids[k] !== idOfStroke[stretches.coverOwner[from + k]!]) return false;
    return true;
  };
  // The group of the stretch before is tried first: most stretches go on with it.
  let group: Open | undefined;
  const ends: Ends = { x0: 0, y0: 0, x1: 0, y1: 0 };
  for (let s = 0; s < stretches.count; s++) {
    const from = stretches.coverStart[s]!;
    const to = stretches.coverStart[s + 1]!;
    const taskIndex = taskOfStretch(stretches, s, taskOfStroke, aimOf);
    if (!group || !sameRecipe(group, taskIndex, s)) {
      let key = `${taskIndex}`;
      for (let c = from; c < to; c++) key += `,${idOfStroke[stretches.coverOwner[c]!]!}`;
      group = open.get(key);
      if (!group) {
        const ids = stretches.coverOwner.slice(from, to).map((stroke) => idOfStroke[stroke]!);
        group = {
          taskIndex,
          ids,
          lengthMm: 0,
          strokes: new StrokeList(),
          box: { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity },
          slowestMmPerS: Infinity,
        };
        open.set(key, group);
      }
    }
    group.lengthMm += stretches.lengthMm[s]!;
    for (let c = from; c < to; c++) {
      const stroke = stretches.coverOwner[c]!;
      group.strokes.add(stroke);
      group.slowestMmPerS = Math.min(group.slowestMmPerS, strokes.slowestMmPerS[stroke]!);
    }
    locate(stretches, s, ends);
    widen(group.box, ends.x0, ends.y0);
    widen(group.box, ends.x1, ends.y1);
  }
  return [...open.values()]
    .filter((group) => group.lengthMm > 0)
    .map((group) => ({
      taskIndex: group.taskIndex,
      passes: Array.from(group.ids, (id) => ({ ...passOf[id]! })),
      lengthMm: group.lengthMm,
      strokes: group.strokes.ascending(),
      box: group.box,
      slowestMmPerS: group.slowestMmPerS,
      uneven: null,
    }));
}

function taskOfStretch(
  stretches: Stretches,
  s: number,
  taskOfStroke: Int32Array,
  aimOf: (taskIndex: number) => Aim,
): number {
  const first = taskOfStroke[stretches.coverOwner[stretches.coverStart[s]!]!]!;
  for (let c = stretches.coverStart[s]!; c < stretches.coverStart[s + 1]!; c++) {
    const task = taskOfStroke[stretches.coverOwner[c]!]!;
    if (aimOf(task) === 'through') return task;
  }
  return first;
}

function widen(box: { minX: number; minY: number; maxX: number; maxY: number }, x: number, y: number): void {
  if (x < box.minX) box.minX = x;
  if (y < box.minY) box.minY = y;
  if (x > box.maxX) box.maxX = x;
  if (y > box.maxY) box.maxY = y;
}

/**
 * A stretch that joins onto stretches with more passes, while most of the task's length gets the larger number, is an
 * outline cut unevenly. An outline that overlaps itself a little where it closes is the reverse, and ordinary.
 */
function markUneven(
  groups: RecipeGroup[],
  strokes: Strokes,
  stretches: Stretches,
  taskOfStroke: Int32Array,
  aimOf: (taskIndex: number) => Aim,
): void {
  const lengthByPasses = new Map<number, Map<number, number>>();
  const taskOf = new Int32Array(stretches.count);
  for (let s = 0; s < stretches.count; s++) {
    const task = taskOfStretch(stretches, s, taskOfStroke, aimOf);
    taskOf[s] = task;
    if (aimOf(task) !== 'through') continue;
    const lengths = lengthByPasses.get(task) ?? new Map<number, number>();
    const passes = stretches.passes[s]!;
    lengths.set(passes, (lengths.get(passes) ?? 0) + stretches.lengthMm[s]!);
    lengthByPasses.set(task, lengths);
  }
  for (const [task, lengths] of lengthByPasses) {
    if (lengths.size < 2) continue;
    const most = [...lengths].reduce((a, b) => (b[1] > a[1] ? b : a))[0];
    if (most === 1) continue;
    const joints = new Set<number>();
    const ends: Ends = { x0: 0, y0: 0, x1: 0, y1: 0 };
    for (let s = 0; s < stretches.count; s++) {
      if (taskOf[s] !== task || stretches.passes[s]! < most) continue;
      locate(stretches, s, ends);
      joints.add(cell(ends.x0, ends.y0)).add(cell(ends.x1, ends.y1));
    }
    let shortMm = 0;
    let fewest = most;
    let stroke = -1;
    for (let s = 0; s < stretches.count; s++) {
      if (taskOf[s] !== task || stretches.passes[s]! >= most) continue;
      locate(stretches, s, ends);
      if (!near(joints, ends.x0, ends.y0) && !near(joints, ends.x1, ends.y1)) continue;
      shortMm += stretches.lengthMm[s]!;
      fewest = Math.min(fewest, stretches.passes[s]!);
      if (stroke < 0) stroke = stretches.segments.owner[stretches.segment[s]!]!;
    }
    if (shortMm < SHORT_MM || stroke < 0) continue;
    const group = groups.find((g) => g.taskIndex === task && g.passes.length === fewest);
    if (group) group.uneven = { fewest, most, shortMm, stroke: Math.min(stroke, strokes.count - 1) };
  }
}

const CELL_MM = 0.1;

/** Cells of one row; coordinates beyond a kilometre never become stretches. */
const ROW = 2 ** 26;

function cell(x: number, y: number, dx = 0, dy = 0): number {
  return (Math.round(y / CELL_MM) + dy) * ROW + Math.round(x / CELL_MM) + dx;
}

function near(joints: Set<number>, x: number, y: number): boolean {
  for (let dx = -1; dx <= 1; dx++) for (let dy = -1; dy <= 1; dy++) if (joints.has(cell(x, y, dx, dy))) return true;
  return false;
}
