import type { Aim, Machine, Task } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Location } from '../../source/place.ts';
import { type Found, mapped, where } from '../../units/found.ts';
import { planOutlines } from '../cuts/planned-outlines.ts';
import type { MissingOutline } from '../match/match-fact.ts';
import { strokeLengthMm } from '../strokes/stroke-geometry.ts';
import type { Assignment } from './tasks.ts';

/** A task as planned (or the implied one of a bare file). */
export interface TaskFact {
  readonly name: string;
  readonly aim: Aim;
  /** Null for an implied task. */
  readonly planned: Task | null;
  readonly location: Location;
  /** Outlines of the artwork that it selects (indices). */
  readonly outlines: Uint32Array;
  /** Strokes of the toolpath that belong to it (indices). */
  readonly strokes: Uint32Array;
  /** Raster areas that belong to it (indices). */
  readonly areas: readonly number[];
  /** From the toolpath where it has the task's strokes, else from the artwork as planned. */
  readonly lengthMm: number;
  readonly timeS: number;
  /** Whole planned outlines of the artwork along which the head runs without power: outline index and place. */
  readonly unpoweredOutlines: Found<{ readonly outline: number; readonly location: Location }>;
}

/** The tasks with what belongs to them; `unpowered`: outlines along which the head runs without power. */
export function taskFacts(input: {
  assignment: Assignment;
  toolpath: Toolpath | null;
  artwork: Artwork | null;
  machine: Machine | null;
  unpowered: Found<MissingOutline>;
}): TaskFact[] {
  const { assignment, toolpath } = input;
  const { ofOutline, ofStroke, ofArea } = assignment;
  return assignment.tasks.map((task, index) => {
    const own = {
      planned: task.planned,
      outlines: indicesOf(ofOutline, index),
      strokes: indicesOf(ofStroke, index),
    };
    const areas = [...indicesOf(ofArea, index)];
    const { lengthMm, timeS } = measured(own, input);
    return {
      ...own,
      name: task.name,
      aim: task.aim,
      location: task.location,
      areas,
      lengthMm,
      timeS: areas.reduce((sum, area) => sum + (toolpath?.areas[area]?.timeS ?? 0), timeS),
      unpoweredOutlines: mapped(
        where(input.unpowered, ({ outline }) => ofOutline[outline] === index),
        ({ outline, location }) => ({ outline, location }),
      ),
    };
  });
}

/** Length and time of a task's lines. */
function measured(
  { planned, outlines, strokes }: Pick<TaskFact, 'planned' | 'outlines' | 'strokes'>,
  { toolpath, artwork, machine }: { toolpath: Toolpath | null; artwork: Artwork | null; machine: Machine | null },
): { lengthMm: number; timeS: number } {
  let lengthMm = 0;
  let timeS = 0;
  if (toolpath && strokes.length > 0) {
    // By number: an iterator would make an object for each of millions.
    for (let k = 0; k < strokes.length; k++) {
      const i = strokes[k]!;
      const strokeMm = strokeLengthMm(toolpath.strokes, i);
      lengthMm += strokeMm;
      const speed = toolpath.strokes.reachedMmPerS[i]!;
      if (speed > 0) timeS += strokeMm / speed;
    }
  } else if (artwork) {
    for (const i of outlines) lengthMm += artwork.outlines[i]!.lengthMm;
    if (machine && planned) timeS = planOutlines(artwork, machine, planned, outlines).timeS;
  }
  return { lengthMm, timeS };
}

function indicesOf(of: Int32Array, task: number): Uint32Array {
  let count = 0;
  for (let i = 0; i < of.length; i++) if (of[i] === task) count++;
  const indices = new Uint32Array(count);
  count = 0;
  for (let i = 0; i < of.length; i++) if (of[i] === task) indices[count++] = i;
  return indices;
}
