import type { PieceStroke } from './piece.ts';

/** Digits as a beam scores them in a box one wide and two high: each a few straight strokes, told apart even when charred. */
const STROKES: readonly (readonly (readonly [number, number])[])[][] = [
  [
    [
      [0, 0],
      [1, 0],
      [1, 2],
      [0, 2],
      [0, 0],
    ],
    [
      [0, 0],
      [1, 2],
    ],
  ],
  [
    [
      [0.2, 1.5],
      [0.6, 2],
      [0.6, 0],
    ],
  ],
  [
    [
      [0, 2],
      [1, 2],
      [1, 1.1],
      [0, 0],
      [1, 0],
    ],
  ],
  [
    [
      [0, 2],
      [1, 2],
      [0.4, 1.2],
      [1, 1.2],
      [1, 0],
      [0, 0],
    ],
  ],
  [
    [
      [0.7, 0],
      [0.7, 2],
      [0, 0.6],
      [1, 0.6],
    ],
  ],
  [
    [
      [1, 2],
      [0, 2],
      [0, 1.1],
      [1, 1.1],
      [1, 0],
      [0, 0],
    ],
  ],
  [
    [
      [1, 2],
      [0, 1.1],
      [0, 0],
      [1, 0],
      [1, 1.1],
      [0, 1.1],
    ],
  ],
  [
    [
      [0, 2],
      [1, 2],
      [0.3, 0],
    ],
  ],
  [
    [
      [0, 1.1],
      [0, 2],
      [1, 2],
      [1, 1.1],
      [0, 1.1],
      [0, 0],
      [1, 0],
      [1, 1.1],
    ],
  ],
  [
    [
      [1, 0.9],
      [0, 0.9],
      [0, 2],
      [1, 2],
      [1, 0.9],
      [0, 0],
    ],
  ],
];

/** On strokes as short as a numeral's, the head reaches the speed whose ramps take this length, mm. */
export const MARK_STROKE_MM = 1;

const GAP = 0.7;

/** The strokes of a whole number, its lower left corner at x, y. */
export function numberStrokes(value: number, x: number, y: number, heightMm: number): PieceStroke[] {
  const unit = heightMm / 2;
  return [...String(value)].flatMap((digit, i) =>
    (STROKES[Number(digit)] ?? []).map((points): PieceStroke => {
      const at = ([px, py]: readonly [number, number]) => ({ x: x + (px + i * (1 + GAP)) * unit, y: y + py * unit });
      const [first, ...rest] = points;
      return { ...at(first!), segments: rest.map(at) };
    }),
  );
}

export function numberWidthMm(value: number, heightMm: number): number {
  const digits = String(value).length;
  return (digits + (digits - 1) * GAP) * (heightMm / 2);
}
