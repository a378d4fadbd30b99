import type { LineSpan } from '../model/editing.ts';
import { STROKE_STARTS_PATH, type Strokes } from '../model/strokes.ts';

/** Ends this near to each other are one, mm. */
const SAME_MM = 1e-6;

/** Strokes in a row without anything between them, from `first` to `last`; a path ends where it comes back to its beginning. */
export interface StrokePath {
  first: number;
  last: number;
  closed: boolean;
}

/** The chosen strokes (ascending) as paths. */
export function pathsOf(strokes: Strokes, chosen: ArrayLike<number>): StrokePath[] {
  const paths: StrokePath[] = [];
  let open: StrokePath | null = null;
  for (let k = 0; k < chosen.length; k++) {
    const i = chosen[k]!;
    const goesOn = open !== null && !open.closed && i === open.last + 1 && !startsPath(strokes, i);
    if (open !== null && goesOn) open.last = i;
    else {
      open = { first: i, last: i, closed: false };
      paths.push(open);
    }
    open.closed = meets(strokes, open);
  }
  return paths;
}

function startsPath({ flags }: Strokes, i: number): boolean {
  return (flags[i]! & STROKE_STARTS_PATH) !== 0;
}

function meets({ startX, startY, endX, endY }: Strokes, { first, last }: StrokePath): boolean {
  return Math.abs(startX[first]! - endX[last]!) <= SAME_MM && Math.abs(startY[first]! - endY[last]!) <= SAME_MM;
}

/** The lines of a path. */
export function linesOfPath({ line }: Strokes, { first, last }: Pick<StrokePath, 'first' | 'last'>): LineSpan {
  return { first: line[first]!, last: line[last]! };
}

/** Strokes of a path by number. */
export function strokesOfPath({ first, last }: Pick<StrokePath, 'first' | 'last'>): number[] {
  return Array.from({ length: last - first + 1 }, (_, k) => first + k);
}
