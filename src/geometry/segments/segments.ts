import type { Box, Polyline } from '../outlines/outline.ts';
import { grown } from './grow-array.ts';

/** Straight segments as parallel arrays, mm. `owner` says which stroke or outline each one came from. */
export interface Segments {
  count: number;
  x0: Float64Array;
  y0: Float64Array;
  x1: Float64Array;
  y1: Float64Array;
  owner: Uint32Array;
  /** Inputs left out because a coordinate was not a number, infinite or beyond `FARTHEST_MM`. */
  ignored: number;
}

/** Coordinates beyond a kilometre are no laser job; leaving them out keeps every index bounded. */
export const FARTHEST_MM = 1e6;

/** Anything shorter has no direction that arithmetic could keep. */
const SHORTEST_MM = 1e-9;

/** Most chords one arc becomes; an arc of many turns or of a vast radius is then coarser than asked. */
const MOST_CHORDS = 100_000;

/** Whether a coordinate is a number of millimetres that a drawing can have. */
export const usable = (v: number): boolean => v >= -FARTHEST_MM && v <= FARTHEST_MM;

/** Whether two ends are so near to each other that there is no segment between them. */
const isPoint = (x0: number, y0: number, x1: number, y1: number): boolean =>
  Math.abs(x1 - x0) < SHORTEST_MM && Math.abs(y1 - y0) < SHORTEST_MM;

/** An arc in the plane, mm. */
export interface Arc {
  readonly cx: number;
  readonly cy: number;
  readonly startX: number;
  readonly startY: number;
  readonly endX: number;
  readonly endY: number;
  /** Anticlockwise positive; may exceed a turn. */
  readonly sweepRad: number;
}

/**
 * Replaces an arc by chords that stay within `toleranceMm` of it, with their ends on the arc. A start and an end radius
 * that differ (controllers accept a small difference) are blended along the sweep. Returns the number of chords; 0 when the
 * input is not finite.
 */
export function flattenArc(
  { cx, cy, startX, startY, endX, endY, sweepRad }: Arc,
  toleranceMm: number,
  emit: (x0: number, y0: number, x1: number, y1: number) => void,
): number {
  const startRadius = Math.hypot(startX - cx, startY - cy);
  const endRadius = Math.hypot(endX - cx, endY - cy);
  if (!Number.isFinite(startRadius + endRadius + sweepRad)) return 0;
  const chords = chordsFor(Math.max(startRadius, endRadius), sweepRad, toleranceMm);
  const startAngle = Math.atan2(startY - cy, startX - cx);
  let x = startX;
  let y = startY;
  for (let k = 1; k < chords; k++) {
    const share = k / chords;
    const radius = startRadius + (endRadius - startRadius) * share;
    const angle = startAngle + sweepRad * share;
    const nextX = cx + radius * Math.cos(angle);
    const nextY = cy + radius * Math.sin(angle);
    emit(x, y, nextX, nextY);
    x = nextX;
    y = nextY;
  }
  emit(x, y, endX, endY);
  return chords;
}

/** Chords needed so that the sagitta r (1 − cos(step / 2)) stays within the tolerance; a full turn has at least 8. */
function chordsFor(radiusMm: number, sweepRad: number, toleranceMm: number): number {
  const share = Math.min(1, Math.max(toleranceMm, 1e-6) / Math.max(radiusMm, 1e-9));
  const step = Math.min(Math.PI / 4, 2 * Math.acos(1 - share));
  return Math.max(1, Math.min(MOST_CHORDS, Math.ceil(Math.abs(sweepRad) / step - 1e-9)));
}

/** Gathers segments from lines, arcs and polylines. Segments of no length to speak of are dropped. */
export class SegmentBuilder {
  #x0: Float64Array;
  #y0: Float64Array;
  #x1: Float64Array;
  #y1: Float64Array;
  #owner: Uint32Array;
  #count = 0;
  #ignored = 0;

  /** `expected` segments are about what will be added. */
  constructor(expected = 64) {
    this.#x0 = new Float64Array(expected);
    this.#y0 = new Float64Array(expected);
    this.#x1 = new Float64Array(expected);
    this.#y1 = new Float64Array(expected);
    this.#owner = new Uint32Array(expected);
  }

