import type { PieceStroke } from './piece.ts';

/**
 * Numerals and capitals as a beam scores them in a box one wide and two high: each a few straight strokes (`x y x y …`, a bar between
 * them), told apart even when charred. Drawn for this project.
 */
const SHAPES: Readonly<Record<string, string>> = {
  '0': '0 0 1 0 1 2 0 2 0 0 | 0 0 1 2',
  '1': '0.2 1.5 0.6 2 0.6 0',
  '2': '0 2 1 2 1 1.1 0 0 1 0',
  '3': '0 2 1 2 0.4 1.2 1 1.2 1 0 0 0',
  '4': '0.7 0 0.7 2 0 0.6 1 0.6',
  '5': '1 2 0 2 0 1.1 1 1.1 1 0 0 0',
  '6': '1 2 0 1.1 0 0 1 0 1 1.1 0 1.1',
  '7': '0 2 1 2 0.3 0',
  '8': '0 1.1 0 2 1 2 1 1.1 0 1.1 0 0 1 0 1 1.1',
  '9': '1 0.9 0 0.9 0 2 1 2 1 0.9 0 0',
  A: '0 0 0.5 2 1 0 | 0.2 0.8 0.8 0.8',
  B: '0 0 0 2 0.7 2 1 1.6 0.7 1.1 0 1.1 | 0.7 1.1 1 0.6 0.7 0 0 0',
  C: '1 1.6 0.7 2 0.3 2 0 1.6 0 0.4 0.3 0 0.7 0 1 0.4',
  D: '0 0 0 2 0.6 2 1 1.5 1 0.5 0.6 0 0 0',
  E: '1 0 0 0 0 2 1 2 | 0 1.1 0.8 1.1',
  F: '0 0 0 2 1 2 | 0 1.1 0.8 1.1',
  G: '1 1.6 0.7 2 0.3 2 0 1.6 0 0.4 0.3 0 1 0 1 0.9 0.5 0.9',
  H: '0 0 0 2 | 1 0 1 2 | 0 1 1 1',
  I: '0.5 0 0.5 2 | 0.2 0 0.8 0 | 0.2 2 0.8 2',
  J: '0 0.4 0.3 0 0.7 0 1 0.4 1 2 0.5 2',
  K: '0 0 0 2 | 1 2 0 0.9 1 0',
  L: '0 2 0 0 1 0',
  M: '0 0 0 2 0.5 1 1 2 1 0',
  N: '0 0 0 2 1 0 1 2',
  O: '0.3 0 0 0.5 0 1.5 0.3 2 0.7 2 1 1.5 1 0.5 0.7 0 0.3 0',
  P: '0 0 0 2 0.7 2 1 1.6 0.7 1 0 1',
  Q: '0.3 0 0 0.5 0 1.5 0.3 2 0.7 2 1 1.5 1 0.5 0.7 0 0.3 0 | 0.6 0.5 1 0',
  R: '0 0 0 2 0.7 2 1 1.6 0.7 1 0 1 | 0.5 1 1 0',
  S: '1 1.7 0.7 2 0.3 2 0 1.6 0.2 1.2 0.8 0.8 1 0.4 0.7 0 0.3 0 0 0.3',
  T: '0 2 1 2 | 0.5 2 0.5 0',
  U: '0 2 0 0.4 0.3 0 0.7 0 1 0.4 1 2',
  V: '0 2 0.5 0 1 2',
  W: '0 2 0.2 0 0.5 1 0.8 0 1 2',
  X: '0 0 1 2 | 0 2 1 0',
  Y: '0 2 0.5 1 1 2 | 0.5 1 0.5 0',
  Z: '0 2 1 2 0 0 1 0 | 0.2 1 0.8 1',
  '-': '0.1 1 0.9 1',
  _: '0 0 1 0',
  '.': '0.4 0 0.4 0.3',
};

/** On strokes as short as a numeral's, the head reaches the speed whose ramps take this length, mm. */
export const MARK_STROKE_MM = 1;

const GAP = 0.7;

/** The strokes of a text of letters, digits, `-`, `_` and `.`, its lower left corner at x, y; whatever else it holds stays a gap. */
export function textStrokes(text: string, x: number, y: number, heightMm: number): PieceStroke[] {
  const unit = heightMm / 2;
  return [...text.toUpperCase()].flatMap((letter, i) =>
    shapeOf(letter).map((points): PieceStroke => {
      const at = ([px, py]: Point) => ({ x: x + (px + i * (1 + GAP)) * unit, y: y + py * unit });
      const [first, ...rest] = points;
      return { ...at(first!), segments: rest.map(at) };
    }),
  );
}

export function textWidthMm(text: string, heightMm: number): number {
  const letters = [...text].length;
  return Math.max(0, letters + (letters - 1) * GAP) * (heightMm / 2);
}

/** Words as lines that are no wider than the room; a word that is too wide for it is broken. */
export function textLines(words: readonly string[], heightMm: number, roomMm: number): string[] {
  const most = Math.max(1, Math.floor((roomMm / (heightMm / 2) + GAP) / (1 + GAP)));
  const lines: string[] = [];
  for (const word of words) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most) lines[lines.length - 1] = `${last} ${word}`;
    else for (let from = 0; from < word.length; from += most) lines.push(word.slice(from, from + most));
  }
  return lines;
}

type Point = readonly [x: number, y: number];

function shapeOf(letter: string): Point[][] {
  const shape = Object.hasOwn(SHAPES, letter) ? SHAPES[letter]! : '';
  if (shape === '') return [];
  return shape.split(' | ').map((line) => {
    const numbers = line.split(' ').map(Number);
    return Array.from({ length: numbers.length / 2 }, (_, i): Point => [numbers[2 * i]!, numbers[2 * i + 1]!]);
  });
}
