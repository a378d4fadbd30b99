import { nestContours, polylineLengthMm, signedAreaMm2 } from '../../geometry/outlines/contours.ts';
import { leastWidthMm } from '../../geometry/outlines/widths.ts';
import type { Strokes } from '../../model/strokes.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import { contourKey } from '../strokes/contour-key.ts';
import { contoursOfStrokes, type StrokeContour } from '../strokes/stroke-contours.ts';
import { type Assignment, lineLocation } from '../tasks/tasks.ts';
import { crowdedPlaces } from './heat.ts';
import { looseEnds } from './loose-ends.ts';
import type { ContourFact, OrderFact } from './order-fact.ts';

/** A contour with the strokes of all its runs. */
interface ContourRun {
  contour: StrokeContour;
  lengthMm: number;
  /** The strokes of each run. */
  strokes: Uint32Array[];
  /** Number of the last stroke in the program that works on it. */
  lastStroke: number;
}

/** What follows from the order in which the program makes its through cuts; null without a toolpath. */
export function orderFact(input: {
  job: JobOrigin;
  toolpath: Toolpath | null;
  assignment: Assignment;
  fullW: number;
}): OrderFact | null {
  const { job, toolpath, assignment, fullW } = input;
  if (!toolpath) return null;
  const file = job.files.toolpath ?? job.home.file;
  const chosen = throughStrokes(toolpath.strokes, assignment);
  const runs = distinct(contoursOfStrokes(toolpath.strokes, chosen));
  const contours = runs.map((run) => run.contour);
  const { depth, parent } = nestContours(contours);
  const widthMm = contours.map((contour) => (contour.closed ? leastWidthMm(contour) : 0));
  const factOf = (r: number): ContourFact => {
    const { contour, lengthMm, strokes } = runs[r]!;
    const first = contour.strokes[0]!;
    return {
      location: lineLocation(file, toolpath.strokes.line[first]!),
      closed: contour.closed,
      gapMm: contour.gapMm,
      lengthMm,
      areaMm2: contour.closed ? Math.abs(signedAreaMm2(contour)) : 0,
      widthMm: widthMm[r]!,
      depth: depth[r]!,
      task: assignment.tasks[assignment.ofStroke[first]!]!.name,
      strokes: ascending(strokes),
    };
  };
  const travel = toolpath.travelLengthMm;
  const work = toolpath.cutLengthMm + toolpath.rasterLengthMm;
  return {
    contours: runs.length,
    innerAfterOuter: lateInners(runs, parent).map((r) => ({ inner: factOf(r), outer: factOf(parent[r]!) })),
    open: looseEnds(contours).map(factOf),
    freed: narrowestFirst(contours, widthMm).map(factOf),
    crowded: crowdedPlaces(toolpath, chosen, fullW, file),
    travelShare: travel + work > 0 ? travel / (travel + work) : 0,
  };
}

function throughStrokes(strokes: Strokes, { tasks, ofStroke }: Assignment): Uint32Array {
  const chosen = new Uint32Array(strokes.count);
  let count = 0;
  for (let i = 0; i < strokes.count; i++) if (tasks[ofStroke[i]!]?.aim === 'through') chosen[count++] = i;
  return chosen.subarray(0, count);
}

/** Runs over the same contour, pass after pass, become one. */
function distinct(contours: readonly StrokeContour[]): ContourRun[] {
  const known = new Map<string, ContourRun>();
  for (const contour of contours) {
    const lengthMm = polylineLengthMm(contour);
    const key = contourKey(contour, lengthMm);
    if (key === null) continue;
    let lastStroke = 0;
    const { strokes } = contour;
    for (let k = 0; k < strokes.length; k++) if (strokes[k]! > lastStroke) lastStroke = strokes[k]!;
    const same = known.get(key);
    if (same) {
      same.lastStroke = Math.max(same.lastStroke, lastStroke);
      same.strokes.push(contour.strokes);
    } else known.set(key, { contour, lengthMm, strokes: [contour.strokes], lastStroke });
  }
  return [...known.values()];
}

function ascending(runs: readonly Uint32Array[]): Uint32Array {
  const [first, ...others] = runs;
  return others.length === 0 ? first!.slice().sort() : Uint32Array.from(runs.flatMap((run) => [...run])).sort();
}

/** Contours that are worked on when the contour around them is done. */
function lateInners(runs: readonly ContourRun[], parent: Int32Array): number[] {
  const late: number[] = [];
  for (let r = 0; r < runs.length; r++) {
    const outer = runs[parent[r]!];
    if (outer && runs[r]!.lastStroke > outer.lastStroke) late.push(r);
  }
  return late;
}

/** Numbers of the closed contours, the narrowest first. */
function narrowestFirst(contours: readonly StrokeContour[], widthMm: readonly number[]): number[] {
  return Array.from(contours.keys())
    .filter((r) => contours[r]!.closed)
    .sort((a, b) => widthMm[a]! - widthMm[b]!);
}
