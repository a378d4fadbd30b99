import type { Toolpath } from '../gcode/toolpath.ts';
import { boxOfPolyline, nestContours, polylineLengthMm, signedAreaMm2 } from '../geometry/contours.ts';
import { SegmentGrid } from '../geometry/grid.ts';
import { segmentsOf } from '../geometry/segments.ts';
import { leastWidthMm } from '../geometry/widths.ts';
import type { JobInput } from './facts.ts';
import type { ContourFact, OrderFact } from './geometry-facts.ts';
import { crowdedPlaces } from './heat.ts';
import { contoursOfStrokes, type StrokeContour } from './stroke-contours.ts';
import { type Assignment, lineLocation } from './tasks.ts';

/** Contours that are listed one by one. */
const MOST_LISTED = 500;
/** A loose end this near to another cut ends on it: half a kerf and what programs round, mm. */
const ON_ANOTHER_MM = 0.3;
/** Two runs of one contour agree in box and length to this, mm. */
const SAME_CONTOUR_MM = 0.1;

/** A contour with the strokes of all its runs. */
interface Run {
  contour: StrokeContour;
  fact: ContourFact;
  /** Number of the last stroke in the program that works on it. */
  lastStroke: number;
  firstStroke: number;
}

/** What follows from the order in which the program makes its through cuts. */
export function orderFact(toolpath: Toolpath, assignment: Assignment, job: JobInput, fullW: number): OrderFact {
  const { strokes } = toolpath;
  const chosen: number[] = [];
  for (let i = 0; i < strokes.count; i++) {
    if (assignment.tasks[assignment.ofStroke[i]!]?.aim === 'through') chosen.push(i);
  }
  const file = job.files.toolpath ?? job.home.file;
  const contours = contoursOfStrokes(strokes, Uint32Array.from(chosen));
  const runs = distinct(
    contours.map((contour) => {
      const first = contour.strokes[0]!;
      return {
        contour,
        fact: contourFact(contour, file, toolpath, assignment, first),
        firstStroke: contour.strokes.reduce((a, b) => Math.min(a, b)),
        lastStroke: contour.strokes.reduce((a, b) => Math.max(a, b)),
      };
    }),
  );
  const nesting = nestContours(runs.map((run) => run.contour));
  const innerAfterOuter: OrderFact['innerAfterOuter'] = [];
  for (const [i, run] of runs.entries()) {
    run.fact.depth = nesting.depth[i]!;
    const parent = nesting.parent[i]!;
    const outer = parent >= 0 ? runs[parent]! : null;
    if (outer && run.lastStroke > outer.lastStroke && innerAfterOuter.length < MOST_LISTED) {
      innerAfterOuter.push({ inner: run.fact, outer: outer.fact });
    }
  }
  const travel = toolpath.rapidLengthMm;
  const work = toolpath.cutLengthMm + toolpath.rasterLengthMm;
  return {
    contours: runs.length,
    innerAfterOuter,
    open: openEnded(runs).slice(0, MOST_LISTED),
    freed: runs
      .filter((run) => run.fact.closed)
      .map((run) => run.fact)
      .sort((a, b) => a.widthMm - b.widthMm)
      .slice(0, MOST_LISTED),
    crowded: crowdedPlaces(toolpath, chosen, fullW, file),
    travelShare: travel + work > 0 ? travel / (travel + work) : 0,
  };
}

function contourFact(
  contour: StrokeContour,
  file: string,
  toolpath: Toolpath,
  assignment: Assignment,
  first: number,
): ContourFact {
  return {
    location: lineLocation(file, toolpath.strokes.line[first]!),
    closed: contour.closed,
    gapMm: contour.gapMm,
    lengthMm: polylineLengthMm(contour),
    areaMm2: contour.closed ? Math.abs(signedAreaMm2(contour)) : 0,
    widthMm: contour.closed ? leastWidthMm(contour) : 0,
    depth: 0,
    task: assignment.tasks[assignment.ofStroke[first]!]!.name,
  };
}

/** Runs over the same contour, pass after pass, become one. */
function distinct(runs: Run[]): Run[] {
  const known = new Map<string, Run>();
  const near = (value: number) => Math.round(value / SAME_CONTOUR_MM);
  for (const run of runs) {
    const box = boxOfPolyline(run.contour);
    if (!box) continue;
    const key = [box.minX, box.minY, box.maxX, box.maxY, run.fact.lengthMm].map(near).join(',');
    const same = known.get(key);
    if (!same) known.set(key, run);
    else {
      same.firstStroke = Math.min(same.firstStroke, run.firstStroke);
      same.lastStroke = Math.max(same.lastStroke, run.lastStroke);
    }
  }
  return [...known.values()];
}

/** Open contours with an end that does not lie on another cut. */
function openEnded(runs: readonly Run[]): ContourFact[] {
  const open = runs.filter((run) => !run.fact.closed);
  if (open.length === 0) return [];
  const segments = segmentsOf(runs.map((run) => run.contour));
  const grid = new SegmentGrid(segments, 2).insertAll();
  const touches = (x: number, y: number, self: number): boolean => {
    const found = grid.search(x, y, x, y, ON_ANOTHER_MM);
    for (let k = 0; k < grid.foundCount; k++) if (segments.owner[found[k]!] !== self) return true;
    return false;
  };
  return runs.flatMap((run, r) => {
    if (run.fact.closed) return [];
    const { xy } = run.contour;
    const last = xy.length - 2;
    return touches(xy[0]!, xy[1]!, r) && touches(xy[last]!, xy[last + 1]!, r) ? [] : [run.fact];
  });
}
