import { writtenMm } from '../../units/written.ts';
import { textLines, textStrokes } from './lettering.ts';
import type { PieceStroke } from './piece.ts';
import type { PieceRequest } from './piece-files.ts';

/** What is scored on a test piece, so that it can be told from others long after: the results sheet of that day has the settings. */
export interface PieceLabel {
  strokes: PieceStroke[];
  /** What it takes above its lower edge, mm, with the gap to what comes next. */
  heightMm: number;
}

const LETTER_MM = 3;
const LINE_GAP_MM = 2;

/** Machine, lens, material, thickness and day. */
export function labelWords({ machine, lens, material, thickness, today }: PieceRequest): string[] {
  return [machine.id, lens.id, material.id, writtenMm(thickness.mm).replace(' ', ''), today];
}

/** Words in lines no wider than the room, their lower left corner at x, y. */
export function pieceLabel(words: readonly string[], x: number, y: number, roomMm: number): PieceLabel {
  const lines = textLines(words, LETTER_MM, roomMm);
  const lineMm = LETTER_MM + LINE_GAP_MM;
  return {
    strokes: lines.flatMap((line, i) => textStrokes(line, x, y + (lines.length - 1 - i) * lineMm, LETTER_MM)),
    heightMm: lines.length * lineMm,
  };
}
