import { segmentTimeS } from '../../geometry/motion/motion.ts';
import type { Machine } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { planOutlines } from '../cuts/planned-outlines.ts';
import type { TaskFact } from '../tasks/task-fact.ts';

/** How long the job takes, s. */
export interface TimeFact {
  readonly totalS: number;
  readonly cuttingS: number;
  readonly rasterS: number;
  readonly travelS: number;
  readonly dwellS: number;
  /** Where it comes from. */
  readonly basis: 'toolpath' | 'artwork';
}

/** The time of the toolpath; of artwork alone the planned one, null where no speed is planned. */
export function jobTime(
  machine: Machine,
  toolpath: Toolpath | null,
  artwork: Artwork | null,
  tasks: readonly TaskFact[],
): TimeFact | null {
  if (toolpath) {
    const { totalS, cuttingS, rasterS, travelS, dwellS } = toolpath.time;
    return { totalS, cuttingS, rasterS, travelS, dwellS, basis: 'toolpath' };
  }
  return artwork && tasks.some((task) => task.planned?.speedMmPerS) ? plannedTime(machine, artwork, tasks) : null;
}

/** Time of artwork alone: cutting as planned, travel in a straight line from each outline to the next in drawing order. */
function plannedTime(machine: Machine, artwork: Artwork, tasks: readonly TaskFact[]): TimeFact {
  let cuttingS = 0;
  const order: number[] = [];
  for (const { planned, outlines } of tasks) {
    if (!planned) continue;
    cuttingS += planOutlines(artwork, machine, planned, outlines).timeS;
    for (let pass = 0; pass < (planned.passes ?? 1); pass++) for (const outline of outlines) order.push(outline);
  }
  const { rapidMmPerS, accelerationMmPerS2, airDelayS } = machine.motion;
  let travelS = 0;
  let x = 0;
  let y = 0;
  for (const i of order) {
    const { xy, closed } = artwork.outlines[i]!;
    if (xy.length < 2) continue;
    travelS += segmentTimeS(Math.hypot(xy[0]! - x, xy[1]! - y), rapidMmPerS, accelerationMmPerS2);
    const end = closed ? 0 : xy.length - 2;
    x = xy[end]!;
    y = xy[end + 1]!;
  }
  const dwellS = order.length > 0 ? airDelayS : 0;
  return { totalS: cuttingS + travelS + dwellS, cuttingS, rasterS: 0, travelS, dwellS, basis: 'artwork' };
}
