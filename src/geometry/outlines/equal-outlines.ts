import { PointGrid } from '../index/point-grid.ts';
import { firstSegments } from '../segments/segments.ts';
import type { Polyline } from './outline.ts';

/** Points this near to each other are one, mm: what transforms lose to rounding is less, what anybody draws is more. */
const SAME_MM = 1e-6;

/** Outlines that are drawn again, point for point. */
export interface EqualOutlines {
  /** The number of the first of each kind, ascending. */
  readonly firsts: readonly number[];
  /** For each outline the number of its kind, which is a place in `firsts`. */
  readonly kindOf: Uint32Array;
  /** The outlines of each kind, ascending. */
  readonly members: readonly (readonly number[])[];
}

/**
 * Recognises outlines with the same points in the same order, so that searches need to look at one of each kind. Each is compared
 * with those before it that have the same number of points and the same mean of points, weighted unevenly: hardly ever another.
 */
export function equalOutlines(lines: readonly Polyline[]): EqualOutlines {
  const grid = new PointGrid(SAME_MM, lines.length);
  const firsts: number[] = [];
  const members: number[][] = [];
  const kindOf = new Uint32Array(lines.length);
  for (const [i, line] of lines.entries()) {
    const [x, y] = weightedMean(line.xy);
    const known = grid.near(x, y, 2 * SAME_MM, (kind) => isSame(lines[firsts[kind]!]!, line));
    if (known >= 0) {
      kindOf[i] = known;
      members[known]!.push(i);
      continue;
    }
    kindOf[i] = firsts.push(i) - 1;
    members.push([i]);
    grid.add(x, y);
  }
  return { firsts, kindOf, members };
}

/**
 * By how much the number of a segment among those of all lines is greater than that of the like of it among those of one line of each
 * kind; a number for each line.
 */
export function segmentMoves(lines: readonly Polyline[], { firsts, kindOf }: EqualOutlines): Uint32Array {
  if (firsts.length === lines.length) return new Uint32Array(lines.length);
  const start = firstSegments(lines);
  const kindStart = firstSegments(firsts.map((i) => lines[i]!));
  return Uint32Array.from(kindOf, (kind, i) => start[i]! - kindStart[kind]!);
}

/** A place that no point moves more than the mean of all moves, and that tells apart what merely has the same middle. */
function weightedMean(xy: Float64Array): [number, number] {
  let x = 0;
  let y = 0;
  let sum = 0;
  let weight = 0.5;
  for (let i = 0; i + 1 < xy.length; i += 2) {
    // Steps of the golden section fall nowhere twice.
    weight = (weight + 0.6180339887498949) % 1;
    x += weight * xy[i]!;
    y += weight * xy[i + 1]!;
    sum += weight;
  }
  return sum > 0 && Number.isFinite(x + y) ? [x / sum, y / sum] : [0, 0];
}

function isSame(a: Polyline, b: Polyline): boolean {
  if (a.closed !== b.closed || a.xy.length !== b.xy.length) return false;
  for (let i = 0; i < a.xy.length; i++) if (!(Math.abs(a.xy[i]! - b.xy[i]!) <= SAME_MM)) return false;
  return true;
}
