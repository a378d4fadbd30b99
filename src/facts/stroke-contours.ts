import type { Strokes } from '../gcode/toolpath.ts';
import { joinChains } from '../geometry/chains.ts';
import type { Polyline } from '../geometry/outline.ts';
import { flattenArc } from '../geometry/segments.ts';

/** Strokes joined end to end. */
export interface StrokeContour extends Polyline {
  /** Strokes of the contour, in chain order. */
  strokes: Uint32Array;
  /** Distance between the two ends, mm. */
  gapMm: number;
}

/** Ends this near to each other are one point, mm: above rounding in programs, below any kerf. */
const SAME_POINT_MM = 0.05;
const CHORD_MM = 0.02;

/** Joins the chosen strokes into contours; a stroke that closes on itself (a full circle) is one of its own. */
export function contoursOfStrokes(strokes: Strokes, chosen: Uint32Array): StrokeContour[] {
  const n = chosen.length;
  const ends = {
    count: n,
    x0: new Float64Array(n),
    y0: new Float64Array(n),
    x1: new Float64Array(n),
    y1: new Float64Array(n),
  };
  const lengthMm = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const i = chosen[k]!;
    ends.x0[k] = strokes.startX[i]!;
    ends.y0[k] = strokes.startY[i]!;
    ends.x1[k] = strokes.endX[i]!;
    ends.y1[k] = strokes.endY[i]!;
    lengthMm[k] = flatLengthMm(strokes, i);
  }
  const chains = joinChains(ends, SAME_POINT_MM, lengthMm);
  const contours: StrokeContour[] = [];
  for (let c = 0; c < chains.count; c++) {
    const members = new Uint32Array(chains.start[c + 1]! - chains.start[c]!);
    const xy: number[] = [];
    for (let k = chains.start[c]!; k < chains.start[c + 1]!; k++) {
      const i = chosen[chains.item[k]!]!;
      members[k - chains.start[c]!] = i;
      append(xy, strokes, i, chains.reversed[k] === 1);
    }
    contours.push({
      xy: Float64Array.from(xy),
      closed: chains.closed[c] === 1,
      strokes: members,
      gapMm: chains.closed[c] === 1 ? 0 : chains.gapMm[c]!,
    });
  }
  return contours;
}

function append(xy: number[], strokes: Strokes, i: number, reversed: boolean): void {
  const points: number[] = [strokes.startX[i]!, strokes.startY[i]!];
  if (strokes.sweepRad[i] === 0) points.push(strokes.endX[i]!, strokes.endY[i]!);
  else {
    flattenArc(
      strokes.centreX[i]!,
      strokes.centreY[i]!,
      strokes.startX[i]!,
      strokes.startY[i]!,
      strokes.endX[i]!,
      strokes.endY[i]!,
      strokes.sweepRad[i]!,
      CHORD_MM,
      (_x0, _y0, x1, y1) => {
        points.push(x1, y1);
      },
    );
  }
  const from = xy.length === 0 ? 0 : 2;
  if (reversed) {
    for (let k = points.length - 2 - from; k >= 0; k -= 2) xy.push(points[k]!, points[k + 1]!);
  } else for (let k = from; k < points.length; k += 2) xy.push(points[k]!, points[k + 1]!);
}

/** Length of a stroke in the plane, mm. */
export function flatLengthMm(strokes: Strokes, i: number): number {
  const sweep = strokes.sweepRad[i]!;
  if (sweep === 0) return Math.hypot(strokes.endX[i]! - strokes.startX[i]!, strokes.endY[i]! - strokes.startY[i]!);
  const radius = Math.hypot(strokes.startX[i]! - strokes.centreX[i]!, strokes.startY[i]! - strokes.centreY[i]!);
  return radius * Math.abs(sweep);
}
