import { STROKE_AIR, STROKE_SCALED, type Strokes } from '../gcode/toolpath.ts';
import { findOverlaps, type Stretches } from '../geometry/overlap.ts';
import { flattenArc, SegmentBuilder } from '../geometry/segments.ts';
import type { Aim } from '../job/model.ts';

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
  passes: ProgrammedPass[];
  lengthMm: number;
  strokes: Set<number>;
  box: { minX: number; minY: number; maxX: number; maxY: number };
  slowestMmPerS: number;
}

function collect(
  strokes: Strokes,
  stretches: Stretches,
  taskOfStroke: Int32Array,
  aimOf: (taskIndex: number) => Aim,
  step: (setting: number, speed: number) => Step,
): RecipeGroup[] {
  const ids = new Map<string, number>();
  const idOfStroke = new Int32Array(strokes.count).fill(-1);
  const passOf: ProgrammedPass[] = [];
  const idOf = (i: number): number => {
    if (idOfStroke[i]! >= 0) return idOfStroke[i]!;
    const programmed = strokes.speedMmPerS[i]!;
    const { setting, speed } = step(strokes.setting[i]!, programmed);
    const z = round(strokes.startZ[i]!, 0.01);
    const flags = strokes.flags[i]! & (STROKE_AIR | STROKE_SCALED);
    const key = `${setting.toFixed(4)}|${speed.toFixed(4)}|${z.toFixed(2)}|${flags}`;
    let id = ids.get(key);
    if (id === undefined) {
      id = passOf.length;
      ids.set(key, id);
      passOf.push({
        setting,
        programmedMmPerS: speed,
        reachedMmPerS: 0,
        zMm: z,
        air: (flags & STROKE_AIR) !== 0,
        scaled: (flags & STROKE_SCALED) !== 0,
      });
    }
    idOfStroke[i] = id;
    const pass = passOf[id]!;
    pass.reachedMmPerS = Math.max(pass.reachedMmPerS, strokes.reachedMmPerS[i]!);
    return id;
  };

  for (let i = 0; i < strokes.count; i++) idOf(i);
  const open = new Map<string, Open>();
  for (let s = 0; s < stretches.count; s++) {
    const from = stretches.coverStart[s]!;
    const to = stretches.coverStart[s + 1]!;
    const taskIndex = taskOfStretch(stretches, s, taskOfStroke, aimOf);
    let key = `${taskIndex}`;
    for (let c = from; c < to; c++) key += `,${idOf(stretches.coverOwner[c]!)}`;
    let group = open.get(key);
    if (!group) {
      const passes: ProgrammedPass[] = [];
      for (let c = from; c < to; c++) passes.push(passOf[idOf(stretches.coverOwner[c]!)]!);
      group = {
        taskIndex,
        passes,
        lengthMm: 0,
        strokes: new Set(),
        box: { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity },
        slowestMmPerS: Infinity,
      };
      open.set(key, group);
    }
    group.lengthMm += stretches.lengthMm[s]!;
    for (let c = from; c < to; c++) {
      const stroke = stretches.coverOwner[c]!;
      group.strokes.add(stroke);
      group.slowestMmPerS = Math.min(group.slowestMmPerS, strokes.slowestMmPerS[stroke]!);
    }
    widen(group.box, stretches.x0[s]!, stretches.y0[s]!);
    widen(group.box, stretches.x1[s]!, stretches.y1[s]!);
  }
  return [...open.values()]
    .filter((group) => group.lengthMm > 0)
    .map((group) => ({
      taskIndex: group.taskIndex,
      passes: group.passes.map((pass) => ({ ...pass })),
      lengthMm: group.lengthMm,
      strokes: Uint32Array.from(group.strokes).sort(),
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
    const ends = new Set<string>();
    for (let s = 0; s < stretches.count; s++) {
      if (taskOf[s] !== task || stretches.passes[s]! < most) continue;
      ends.add(cell(stretches.x0[s]!, stretches.y0[s]!)).add(cell(stretches.x1[s]!, stretches.y1[s]!));
    }
    let shortMm = 0;
    let fewest = most;
    let stroke = -1;
    for (let s = 0; s < stretches.count; s++) {
      if (taskOf[s] !== task || stretches.passes[s]! >= most) continue;
      if (!near(ends, stretches.x0[s]!, stretches.y0[s]!) && !near(ends, stretches.x1[s]!, stretches.y1[s]!)) continue;
      shortMm += stretches.lengthMm[s]!;
      fewest = Math.min(fewest, stretches.passes[s]!);
      if (stroke < 0) stroke = stretches.owner[s]!;
    }
    if (shortMm < SHORT_MM || stroke < 0) continue;
    const group = groups.find((g) => g.taskIndex === task && g.passes.length === fewest);
    if (group) group.uneven = { fewest, most, shortMm, stroke: Math.min(stroke, strokes.count - 1) };
  }
}

const CELL_MM = 0.1;

function cell(x: number, y: number, dx = 0, dy = 0): string {
  return `${Math.round(x / CELL_MM) + dx},${Math.round(y / CELL_MM) + dy}`;
}

function near(ends: Set<string>, x: number, y: number): boolean {
  for (let dx = -1; dx <= 1; dx++) for (let dy = -1; dy <= 1; dy++) if (ends.has(cell(x, y, dx, dy))) return true;
  return false;
}
