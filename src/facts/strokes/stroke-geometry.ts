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
