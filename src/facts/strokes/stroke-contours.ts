import { type Ends, joinChains } from '../../geometry/outlines/chains.ts';
import type { Polyline } from '../../geometry/outlines/outline.ts';
import { grown } from '../../geometry/segments/grow-array.ts';
import { flattenArc } from '../../geometry/segments/segments.ts';
import type { Strokes } from '../../model/strokes.ts';
import { arcOfStroke, flatLengthMm, leaveTogether } from './stroke-geometry.ts';

/** Strokes joined end to end. */
export interface StrokeContour extends Polyline {
  /** Strokes of the contour, in chain order. */
  readonly strokes: Uint32Array;
  /** Distance between the two ends, mm. */
  readonly gapMm: number;
}

/** Ends this near to each other are one point, mm: above rounding in programs, below any kerf. */
const SAME_POINT_MM = 0.05;
/** Arcs become chords this close to them, mm. */
const CHORD_MM = 0.02;

/**
 * Joins the strokes of these numbers into contours; a stroke that closes on itself (a full circle) is one of its own. What is run along again, pass
 * after pass, is a contour each time: an open line does not become a closed one that leads back on itself. Strokes along Z alone are in none.
 */
export function contoursOfStrokes(strokes: Strokes, numbers: Uint32Array): StrokeContour[] {
  const chosen = thoseThatGo(strokes, numbers);
  const endOf = (end: number) => 2 * chosen[end >> 1]! + (end & 1);
  const chains = joinChains(endsOf(strokes, chosen), SAME_POINT_MM, {
    lengthOf: (k) => flatLengthMm(strokes, chosen[k]!),
    leaveTogether: (end, other) => leaveTogether(strokes, endOf(end), endOf(other)),
  });
  const members = chosen.length === strokes.count ? chains.item : chains.item.map((k) => chosen[k]!);
  const trace = new Trace(chosen.length + chains.count);
  const pointStart = new Uint32Array(chains.count + 1);
  for (let c = 0; c < chains.count; c++) {
    const last = chains.start[c + 1]!;
    for (let k = chains.start[c]!; k < last; k++)
      trace.add(strokes, members[k]!, chains.reversed[k] === 1, k === chains.start[c]!);
    pointStart[c + 1] = trace.points;
  }
  // All contours lie in one array each; they are parts of it.
  return Array.from(chains.closed, (closed, c) => ({
    xy: trace.xy.subarray(2 * pointStart[c]!, 2 * pointStart[c + 1]!),
    closed: closed === 1,
    strokes: members.subarray(chains.start[c]!, chains.start[c + 1]!),
    gapMm: closed === 1 ? 0 : chains.gapMm[c]!,
  }));
}

/** Strokes but those that stay where they are in the plane, as a focus that is stepped between passes does. */
function thoseThatGo({ startX, startY, endX, endY, sweepRad }: Strokes, numbers: Uint32Array): Uint32Array {
  const goes = (i: number) => startX[i] !== endX[i] || startY[i] !== endY[i] || sweepRad[i] !== 0;
  return numbers.every(goes) ? numbers : numbers.filter(goes);
}

/** The ends of the chosen strokes; nothing is copied where all are chosen. */
function endsOf(strokes: Strokes, chosen: Uint32Array): Ends {
  const { startX, startY, endX, endY } = strokes;
  const pick = (of: Float64Array) => (chosen.length === strokes.count ? of : Float64Array.from(chosen, (i) => of[i]!));
  return { count: chosen.length, x0: pick(startX), y0: pick(startY), x1: pick(endX), y1: pick(endY) };
}

/** The points of strokes run through one after the other. */
class Trace {
  xy: Float64Array;
  points = 0;

  constructor(expectedPoints: number) {
    this.xy = new Float64Array(2 * expectedPoints);
  }

  /** Appends a stroke; its first point only when nothing leads there. */
  add(strokes: Strokes, i: number, reversed: boolean, begins: boolean): void {
    const x0 = strokes.startX[i]!;
    const y0 = strokes.startY[i]!;
    const x1 = strokes.endX[i]!;
    const y1 = strokes.endY[i]!;
    if (begins) this.#put(reversed ? x1 : x0, reversed ? y1 : y0);
    if (strokes.sweepRad[i] === 0) {
      this.#put(reversed ? x0 : x1, reversed ? y0 : y1);
      return;
    }
    const first = this.points;
    flattenArc(arcOfStroke(strokes, i), CHORD_MM, (ax, ay, bx, by) =>
      reversed ? this.#put(ax, ay) : this.#put(bx, by),
    );
    if (reversed) this.#turnRound(first);
  }

  #put(x: number, y: number): void {
    if (2 * this.points === this.xy.length) this.xy = grown(this.xy, 4 * this.points + 64);
    this.xy[2 * this.points] = x;
    this.xy[2 * this.points + 1] = y;
    this.points++;
  }

  /** Puts the points from number `first` on into the reverse order. */
  #turnRound(first: number): void {
    for (let a = first, b = this.points - 1; a < b; a++, b--) {
      for (let axis = 0; axis < 2; axis++) {
        const kept = this.xy[2 * a + axis]!;
        this.xy[2 * a + axis] = this.xy[2 * b + axis]!;
        this.xy[2 * b + axis] = kept;
      }
    }
  }
}
