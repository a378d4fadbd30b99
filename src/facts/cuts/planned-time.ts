import { segmentTimeS } from '../../geometry/motion/motion.ts';
import { planPath } from '../../geometry/motion/planner.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import type { Machine, Task } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { TimeFact } from '../facts.ts';

/** How one task's outlines will run at the planned speed. */
export interface PlannedOutline {
  lengthMm: number;
  /** All passes. */
  timeS: number;
  /** Fastest mean speed among the outlines, and fastest speed anywhere, mm/s. */
  reachedMmPerS: number;
  peakMmPerS: number;
  slowestMmPerS: number;
  box: Box | null;
}

/** Times the outlines of one task at its planned speed: each from rest to rest, all passes. */
export function planOutlines(artwork: Artwork, machine: Machine, task: Task, outlines: Uint32Array): PlannedOutline {
  const speed = Math.min(task.speedMmPerS ?? 0, machine.motion.speedMmPerS);
  const plan: PlannedOutline = {
    lengthMm: 0,
    timeS: 0,
    reachedMmPerS: 0,
    peakMmPerS: 0,
    slowestMmPerS: 0,
    box: null,
  };
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (const i of outlines) {
    const outline = artwork.outlines[i]!;
    plan.lengthMm += outline.lengthMm;
    box.minX = Math.min(box.minX, outline.box.minX);
    box.minY = Math.min(box.minY, outline.box.minY);
    box.maxX = Math.max(box.maxX, outline.box.maxX);
    box.maxY = Math.max(box.maxY, outline.box.maxY);
    if (speed <= 0) continue;
    const path = planPath(outline.xy, outline.closed, speed, machine.motion);
    plan.timeS += path.timeS * task.passes;
    plan.reachedMmPerS = Math.max(plan.reachedMmPerS, path.reachedMmPerS);
    plan.peakMmPerS = Math.max(plan.peakMmPerS, path.peakMmPerS);
    if (path.reachedMmPerS > 0) {
      plan.slowestMmPerS =
        plan.slowestMmPerS === 0 ? path.reachedMmPerS : Math.min(plan.slowestMmPerS, path.reachedMmPerS);
    }
  }
  if (box.minX <= box.maxX) plan.box = box;
  return plan;
}

/** Time of artwork alone: cutting as planned, travel in a straight line from each outline to the next in drawing order. */
export function timeOfPlan(artwork: Artwork, machine: Machine, cuttingS: number, order: readonly number[]): TimeFact {
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
