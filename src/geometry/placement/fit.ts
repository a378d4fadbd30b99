import { SegmentIndex } from '../index/segment-index.ts';
import { nestContours, signedAreaMm2 } from '../outlines/contours.ts';
import type { Polyline } from '../outlines/outline.ts';
import { type Segments, segmentLengthMm, segmentsOf, totalLengthMm } from '../segments/segments.ts';
import { orientationOf, type Similarity } from './transform.ts';

/** Places along a drawing, spaced evenly, with the direction of the line there. */
export interface Samples {
  count: number;
  x: Float64Array;
  y: Float64Array;
  /** Unit direction. */
  ux: Float64Array;
  uy: Float64Array;
  /** +1 where the material that stays lies to the left, −1 to the right, 0 on open lines. */
  keep: Int8Array;
}

/** A drawing made ready to be compared. */
export interface Drawing {
  segments: Segments;
  index: SegmentIndex;
  /** Per polyline: on which side of its line the part lies; outer contours keep their inside, holes their outside. */
  keep: Int8Array;
  lengthMm: number;
}

export function prepare(lines: readonly Polyline[]): Drawing {
  const segments = segmentsOf(lines);
  const lengthMm = totalLengthMm(segments);
  const index = new SegmentIndex(segments, 1);
  const { depth } = nestContours(lines);
  const keep = Int8Array.from(lines, (line, i) => {
    if (!line.closed) return 0;
    const side = signedAreaMm2(line) > 0 ? 1 : -1;
    return depth[i]! % 2 === 0 ? side : -side;
  });
  return { segments, index, keep, lengthMm };
}

/** Takes `most` places at even distances along all lines. */
export function sample(drawing: Drawing, most: number): Samples {
  const { segments, lengthMm, keep } = drawing;
  const x: number[] = [];
  const y: number[] = [];
  const ux: number[] = [];
  const uy: number[] = [];
  const side: number[] = [];
  const step = lengthMm / most;
  let next = step / 2;
  let run = 0;
  for (let i = 0; i < segments.count; i++) {
    const length = segmentLengthMm(segments, i);
    const dx = (segments.x1[i]! - segments.x0[i]!) / length;
    const dy = (segments.y1[i]! - segments.y0[i]!) / length;
    for (; next <= run + length && x.length < most; next += step) {
      x.push(segments.x0[i]! + dx * (next - run));
      y.push(segments.y0[i]! + dy * (next - run));
      ux.push(dx);
      uy.push(dy);
      side.push(keep[segments.owner[i]!]!);
    }
    run += length;
  }
  return {
    count: x.length,
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    ux: Float64Array.from(ux),
    uy: Float64Array.from(uy),
    keep: Int8Array.from(side),
  };
}

/** Lines whose directions differ by more than 25° are not the same line, whatever the flattening. */
const SAME_DIRECTION = Math.sin(25 * (Math.PI / 180));

/** What `nearestLine` found. */
export interface Hit {
  /** Distance, mm; infinite when nothing is near. */
  distanceMm: number;
  /** From the place asked for to the line. */
  dx: number;
  dy: number;
  /** Unit normal of the line. */
  nx: number;
  ny: number;
}

/** A place on a line, mm, with the unit direction of the line there. One is filled anew for each of many thousand places. */
export interface PlaceOnLine {
  x: number;
  y: number;
  ux: number;
  uy: number;
}

export const newPlaceOnLine = (): PlaceOnLine => ({ x: 0, y: 0, ux: 0, uy: 0 });

/** The nearest line to a place that runs in about the same direction, within reach. `hit` is filled and reused. */
export function nearestLine(drawing: Drawing, at: PlaceOnLine, reach: number, hit: Hit): void {
  const { x, y, ux, uy } = at;
  const { x0, y0, x1, y1 } = drawing.segments;
  hit.distanceMm = Infinity;
  let best = reach * reach;
  const found = drawing.index.search(x, y, x, y, reach);
  for (let k = 0; k < drawing.index.foundCount; k++) {
    const e = found[k]!;
    const ex = x1[e]! - x0[e]!;
    const ey = y1[e]! - y0[e]!;
    const squared = ex * ex + ey * ey;
    const cross = ux * ey - uy * ex;
    if (cross * cross > SAME_DIRECTION * SAME_DIRECTION * squared) continue;
    const along = ((x - x0[e]!) * ex + (y - y0[e]!) * ey) / squared;
    const share = Math.min(1, Math.max(0, along));
    const dx = x0[e]! + share * ex - x;
    const dy = y0[e]! + share * ey - y;
    const far = dx * dx + dy * dy;
    if (far > best) continue;
    best = far;
    const length = Math.sqrt(squared);
    hit.distanceMm = Math.sqrt(far);
    hit.dx = dx;
    hit.dy = dy;
    hit.nx = -ey / length;
    hit.ny = ex / length;
  }
}

export const newHit = (): Hit => ({ distanceMm: Infinity, dx: 0, dy: 0, nx: 0, ny: 0 });

/** Share of A's samples that come to lie within reach of B; 0 as soon as it must be less than `least`. */
export function roughShare(samples: Samples, b: Drawing, place: Similarity, reach: number, least: number): number {
  const turn = orientationOf(place);
  const hit = newHit();
  const at = newPlaceOnLine();
  let near = 0;
  for (let i = 0; i < samples.count; i++) {
    putPlaced(samples, i, place, turn, at);
    nearestLine(b, at, reach, hit);
    if (hit.distanceMm <= reach) near++;
    else if (near + samples.count - i - 1 < least * samples.count) return 0;
  }
  return near / samples.count;
}

