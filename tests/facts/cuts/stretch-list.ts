import type { StretchList } from '../../../src/facts/cuts/passes.ts';
import { Stretch } from '../../../src/geometry/overlap/stretches.ts';

/** A stretch as a test states it: from one place to another, with the strokes that run along it. */
export interface Stated {
  from: readonly [number, number];
  to: readonly [number, number];
  owners: readonly number[];
}

/** Stretches as they are stated, in that order, handed out one after the other in the same object as the search does. */
export function stretchList(stated: readonly Stated[], endedEarly: string | null = null): StretchList {
  return {
    endedEarly,
    each(visit) {
      const stretch = new Stretch();
      for (const { from, to, owners } of stated) {
        [stretch.x0, stretch.y0] = from;
        [stretch.x1, stretch.y1] = to;
        stretch.lengthMm = Math.hypot(to[0] - from[0], to[1] - from[1]);
        stretch.owner = owners[0]!;
        stretch.passes = owners.length;
        stretch.listed = owners.length;
        stretch.owners.set(owners);
        visit(stretch);
      }
    },
  };
}
