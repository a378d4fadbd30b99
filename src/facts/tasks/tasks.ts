import type { Sidecar, Task } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Location } from '../../source/place.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import type { OutlineOfStrokes } from '../match/laid-over.ts';
import { settleLeads } from './leads.ts';
import { type HexOf, taskOfAreasByProgram, taskOfOutlines, taskOfStrokesByProgram } from './selecting.ts';

/** Name of the implied task of strokes that belong to no planned one, and of what a bare file asks for. */
export const ORPHANS = 'unclaimed strokes';
export const BARE = 'all strokes';

/** A task of the sidecar, or one that a bare file or orphan strokes imply. */
export interface AssignedTask {
  readonly name: string;
  /** Null for an implied task. */
  readonly planned: Task | null;
  readonly aim: Task['aim'];
  readonly location: Location;
}

/** Which task each stroke, raster area and outline belongs to; −1: none. Indices are those of `tasks`. */
export interface Assignment {
  readonly tasks: readonly AssignedTask[];
  readonly ofStroke: Int32Array;
  readonly ofArea: Int32Array;
  readonly ofOutline: Int32Array;
  /** Index of the implied task for strokes that belong to no planned one; −1 when there are none. */
  readonly orphans: number;
  /** Why something may belong to another task; null when all could be assigned as the sidecar says. */
  readonly endedEarly: string | null;
}

/**
 * Assigns strokes, areas and outlines to the sidecar's tasks by their selectors. `byGeometry` (stroke → outline it runs
 * along, −1: none) settles what the selectors leave open. Without tasks, every stroke belongs to one implied task with
 * the aim through.
 */
export function assignTasks(input: {
  job: JobOrigin;
  sidecar: Sidecar | null;
  toolpath: Toolpath | null;
  artwork: Artwork | null;
  hexOf: HexOf;
  fullW: number;
  byGeometry: OutlineOfStrokes | null;
}): Assignment {
  const { job, sidecar, toolpath, artwork } = input;
  const planned = sidecar?.tasks ?? [];
  const strokeCount = toolpath?.strokes.count ?? 0;
  const areaCount = toolpath?.areas.length ?? 0;
  const outlineCount = artwork?.outlines.length ?? 0;
  if (planned.length === 0) {
    const location = sidecar?.placeOf([sidecar.toolpath === null ? 'artwork' : 'toolpath']) ?? job.home;
    return {
      tasks: [{ name: BARE, planned: null, aim: 'through', location }],
      ofStroke: new Int32Array(strokeCount),
      ofArea: new Int32Array(areaCount).fill(-1),
      ofOutline: new Int32Array(outlineCount),
      orphans: -1,
      endedEarly: null,
    };
  }
  const tasks: AssignedTask[] = planned.map((task, i) => ({
    name: task.name,
    planned: task,
    aim: task.aim,
    location: sidecar!.placeOf(['tasks', i, 'name']),
  }));
  const ofOutline = artwork ? taskOfOutlines(artwork, planned, input.hexOf) : new Int32Array(0);
  const ofStroke = toolpath ? taskOfStrokesByProgram(toolpath, planned, input.fullW) : new Int32Array(0);
  const ofArea = toolpath ? taskOfAreasByProgram(toolpath, planned, input.fullW) : new Int32Array(0);
  // Which strokes run along a task's outlines is asked only for what the selectors leave open.
  const byGeometry = ofStroke.includes(-1) ? input.byGeometry : null;
  if (byGeometry) settleByGeometry(planned, ofStroke, ofOutline, byGeometry.of);
  if (toolpath) settleRest(planned, ofStroke, ofArea, ofOutline);
  if (toolpath) settleLeads(toolpath.strokes, ofStroke);
  const bySelector = planned.some(({ program }) => program?.comment !== undefined || program?.tool !== undefined);
  const endedEarly =
    artwork?.endedEarly ?? (bySelector ? toolpath?.labelsEndedEarly : null) ?? byGeometry?.endedEarly ?? null;
  const orphans = markOrphans(ofStroke, tasks.length);
  if (orphans.first >= 0) {
    tasks.push({
      name: ORPHANS,
      planned: null,
      aim: 'groove',
      location: lineLocation(job.files.toolpath ?? job.home.file, toolpath!.strokes.line[orphans.first]!),
    });
  }
  return { tasks, ofStroke, ofArea, ofOutline, orphans: orphans.task, endedEarly };
}

/** Gives strokes without a task to an implied one of the number given; −1 where there are no such strokes. */
function markOrphans(ofStroke: Int32Array, task: number): { task: number; first: number } {
  let first = -1;
  for (let i = 0; i < ofStroke.length; i++) {
    if (ofStroke[i] !== -1) continue;
    if (first < 0) first = i;
    ofStroke[i] = task;
  }
  return { task: first < 0 ? -1 : task, first };
}

/** Gives strokes without a task to the one whose outline they run along. */
function settleByGeometry(
  planned: readonly Task[],
  ofStroke: Int32Array,
  ofOutline: Int32Array,
  outlineOf: Int32Array,
): void {
  for (let i = 0; i < ofStroke.length; i++) {
    if (ofStroke[i] !== -1) continue;
    const outline = outlineOf[i]!;
    const task = outline >= 0 ? ofOutline[outline]! : -1;
    // A task with its own program selector has said which strokes are its own.
    if (task >= 0 && planned[task]!.program === null) ofStroke[i] = task;
  }
}

/** Gives strokes and areas without a task to the one task that says nothing of which are its own, if there is just one. */
function settleRest(planned: readonly Task[], ofStroke: Int32Array, ofArea: Int32Array, ofOutline: Int32Array): void {
  const surfaces = planned.flatMap((task, i) => (task.aim === 'surface' && task.program === null ? [i] : []));
  if (surfaces.length === 1) {
    for (let i = 0; i < ofArea.length; i++) if (ofArea[i] === -1) ofArea[i] = surfaces[0]!;
  }
  // Where just one task says nothing of the program and nothing of the artwork, the rest is its own.
  const open = planned.flatMap((task, i) =>
    task.program === null && task.aim !== 'surface' && (task.strokes === null || ofOutline.length === 0) ? [i] : [],
  );
  if (open.length === 1) {
    for (let i = 0; i < ofStroke.length; i++) if (ofStroke[i] === -1) ofStroke[i] = open[0]!;
  }
}

/** A whole line of a file; the reporter widens it to the line's text. */
export function lineLocation(file: string, line: number): Location {
  return { file, line, column: 1, endLine: line, endColumn: 1 };
}

/** Outlines of the artwork that no task selects. */
export function unassignedOutlines({ ofOutline }: Assignment): number[] {
  return Array.from(ofOutline.keys()).filter((outline) => ofOutline[outline] === -1);
}
