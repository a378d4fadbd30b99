import type { Polyline } from '../../src/geometry/outlines/outline.ts';
import type { Stretches } from '../../src/geometry/overlap/overlap.ts';
import { orientationOf, type Similarity } from '../../src/geometry/placement/transform.ts';
import { type Arc, SegmentBuilder, type Segments } from '../../src/geometry/segments/segments.ts';

/** A circle, square or regular polygon whose outward offset is known in closed form: the same shape, larger. */
export interface Shape {
  /** 0 for a circle, otherwise the number of corners of a regular polygon. */
  corners: number;
  x: number;
  y: number;
  /** Distance from the middle to the line: the offset adds to it. */
  inradiusMm: number;
  turnRad: number;
  /** A hole: a kerf offset towards the waste makes it smaller. */
  hole: boolean;
}

export function outlineOf(shape: Shape, grownMm = 0, chords = 96): Polyline {
  const radius = shape.inradiusMm + (shape.hole ? -grownMm : grownMm);
  const n = shape.corners === 0 ? chords : shape.corners;
  const outer = shape.corners === 0 ? radius : radius / Math.cos(Math.PI / n);
  const xy = new Float64Array(2 * n);
  for (let k = 0; k < n; k++) {
    const angle = shape.turnRad + (2 * Math.PI * k) / n;
    xy[2 * k] = shape.x + outer * Math.cos(angle);
    xy[2 * k + 1] = shape.y + outer * Math.sin(angle);
  }
  return { xy, closed: true };
}

export function movedOutline(line: Polyline, place: Similarity): Polyline {
  const turn = orientationOf(place);
  const xy = new Float64Array(line.xy.length);
  for (let i = 0; i < xy.length; i += 2) {
    xy[i] = place.scale * (turn.a * line.xy[i]! + turn.c * line.xy[i + 1]!) + place.dx;
    xy[i + 1] = place.scale * (turn.b * line.xy[i]! + turn.d * line.xy[i + 1]!) + place.dy;
  }
  return { xy, closed: line.closed };
}

/** A straight line, mm. */
export type Row = readonly [x0: number, y0: number, x1: number, y1: number];
/** And whose it is, where that is not its number. */
export type OwnedRow = readonly [...Row, owner?: number];

export function segmentsOfRows(rows: readonly OwnedRow[]): Segments {
  const builder = new SegmentBuilder();
  for (const [i, [x0, y0, x1, y1, owner = i]] of rows.entries()) builder.addLine(x0, y0, x1, y1, owner);
  return builder.finish();
}

/** A run of numbers 0..1 from a seed, the same every time (Park and Miller's minimal standard generator). */
export function numbersFrom(seed: number): () => number {
  let state = (Math.abs(Math.trunc(seed)) % 2147483646) + 1;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

/** A lopsided plate with holes of different sizes: no turn or mirror image of it looks like it. */
export function plate(seed: number, holes = 12): Shape[] {
  const next = numbersFrom(seed);
  next();
  const shapes: Shape[] = [{ corners: 4, x: 60, y: 60, inradiusMm: 60, turnRad: Math.PI / 4, hole: false }];
  for (let k = 0; k < holes; k++) {
    shapes.push({
      corners: [0, 3, 4, 5, 6][Math.floor(next() * 5)]!,
      x: 12 + 24 * (k % 4) + 4 * next() + (k === 0 ? 5 : 0),
      y: 12 + 24 * Math.floor(k / 4) + 4 * next(),
      inradiusMm: 2 + 3 * next(),
      turnRad: 2 * Math.PI * next(),
      hole: true,
    });
  }
  return shapes;
}

/** What is known of one stretch. */
export interface Listed {
  owner: number;
  owners: number[];
  passes: number;
  lengthMm: number;
}

/** All stretches, one by one. */
export function listed(stretches: Stretches): Listed[] {
  const all: Listed[] = [];
  stretches.each(({ owner, owners, listed: count, passes, lengthMm }) => {
    all.push({ owner, owners: [...owners.subarray(0, count)], passes, lengthMm });
  });
  return all;
}

/** An arc by its middle, start and end. */
export function arcFrom(
  [cx, cy]: [number, number],
  [startX, startY]: [number, number],
  [endX, endY]: [number, number],
  sweepRad: number,
): Arc {
  return { cx, cy, startX, startY, endX, endY, sweepRad };
}