/** Share of B's samples that lie within reach (mm of B) of A. */
export function shareBack(samples: Samples, a: Drawing, place: Similarity, reach: number): number {
  const turn = orientationOf(place);
  const back = reach / place.scale;
  const hit = newHit();
  const at = newPlaceOnLine();
  let near = 0;
  for (let i = 0; i < samples.count; i++) {
    const x = (samples.x[i]! - place.dx) / place.scale;
    const y = (samples.y[i]! - place.dy) / place.scale;
    const ux = samples.ux[i]!;
    const uy = samples.uy[i]!;
    // The inverse of an orientation is its transpose.
    at.x = turn.a * x + turn.b * y;
    at.y = turn.c * x + turn.d * y;
    at.ux = turn.a * ux + turn.b * uy;
    at.uy = turn.c * ux + turn.d * uy;
    nearestLine(a, at, back, hit);
    if (hit.distanceMm <= back) near++;
  }
  return samples.count === 0 ? 0 : near / samples.count;
}

/** Where sample i comes to lie: fills `at`. */
export function putPlaced(
  samples: Samples,
  i: number,
  place: Similarity,
  turn: ReturnType<typeof orientationOf>,
  at: PlaceOnLine,
): void {
  const x = samples.x[i]!;
  const y = samples.y[i]!;
  const ux = samples.ux[i]!;
  const uy = samples.uy[i]!;
  at.x = place.scale * (turn.a * x + turn.c * y) + place.dx;
  at.y = place.scale * (turn.b * x + turn.d * y) + place.dy;
  at.ux = turn.a * ux + turn.c * uy;
  at.uy = turn.b * ux + turn.d * uy;
}

/**
 * Moves (and, where `freeScale`, scales) A so that the distances to B's lines, measured across them, become least: a
 * few rounds of least squares with a shrinking reach.
 */
export function refine(
  samples: Samples,
  b: Drawing,
  start: Similarity,
  { freeScale, firstReach, lastReach }: { freeScale: boolean; firstReach: number; lastReach: number },
): Similarity {
  const place = { ...start };
  const turn = orientationOf(place);
  const hit = newHit();
  const at = newPlaceOnLine();
  for (let round = 0, reach = firstReach; round < 6; round++, reach = Math.max(lastReach, reach / 2)) {
    // Unknowns: growth of the scale about the drawing's middle, and the move.
    const [mx, my] = middle(samples, place, turn);
    const m = new Float64Array(12);
    for (let i = 0; i < samples.count; i++) {
      putPlaced(samples, i, place, turn, at);
      nearestLine(b, at, reach, hit);
      if (hit.distanceMm > reach) continue;
      const { nx, ny } = hit;
      const growth = freeScale ? nx * (at.x - mx) + ny * (at.y - my) : 0;
      const off = nx * hit.dx + ny * hit.dy;
      addRow(m, 0, growth, growth, nx, ny, off);
      addRow(m, 4, nx, growth, nx, ny, off);
      addRow(m, 8, ny, growth, nx, ny, off);
    }
    const solved = solve3(m);
    if (!solved || Math.abs(solved[0]) > 0.2) break;
    const [growth, dx, dy] = solved;
    const before = { ...place };
    place.scale *= 1 + growth;
    place.dx = (place.dx - mx) * (1 + growth) + mx + dx;
    place.dy = (place.dy - my) * (1 + growth) + my + dy;
    // With the same reach the next round would find the same again.
    const atRest = place.scale === before.scale && place.dx === before.dx && place.dy === before.dy;
    if (atRest && reach === lastReach) break;
  }
  return place;
}

/** Adds one place's share to a row of the equations, which begins at `from`: written out, since it is done for many thousand places. */
function addRow(
  m: Float64Array,
  from: number,
  times: number,
  growth: number,
  nx: number,
  ny: number,
  off: number,
): void {
  m[from]! += times * growth;
  m[from + 1]! += times * nx;
  m[from + 2]! += times * ny;
  m[from + 3]! += times * off;
}

function middle(samples: Samples, place: Similarity, turn: ReturnType<typeof orientationOf>): [number, number] {
  let mx = 0;
  let my = 0;
  const at = newPlaceOnLine();
  for (let i = 0; i < samples.count; i++) {
    putPlaced(samples, i, place, turn, at);
    mx += at.x;
    my += at.y;
  }
  return [mx / samples.count, my / samples.count];
}

/** Solves three equations held as rows of four; directions that nothing pins down stay as they are. */
function solve3(m: Float64Array): [number, number, number] | null {
  const weight = m[5]! + m[10]!;
  if (!(weight > 0)) return null;
  // A little stiffness keeps a drawing of parallel lines from sliding along them.
  for (let r = 0; r < 3; r++) m[5 * r]! += 1e-6 * weight + 1e-9;
  for (let p = 0; p < 3; p++) {
    for (let r = p + 1; r < 3; r++) {
      const factor = m[4 * r + p]! / m[5 * p]!;
      for (let c = p; c < 4; c++) m[4 * r + c]! -= factor * m[4 * p + c]!;
    }
  }
  const z = m[11]! / m[10]!;
  const y = (m[7]! - m[6]! * z) / m[5]!;
  const x = (m[3]! - m[2]! * z - m[1]! * y) / m[0]!;
  return Number.isFinite(x + y + z) ? [x, y, z] : null;
}
