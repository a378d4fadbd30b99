import type { Sidecar, Task } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Location } from '../../source/place.ts';
import type { JobOrigin, TaskFact } from '../facts.ts';
import { type HexOf, taskOfAreasByProgram, taskOfOutlines, taskOfStrokesByProgram } from './selecting.ts';

/** Name of what no task claims, and of what a bare file asks for. */
export const UNCLAIMED = 'unclaimed strokes';
export const BARE = 'all strokes';

/** Which task each stroke, raster area and outline belongs to; −1: none. Indices are those of `tasks`. */
export interface Assignment {
  tasks: { name: string; planned: Task | null; aim: Task['aim']; location: Location }[];
  ofStroke: Int32Array;
  ofArea: Int32Array;
  ofOutline: Int32Array;
  /** Index of the implied task for strokes that no task claims; −1 when there are none. */
  unclaimed: number;
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
  byGeometry: Int32Array | null;
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
      unclaimed: -1,
    };
  }
  const tasks: Assignment['tasks'] = planned.map((task, i) => ({
    name: task.name,
    planned: task,
    aim: task.aim,
    location: sidecar!.placeOf(['tasks', i, 'name']),
  }));
  const ofOutline = artwork ? taskOfOutlines(artwork, planned, input.hexOf) : new Int32Array(0);
  const ofStroke = toolpath ? taskOfStrokesByProgram(toolpath, planned, input.fullW) : new Int32Array(0);
  const ofArea = toolpath ? taskOfAreasByProgram(toolpath, planned) : new Int32Array(0);
  if (toolpath) settleRest(planned, ofStroke, ofArea, ofOutline, input.byGeometry);
  let unclaimed = -1;
  for (let i = 0; i < strokeCount; i++) {
    if (ofStroke[i] !== -1) continue;
    if (unclaimed < 0) {
      unclaimed = tasks.length;
      tasks.push({
        name: UNCLAIMED,
        planned: null,
        aim: 'groove',
        location: lineLocation(job.files.toolpath ?? job.home.file, toolpath!.strokes.line[i]!),
      });
    }
    ofStroke[i] = unclaimed;
  }
  return { tasks, ofStroke, ofArea, ofOutline, unclaimed };
}

function settleRest(
  planned: readonly Task[],
  ofStroke: Int32Array,
  ofArea: Int32Array,
  ofOutline: Int32Array,
  byGeometry: Int32Array | null,
): void {
  if (byGeometry) {
    for (let i = 0; i < ofStroke.length; i++) {
      if (ofStroke[i] !== -1) continue;
      const outline = byGeometry[i]!;
      const task = outline >= 0 ? ofOutline[outline]! : -1;
      // A task with its own program selector has said which strokes are its own.
      if (task >= 0 && planned[task]!.program === null) ofStroke[i] = task;
    }
  }
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

/** Tasks as facts, without lengths and times. */
export function taskFacts(assignment: Assignment): TaskFact[] {
  return assignment.tasks.map((task, index) => ({
    name: task.name,
    aim: task.aim,
    planned: task.planned,
    location: task.location,
    outlines: indicesOf(assignment.ofOutline, index),
    strokes: indicesOf(assignment.ofStroke, index),
    areas: [...indicesOf(assignment.ofArea, index)],
    lengthMm: 0,
    timeS: 0,
    unpoweredOutlines: [],
  }));
}

function indicesOf(of: Int32Array, task: number): Uint32Array {
  let count = 0;
  for (let i = 0; i < of.length; i++) if (of[i] === task) count++;
  const indices = new Uint32Array(count);
  count = 0;
  for (let i = 0; i < of.length; i++) if (of[i] === task) indices[count++] = i;
  return indices;
}
