import type { Polyline } from '../outlines/outline.ts';
import type { Segments } from './segments.ts';

/** The segment before and after each one along its outline; −1 at open ends. */
export interface Neighbours {
  before: Int32Array;
  after: Int32Array;
}

/** Links the segments of `segmentsOf(lines)` along their outlines. */
export function neighbours(segments: Segments, lines: readonly Polyline[]): Neighbours {
  const n = segments.count;
  const before = new Int32Array(n).fill(-1);
  const after = new Int32Array(n).fill(-1);
  let first = 0;
  for (let i = 0; i < n; i++) {
    const last = i + 1 === n || segments.owner[i + 1] !== segments.owner[i];
    if (!last) {
      after[i] = i + 1;
      before[i + 1] = i;
      continue;
    }
    const home = segments.x1[i] === segments.x0[first] && segments.y1[i] === segments.y0[first];
    if (i > first && (lines[segments.owner[i]!]!.closed || home)) {
      after[i] = first;
      before[first] = i;
    }
    first = i + 1;
  }
  return { before, after };
}
