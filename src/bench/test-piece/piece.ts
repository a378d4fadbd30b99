import { trimmed } from '../../units/format.ts';

/** A test piece as it is to be cut: mm, X to the right, Y away from the person, the origin at the corner nearest to the machine's own. */
export interface Piece {
  /** One line that says what it is. */
  title: string;
  /** What has to be known before it is cut, a sentence or two each: for whoever finds program or drawing without the rest. */
  cautions: readonly string[];
  widthMm: number;
  heightMm: number;
  /** In the order in which they are cut. */
  groups: PieceGroup[];
}

/** Strokes with one recipe. */
export interface PieceGroup {
  /** Letters, digits and `-`: the id in the artwork. */
  id: string;
  /** The comment in the toolpath that marks it. */
  name: string;
  /** Share of full power. */
  setting: number;
  speedMmPerS: number;
  passes: number;
  /** Waist above (+) or below (−) the face in the first pass, and its change from pass to pass. */
  focusMm: number;
  focusStepMm: number;
  strokes: PieceStroke[];
}

/** One path of lines and arcs without lifting the beam; where it ends at its start it is closed. */
export interface PieceStroke {
  x: number;
  y: number;
  segments: PieceSegment[];
}

export interface PieceSegment {
  x: number;
  y: number;
  /** Centre of an anticlockwise arc; a line where there is none. */
  centre?: { x: number; y: number };
  /** Where the waist is over the face at the segment's end, on a ramp. */
  waistMm?: number;
}

export function isClosed(stroke: PieceStroke): boolean {
  const end = stroke.segments.at(-1);
  return end !== undefined && end.x === stroke.x && end.y === stroke.y;
}

export function line(x1: number, y1: number, x2: number, y2: number): PieceStroke {
  return { x: x1, y: y1, segments: [{ x: x2, y: y2 }] };
}

/** A rectangle with round corners, anticlockwise from the middle of its lower side, so that the beam starts away from a corner. */
export function roundedRectangle(x: number, y: number, width: number, height: number, radius: number): PieceStroke {
  const right = x + width;
  const top = y + height;
  const middle = x + width / 2;
  const corner = (cx: number, cy: number, toX: number, toY: number): PieceSegment => ({
    x: toX,
    y: toY,
    centre: { x: cx, y: cy },
  });
  return {
    x: middle,
    y,
    segments: [
      { x: right - radius, y },
      corner(right - radius, y + radius, right, y + radius),
      { x: right, y: top - radius },
      corner(right - radius, top - radius, right - radius, top),
      { x: x + radius, y: top },
      corner(x + radius, top - radius, x, top - radius),
      { x, y: y + radius },
      corner(x + radius, y + radius, x + radius, y),
      { x: middle, y },
    ],
  };
}

/** A length as program and artwork write it, mm to a thousandth. */
export function coordinate(mm: number): string {
  return trimmed(mm, 3);
}
