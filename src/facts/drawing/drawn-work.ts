import { formatCount, formatSpeed, formatWatts, roundTo } from '../../units/format.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import type { JobFacts } from '../facts.ts';
import type { DrawnCut, DrawnPiece, JobDrawing } from './drawing-model.ts';
import { thinLines } from './drawn-lines.ts';
import { type Piece, piecesOf, timesOf } from './drawn-pieces.ts';

/** Points of a picture for each piece that is described one by one: what is beyond them is drawn with its cut. */
const POINTS_A_PIECE = 84;
/** So many groups of alike pieces tell where the time goes. */
const MOST_TIMES = 12;

type DrawnWork = Pick<JobDrawing, 'cuts' | 'pieces' | 'pieceCount' | 'pieceTimes'> & {
  readonly detail: JobDrawing['detail']['cuts'];
};

/** The job's cuts and its pieces in order, their lines thinned to at most so many points. */
export function drawnWork(facts: JobFacts, points: number): DrawnWork {
  const pieces = piecesOf(facts);
  const ofCuts = pieces.flatMap((piece, i) => (piece.cut === null ? [] : [{ piece, cut: piece.cut, i }]));
  const thinned = thinLines(
    ofCuts.map(({ piece }) => piece.line),
    points,
  );
  const lines: number[][][] = facts.cuts.map(() => []);
  /** Where each thinned line went among those of its cut. */
  const places = new Map<string, number>();
  const drawnBy: (number | null)[] = pieces.map(() => null);
  for (const [k, { cut, i }] of ofCuts.entries()) {
    const at = thinned.drawnBy[k]!;
    if (at < 0) continue;
    const known = places.get(`${cut} ${at}`);
    // Lines of two cuts that came to lie on each other are drawn for both.
    drawnBy[i] = known ?? lines[cut]!.push(thinned.lines[at]!) - 1;
    if (known === undefined) places.set(`${cut} ${at}`, drawnBy[i]!);
  }
  return {
    cuts: facts.cuts.map((cut, index) => drawnCut(cut, index, lines[index]!)),
    pieces: pieces.slice(0, Math.ceil(points / POINTS_A_PIECE)).map((piece, i) => drawnPiece(piece, drawnBy[i]!)),
    pieceCount: pieces.length,
    pieceTimes: timesOf(pieces, MOST_TIMES),
    detail: thinned.detail,
  };
}

function drawnPiece(
  { cut, area, inProgram, atX, atY, lengthMm, timeS, file, sourceLine }: Piece,
  drawnBy: number | null,
): DrawnPiece {
  return {
    cut,
    drawnBy,
    area,
    inProgram,
    atX: roundTo(atX, 2),
    atY: roundTo(atY, 2),
    lengthMm: roundTo(lengthMm, 1),
    timeS: timeS === null ? null : roundTo(timeS, 2),
    file,
    line: sourceLine,
  };
}

function drawnCut(cut: CutFact, index: number, lines: number[][]): DrawnCut {
  const { prediction } = cut;
  const first = cut.passes[0];
  return {
    cut: index,
    task: cut.task,
    aim: cut.aim,
    probability: prediction?.throughProbability ?? null,
    depthMm: prediction?.depthMm ?? null,
    depthLowMm: prediction?.depthLowMm ?? null,
    depthHighMm: prediction?.depthHighMm ?? null,
    recipe: first
      ? `${formatCount(cut.passes.length, 'pass', 'passes')}, ${formatWatts(first.powerW)}, ${formatSpeed(first.speedMmPerS)}`
      : 'no recipe',
    speedMmPerS: first ? roundTo(first.speedMmPerS, 2) : null,
    file: cut.location.file,
    line: cut.location.line,
    lines,
  };
}
