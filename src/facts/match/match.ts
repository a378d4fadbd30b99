import { type Coverage, coverageOf } from '../../geometry/overlap/coverage.ts';
import { findPlacement, type Placement } from '../../geometry/placement/placement.ts';
import { placeSegments } from '../../geometry/placement/transform.ts';
import { type Segments, segmentsOf } from '../../geometry/segments/segments.ts';
import type { Sidecar } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { segmentsOfStrokes } from '../cuts/passes.ts';
import type { CutFact, JobOrigin } from '../facts.ts';
import type { MatchFact } from '../geometry-facts.ts';
import { contoursOfStrokes, flatLengthMm } from '../order/stroke-contours.ts';
import { settingsThatDiffer } from '../tasks/planned-settings.ts';
import { type Assignment, lineLocation } from '../tasks/tasks.ts';
import { scaleCause } from './scale.ts';

/** Lines of artwork and toolpath this near to each other are the same line, once the kerf offset is taken off, mm. */
const SAME_LINE_MM = 0.1;
/** A mean offset below this is rounding, mm. */
const NO_OFFSET_MM = 0.02;
/** A stroke belongs to an outline when at least so much of it runs along it. */
const OWN_SHARE = 0.5;
/** Places that are listed one by one. */
const MOST_LISTED = 500;
/** Runs shorter than this are how lines begin and end (lead-ins, overlaps), mm. */
const SHORT_MM = 1;

/** The artwork as it lies on the toolpath; `placement` null when it was not found there. */
export interface LaidOver {
  placement: Placement | null;
  artwork: Coverage | null;
  toolpath: Coverage | null;
  strokeSegments: Segments;
}

/** Lays the artwork over the toolpath's powered strokes and measures what each has of the other. */
export function laidOver(toolpath: Toolpath, artwork: Artwork): LaidOver {
  const { strokes } = toolpath;
  const all = Uint32Array.from({ length: strokes.count }, (_, i) => i);
  const strokeSegments = segmentsOfStrokes(strokes);
  const placement = findPlacement(artwork.outlines, contoursOfStrokes(strokes, all), { expectYFlip: true });
  if (!placement) return { placement: null, artwork: null, toolpath: null, strokeSegments };
  const outlines = placeSegments(placement, segmentsOf(artwork.outlines));
  const options = {
    toleranceMm: SAME_LINE_MM,
    offsetMm: Math.abs(placement.offsetMm) > NO_OFFSET_MM ? placement.offsetMm : 0,
  };
  return {
    placement,
    artwork: coverageOf(outlines, strokeSegments, options),
    toolpath: coverageOf(strokeSegments, outlines, options),
    strokeSegments,
  };
}

/** Which outline each stroke runs along; −1: none. */
export function outlineOfStrokes(laid: LaidOver, strokeCount: number): Int32Array {
  const of = new Int32Array(strokeCount).fill(-1);
  if (!laid.toolpath) return of;
  const most = new Float64Array(strokeCount);
  const lengths = new Float64Array(strokeCount);
  const { strokeSegments: segments } = laid;
  for (let s = 0; s < segments.count; s++) {
    lengths[segments.owner[s]!]! += Math.hypot(segments.x1[s]! - segments.x0[s]!, segments.y1[s]! - segments.y0[s]!);
  }
  for (const { ownerA, ownerB, lengthMm } of laid.toolpath.pairs) {
    if (lengthMm <= most[ownerA]! || lengthMm < lengths[ownerA]! * OWN_SHARE) continue;
    most[ownerA] = lengthMm;
    of[ownerA] = ownerB;
  }
  return of;
}

/** What the toolpath has of the artwork and of the plan. */
export function matchFact(input: {
  job: JobOrigin;
  sidecar: Sidecar | null;
  toolpath: Toolpath;
  artwork: Artwork | null;
  laid: LaidOver | null;
  assignment: Assignment;
  cuts: readonly CutFact[];
  kerfMm: number | null;
}): MatchFact | null {
  const { job, sidecar, toolpath, artwork, laid, assignment, cuts } = input;
  const planned = sidecar !== null && sidecar.tasks.length > 0;
  if (!artwork && !planned) return null;
  const placement = laid?.placement ?? null;
  return {
    placement: placement && {
      scale: placement.scale,
      quarterTurns: placement.quarterTurns,
      mirrored: placement.mirrored,
      dxMm: placement.dx,
      dyMm: placement.dy,
      offsetMm: placement.offsetMm,
      ambiguous: placement.ambiguous,
    },
    scaleCause: placement ? scaleCause(placement.scale) : null,
    artworkLengthMm: artwork?.lengthMm ?? 0,
    toolpathLengthMm: toolpath.cutLengthMm,
    coveredArtworkMm: laid?.artwork?.coveredMm ?? 0,
    coveredToolpathMm: laid?.toolpath?.coveredMm ?? 0,
    missing: artwork && laid?.artwork ? missingOf(job, artwork, laid.artwork, assignment) : [],
    extra: extraOf(job, toolpath, laid, assignment),
    settings: sidecar ? settingsThatDiffer(sidecar, assignment, cuts) : [],
    unmatchedTasks: unmatchedTasks(assignment, toolpath),
  };
}