  addLine(x0: number, y0: number, x1: number, y1: number, owner: number): void {
    if (!(usable(x0) && usable(y0) && usable(x1) && usable(y1))) {
      this.#ignored++;
      return;
    }
    if (isPoint(x0, y0, x1, y1)) return;
    if (this.#count === this.#owner.length) this.#grow();
    const at = this.#count++;
    this.#x0[at] = x0;
    this.#y0[at] = y0;
    this.#x1[at] = x1;
    this.#y1[at] = y1;
    this.#owner[at] = owner;
  }

  /** An arc as chords: see `flattenArc`. */
  addArc(arc: Arc, toleranceMm: number, owner: number): void {
    const chords = flattenArc(arc, toleranceMm, (x0, y0, x1, y1) => this.addLine(x0, y0, x1, y1, owner));
    if (chords === 0) this.#ignored++;
  }

  /** The segments of a polyline, and the closing one when it is closed and its ends differ. */
  addPolyline(line: Polyline, owner: number): void {
    const { xy } = line;
    const points = xy.length >> 1;
    for (let i = 1; i < points; i++) {
      this.addLine(xy[2 * i - 2]!, xy[2 * i - 1]!, xy[2 * i]!, xy[2 * i + 1]!, owner);
    }
    if (line.closed && points > 2) this.addLine(xy[2 * points - 2]!, xy[2 * points - 1]!, xy[0]!, xy[1]!, owner);
  }

  /** Views on the used part; nothing is copied. */
  finish(): Segments {
    const n = this.#count;
    return {
      count: n,
      x0: this.#x0.subarray(0, n),
      y0: this.#y0.subarray(0, n),
      x1: this.#x1.subarray(0, n),
      y1: this.#y1.subarray(0, n),
      owner: this.#owner.subarray(0, n),
      ignored: this.#ignored,
    };
  }

  #grow(): void {
    const capacity = this.#owner.length * 4 + 64;
    this.#x0 = grown(this.#x0, capacity);
    this.#y0 = grown(this.#y0, capacity);
    this.#x1 = grown(this.#x1, capacity);
    this.#y1 = grown(this.#y1, capacity);
    this.#owner = grown(this.#owner, capacity);
  }
}

/** Segments of many polylines; the owner is the polyline's index. */
export function segmentsOf(lines: readonly Polyline[]): Segments {
  let points = 0;
  for (const { xy } of lines) points += xy.length >> 1;
  const builder = new SegmentBuilder(points);
  for (const [owner, line] of lines.entries()) builder.addPolyline(line, owner);
  return builder.finish();
}

/** The number of each line's first segment in `segmentsOf(lines)`. */
export function firstSegments(lines: readonly Polyline[]): Uint32Array {
  const first = new Uint32Array(lines.length + 1);
  for (const [i, line] of lines.entries()) first[i + 1] = first[i]! + segmentCount(line);
  return first;
}

/** How many segments `SegmentBuilder.addPolyline` makes of a line. */
function segmentCount({ xy, closed }: Polyline): number {
  const points = xy.length >> 1;
  let count = 0;
  for (let to = closed && points > 2 ? 0 : 1; to < points; to++) {
    const from = to === 0 ? points - 1 : to - 1;
    const x0 = xy[2 * from]!;
    const y0 = xy[2 * from + 1]!;
    const x1 = xy[2 * to]!;
    const y1 = xy[2 * to + 1]!;
    if (usable(x0) && usable(y0) && usable(x1) && usable(y1) && !isPoint(x0, y0, x1, y1)) count++;
  }
  return count;
}

export function segmentLengthMm(segments: Segments, i: number): number {
  const dx = segments.x1[i]! - segments.x0[i]!;
  const dy = segments.y1[i]! - segments.y0[i]!;
  return Math.sqrt(dx * dx + dy * dy);
}

export function totalLengthMm(segments: Segments): number {
  let sum = 0;
  for (let i = 0; i < segments.count; i++) sum += segmentLengthMm(segments, i);
  return sum;
}

/** The box around all segments; null when there are none. */
export function boxOfSegments(segments: Segments): Box | null {
  if (segments.count === 0) return null;
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  const { count, x0, y0, x1, y1 } = segments;
  for (let i = 0; i < count; i++) {
    const lowX = Math.min(x0[i]!, x1[i]!);
    const lowY = Math.min(y0[i]!, y1[i]!);
    const highX = Math.max(x0[i]!, x1[i]!);
    const highY = Math.max(y0[i]!, y1[i]!);
    if (lowX < minX) minX = lowX;
    if (lowY < minY) minY = lowY;
    if (highX > maxX) maxX = highX;
    if (highY > maxY) maxY = highY;
  }
  return { minX, minY, maxX, maxY };
}

/** Distance of a place from a segment, mm. */
export function distanceToSegment(x: number, y: number, x0: number, y0: number, x1: number, y1: number): number {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const squared = dx * dx + dy * dy;
  const share = squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / squared));
  return Math.hypot(x - x0 - share * dx, y - y0 - share * dy);
}
