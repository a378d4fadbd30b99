import { sameWay } from '../../geometry/outlines/same-way.ts';
import { type Arc, SegmentBuilder, type Segments } from '../../geometry/segments/segments.ts';
import type { Strokes } from '../../model/strokes.ts';

/** Arcs are compared as chords this close to them, mm. */
const CHORD_MM = 0.01;

/** A stroke that is an arc. */
export function arcOfStroke(strokes: Strokes, i: number): Arc {
  return {
    cx: strokes.centreX[i]!,
    cy: strokes.centreY[i]!,
    startX: strokes.startX[i]!,
    startY: strokes.startY[i]!,
    endX: strokes.endX[i]!,
    endY: strokes.endY[i]!,
    sweepRad: strokes.sweepRad[i]!,
  };
}

/** Strokes as segments; the owner of a segment is its stroke. */
export function segmentsOfStrokes(strokes: Strokes): Segments {
  // Some strokes are arcs and become several; room that stays unused costs nothing.
  const builder = new SegmentBuilder(2 * strokes.count);
  const { startX, startY, endX, endY, sweepRad } = strokes;
  for (let i = 0; i < strokes.count; i++) {
    if (sweepRad[i] === 0) builder.addLine(startX[i]!, startY[i]!, endX[i]!, endY[i]!, i);
    else builder.addArc(arcOfStroke(strokes, i), CHORD_MM, i);
  }
  return builder.finish();
}

/** Length of a stroke in the plane, mm. */
export function flatLengthMm(strokes: Strokes, i: number): number {
  const sweep = strokes.sweepRad[i]!;
  const dx = strokes.endX[i]! - strokes.startX[i]!;
  const dy = strokes.endY[i]! - strokes.startY[i]!;
  // Asked for each of millions: Math.hypot takes ten times as long.
  if (sweep === 0) return Math.sqrt(dx * dx + dy * dy);
  return arcRadiusMm(strokes, i) * Math.abs(sweep);
}

/**
 * Whether two strokes leave the place at which these ends of them meet along the same line.
 * @param end twice the stroke's number, and one more for where it ends; `other` likewise
 */
export function leaveTogether(strokes: Strokes, end: number, other: number): boolean {
  const [i, j] = [end >> 1, other >> 1];
  if (strokes.sweepRad[i] === 0 && strokes.sweepRad[j] === 0)
    return sameWay(
      acrossMm(strokes.startX, strokes.endX, end),
      acrossMm(strokes.startY, strokes.endY, end),
      acrossMm(strokes.startX, strokes.endX, other),
      acrossMm(strokes.startY, strokes.endY, other),
    );
  // Two arcs may come together again at their far ends: they are one line where they are on half the way too.
  const mm = Math.min(flatLengthMm(strokes, i), flatLengthMm(strokes, j));
  const alike = (soFar: number) => sameWay(...comeFrom(strokes, end, soFar), ...comeFrom(strokes, other, soFar));
  return alike(mm / 2) && alike(mm);
}

/** From an end of a stroke to its other one along an axis, mm. */
function acrossMm(start: Float64Array, last: Float64Array, end: number): number {
  const mm = last[end >> 1]! - start[end >> 1]!;
  return end & 1 ? -mm : mm;
}

/** How far one has come from an end of a stroke after so much of it, mm along x and y. */
function comeFrom(strokes: Strokes, end: number, mm: number): [x: number, y: number] {
  const i = end >> 1;
  const sweep = strokes.sweepRad[i]!;
  if (sweep === 0) {
    const share = mm / flatLengthMm(strokes, i);
    return [share * acrossMm(strokes.startX, strokes.endX, end), share * acrossMm(strokes.startY, strokes.endY, end)];
  }
  const x = (end & 1 ? strokes.endX : strokes.startX)[i]! - strokes.centreX[i]!;
  const y = (end & 1 ? strokes.endY : strokes.startY)[i]! - strokes.centreY[i]!;
  const turn = ((end & 1 ? -1 : 1) * Math.sign(sweep) * mm) / arcRadiusMm(strokes, i);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return [x * cos - y * sin - x, x * sin + y * cos - y];
}

/** Length of a stroke in space, mm. */
export function strokeLengthMm(strokes: Strokes, i: number): number {
  const sweep = strokes.sweepRad[i]!;
  const rise = strokes.endZ[i]! - strokes.startZ[i]!;
  if (sweep !== 0) return Math.hypot(arcRadiusMm(strokes, i) * Math.abs(sweep), rise);
  const dx = strokes.endX[i]! - strokes.startX[i]!;
  const dy = strokes.endY[i]! - strokes.startY[i]!;
  return Math.sqrt(dx * dx + dy * dy + rise * rise);
}

function arcRadiusMm(strokes: Strokes, i: number): number {
  return Math.hypot(strokes.startX[i]! - strokes.centreX[i]!, strokes.startY[i]! - strokes.centreY[i]!);
}
