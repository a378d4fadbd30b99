import { PathTimer } from '../../geometry/motion/planner.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import type { Machine, Task } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';

/** How one task's outlines will run at the planned speed. */
export interface PlannedOutlines {
  readonly lengthMm: number;
  /** All passes. */
  readonly timeS: number;
  /** Fastest mean speed among the outlines, and fastest speed anywhere, mm/s. */
  readonly reachedMmPerS: number;
  readonly peakMmPerS: number;
  readonly slowestMmPerS: number;
  readonly box: Box | null;
}

/** Times the outlines of one task at its planned speed: each from rest to rest, all passes. */
export function planOutlines(
  artwork: Artwork,
  machine: Machine,
  task: Pick<Task, 'speedMmPerS' | 'passes'>,
  outlines: Uint32Array,
): PlannedOutlines {
  const speed = Math.min(task.speedMmPerS ?? 0, machine.motion.speedMmPerS);
  const plan = {
    lengthMm: 0,
    timeS: 0,
    reachedMmPerS: 0,
    peakMmPerS: 0,
    slowestMmPerS: 0,
  };
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  const timer = new PathTimer(machine.motion);
  for (const i of outlines) {
    const outline = artwork.outlines[i]!;
    plan.lengthMm += outline.lengthMm;
    box.minX = Math.min(box.minX, outline.box.minX);
    box.minY = Math.min(box.minY, outline.box.minY);
    box.maxX = Math.max(box.maxX, outline.box.maxX);
    box.maxY = Math.max(box.maxY, outline.box.maxY);
    if (speed <= 0) continue;
    const path = timer.plan(outline.xy, outline.closed, speed);
    plan.timeS += path.timeS * (task.passes ?? 1);
    plan.reachedMmPerS = Math.max(plan.reachedMmPerS, path.reachedMmPerS);
    plan.peakMmPerS = Math.max(plan.peakMmPerS, path.peakMmPerS);
    if (path.reachedMmPerS > 0) {
      plan.slowestMmPerS =
        plan.slowestMmPerS === 0 ? path.reachedMmPerS : Math.min(plan.slowestMmPerS, path.reachedMmPerS);
    }
  }
  return { ...plan, box: box.minX <= box.maxX ? box : null };
}
