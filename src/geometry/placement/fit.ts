import { nestContours, signedAreaMm2 } from '../outlines/contours.ts';
import type { Polyline } from '../outlines/outline.ts';
import { type Segments, segmentLengthMm, segmentsOf, totalLengthMm } from '../segments/segments.ts';
import { NearLines, newPlaceOnLine, type PlaceOnLine } from './near-lines.ts';
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
  near: NearLines;
  /** Per polyline: on which side of its line the part lies; outer contours keep their inside, holes their outside. */
  keep: Int8Array;
  lengthMm: number;
}

export function prepare(lines: readonly Polyline[]): Drawing {
  const segments = segmentsOf(lines);
  const lengthMm = totalLengthMm(segments);
  const { depth } = nestContours(lines);
  const keep = Int8Array.from(lines, (line, i) => {
    if (!line.closed) return 0;
    const side = signedAreaMm2(line) > 0 ? 1 : -1;
    return depth[i]! % 2 === 0 ? side : -side;
  });
  return { segments, near: new NearLines(segments), keep, lengthMm };
}

/** Takes `most` places at even distances along all lines. */
export function sample(drawing: Drawing, most: number): Samples {
  const { segments, lengthMm, keep } = drawing;
  const x = new Float64Array(most);
  const y = new Float64Array(most);
  const ux = new Float64Array(most);
  const uy = new Float64Array(most);
  const side = new Int8Array(most);
  const step = lengthMm / most;
  let count = 0;
  let next = step / 2;
  let run = 0;
  for (let i = 0; i < segments.count; i++) {
    const length = segmentLengthMm(segments, i);
    const end = run + length;
    if (next <= end) {
      const fromX = segments.x0[i]!;
      const fromY = segments.y0[i]!;
      const dx = (segments.x1[i]! - fromX) / length;
      const dy = (segments.y1[i]! - fromY) / length;
      const kept = keep[segments.owner[i]!]!;
      for (; next <= end && count < most; next += step) {
        x[count] = fromX + dx * (next - run);
        y[count] = fromY + dy * (next - run);
        ux[count] = dx;
        uy[count] = dy;
        side[count++] = kept;
      }
    }
    run = end;
  }
  return { count, x, y, ux, uy, keep: side };
}

/** Share of A's samples that come to lie within reach of B; 0 as soon as it must be less than `least`. */
export function shareThere(samples: Samples, b: Drawing, place: Similarity, reachMm: number, least: number): number {
  const turn = orientationOf(place);
  const at = newPlaceOnLine();
  let near = 0;
  for (let i = 0; i < samples.count; i++) {
    putPlaced(samples, i, place, turn, at);
    if (b.near.isNear(at, reachMm)) near++;
    else if (near + samples.count - i - 1 < least * samples.count) return 0;
  }
  return near / samples.count;
}

/** Share of B's samples that lie within reach (mm of B) of A; 0 as soon as it must be less than `least`. */
export function shareBack(samples: Samples, a: Drawing, place: Similarity, reachMm: number, least: number): number {
  const turn = orientationOf(place);
  const back = reachMm / place.scale;
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
    if (a.near.isNear(at, back)) near++;
    else if (near + samples.count - i - 1 < least * samples.count) return 0;
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

/** A move of less than this, mm, and a growth of less than this share, is what rounding makes of none. */
const AT_REST = 1e-12;

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
  const at = newPlaceOnLine();
  for (let round = 0, reach = firstReach; round < 6; round++, reach = Math.max(lastReach, reach / 2)) {
    // Unknowns: growth of the scale about the drawing's middle, and the move.
    const [mx, my] = middle(samples, place, turn);
    const m = new Float64Array(12);
    let farthestMm = 0;
    for (let i = 0; i < samples.count; i++) {
      putPlaced(samples, i, place, turn, at);
      const hit = b.near.nearest(at, reach);
      if (hit.distanceMm > reach) continue;
      if (hit.distanceMm > farthestMm) farthestMm = hit.distanceMm;
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
    place.scale *= 1 + growth;
    place.dx = (place.dx - mx) * (1 + growth) + mx + dx;
    place.dy = (place.dy - my) * (1 + growth) + my + dy;
    // Where nothing moves and all lies within the last reach, every further round would find the same again.
    const moves = Math.abs(growth) > AT_REST || Math.abs(dx) > AT_REST || Math.abs(dy) > AT_REST;
    if (!moves && farthestMm <= lastReach) break;
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