function missingOf(job: JobOrigin, artwork: Artwork, coverage: Coverage, assignment: Assignment): MatchFact['missing'] {
  const lengthOf = new Map<number, number>();
  for (const { owner, lengthMm } of coverage.missing) lengthOf.set(owner, (lengthOf.get(owner) ?? 0) + lengthMm);
  const file = job.files.artwork ?? job.home.file;
  const missing: MatchFact['missing'] = [];
  for (const [outline, lengthMm] of lengthOf) {
    const task = assignment.ofOutline[outline] ?? -1;
    // Surfaces run as raster areas, and what no task selects is not asked for.
    if (task < 0 || assignment.tasks[task]!.aim === 'surface') continue;
    if (lengthMm < SHORT_MM && lengthMm < artwork.outlines[outline]!.lengthMm * OWN_SHARE) continue;
    missing.push({
      outline,
      location: { file, ...artwork.elements[artwork.outlines[outline]!.element]!.place },
      lengthMm,
      outlineLengthMm: artwork.outlines[outline]!.lengthMm,
    });
    if (missing.length === MOST_LISTED) break;
  }
  return missing;
}

/** Powered strokes that the artwork does not have; without artwork, strokes that no task claims. */
function extraOf(
  job: JobOrigin,
  toolpath: Toolpath,
  laid: LaidOver | null,
  assignment: Assignment,
): MatchFact['extra'] {
  const file = job.files.toolpath ?? job.home.file;
  const { strokes } = toolpath;
  if (laid?.toolpath) {
    return joinRuns(laid.toolpath.missing)
      .filter((run) => run.lengthMm >= SHORT_MM)
      .slice(0, MOST_LISTED)
      .map((run) => ({
        location: lineLocation(file, strokes.line[run.first]!),
        lengthMm: run.lengthMm,
        strokes: run.strokes,
      }));
  }
  if (laid || assignment.unclaimed < 0) return [];
  let lengthMm = 0;
  let count = 0;
  let first = -1;
  for (let i = 0; i < strokes.count; i++) {
    if (assignment.ofStroke[i] !== assignment.unclaimed) continue;
    if (first < 0) first = i;
    lengthMm += flatLengthMm(strokes, i);
    count++;
  }
  return first < 0 ? [] : [{ location: lineLocation(file, strokes.line[first]!), lengthMm, strokes: count }];
}

/** Runs that follow each other end to end become one: a circle of chords is one extra circle. */
function joinRuns(runs: Coverage['missing']): { first: number; lengthMm: number; strokes: number }[] {
  const joined: { first: number; lengthMm: number; strokes: number; last: Coverage['missing'][number] }[] = [];
  for (const run of runs) {
    const before = joined.at(-1);
    if (before && Math.hypot(run.x0 - before.last.x1, run.y0 - before.last.y1) <= SAME_LINE_MM) {
      before.lengthMm += run.lengthMm;
      if (run.owner !== before.last.owner) before.strokes++;
      before.last = run;
    } else joined.push({ first: run.owner, lengthMm: run.lengthMm, strokes: 1, last: run });
  }
  return joined;
}

function unmatchedTasks(assignment: Assignment, toolpath: Toolpath): MatchFact['unmatchedTasks'] {
  const found = new Set<number>([...assignment.ofStroke, ...assignment.ofArea]);
  return assignment.tasks.flatMap((task, index) => {
    if (!task.planned || found.has(index)) return [];
    const program = task.planned.program;
    const asked = program
      ? [
          program.comment !== undefined ? `the comment "${program.comment}"` : null,
          program.tool !== undefined ? `tool ${program.tool}` : null,
          program.feedMmPerS !== undefined ? 'the feed' : null,
          program.power !== undefined ? 'the power' : null,
        ]
          .filter((one) => one !== null)
          .join(' and ')
      : null;
    const reason = asked
      ? `no powered stroke bears ${asked}`
      : task.aim === 'surface'
        ? toolpath.areas.length > 0
          ? 'the raster areas could not be told apart: say which with `program`'
          : 'the toolpath has no raster area'
        : 'none of its outlines were found in the toolpath';
    return [{ task: task.name, reason, location: task.location }];
  });
}
