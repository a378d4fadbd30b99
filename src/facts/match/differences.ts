import type { MissingPlace } from '../../geometry/overlap/coverage.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { everything, type Found, mapped, where } from '../../units/found.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import { type Assignment, lineLocation } from '../tasks/tasks.ts';
import { type LaidOver, SAME_LINE_MM } from './laid-over.ts';
import type { ExtraStrokes, MissingOutline } from './match-fact.ts';

/** Runs shorter than this are how lines begin and end (lead-ins, overlaps), mm. */
const SHORT_MM = 1;
/** An outline shorter than that is missing when at least so much of it is. */
const SHORT_OUTLINE_SHARE = 0.5;

/** Outlines of the artwork, asked for by a task, of which something is not in the toolpath. */
export function missingOutlines(
  job: JobOrigin,
  artwork: Artwork | null,
  laid: LaidOver | null,
  assignment: Assignment,
): Found<MissingOutline> {
  if (!artwork || !laid?.artwork) return everything([]);
  const { items: runs, endedEarly } = laid.artwork.missing;
  const lengthOf = new Map<number, number>();
  for (const { owner, lengthMm } of runs) lengthOf.set(owner, (lengthOf.get(owner) ?? 0) + lengthMm);
  const file = job.files.artwork ?? job.home.file;
  const missing: MissingOutline[] = [];
  for (const [outline, lengthMm] of lengthOf) {
    const task = assignment.ofOutline[outline] ?? -1;
    // Surfaces run as raster areas, and what no task selects is not asked for.
    if (task < 0 || assignment.tasks[task]!.aim === 'surface') continue;
    const outlineLengthMm = artwork.outlines[outline]!.lengthMm;
    if (lengthMm < SHORT_MM && lengthMm < outlineLengthMm * SHORT_OUTLINE_SHARE) continue;
    const location = { file, ...artwork.elements[artwork.outlines[outline]!.element]!.place };
    missing.push({ outline, location, lengthMm, outlineLengthMm });
  }
  return { items: missing, endedEarly };
}

/** Powered strokes that the artwork does not have. */
export function extraStrokes(job: JobOrigin, { strokes }: Toolpath, laid: LaidOver | null): Found<ExtraStrokes> {
  const file = job.files.toolpath ?? job.home.file;
  const at = (stroke: number) => lineLocation(file, strokes.line[stroke]!);
  if (laid?.toolpath) {
    const { items, endedEarly } = laid.toolpath.missing;
    const runs = where({ items: joinRuns(items), endedEarly }, (run) => run.lengthMm >= SHORT_MM);
    return mapped(runs, (run) => ({ location: at(run.first), lengthMm: run.lengthMm, strokes: run.strokes }));
  }
  return everything([]);
}

/** Runs that follow each other end to end. */
interface JoinedRun {
  first: number;
  lengthMm: number;
  strokes: number;
  last: MissingPlace;
}

/** Runs that follow each other end to end become one: a circle of chords is one extra circle. */
function joinRuns(runs: readonly MissingPlace[]): JoinedRun[] {
  const joined: JoinedRun[] = [];
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
