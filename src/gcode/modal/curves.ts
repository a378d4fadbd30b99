import type { Arc } from '../../geometry/segments/arc.ts';
import type { Moves } from '../../model/motion/moves.ts';
import type { ToolpathOptions } from '../../model/reader.ts';
import type { Place } from '../../source/place.ts';
import type { GcodeProblemCode } from '../problem-texts.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, slot } from '../text/block.ts';
import { arcByCentre, arcByRadius, type CentreArc } from './arcs.ts';
import type { ModalState, Plane } from './state.ts';

/** Most turns of one helix that are followed. */
const TURNS = 100;
/** Largest radius, mm: nearly straight arcs have centres far off, but not that far. */
const CENTRE_LIMIT = 1e7;
/** Arcs outside the XY plane become chords: longest deviation, mm, and most chords for one arc. */
const FLAT_MM = 0.01;
const CHORDS = 10_000;

/** Of each plane: the axes of its two coordinates and of its height (0 x, 1 y, 2 z), and the letters of the centre. */
const AXES: Record<Plane, { a: number; b: number; h: number; centre: readonly [string, string] }> = {
  XY: { a: 0, b: 1, h: 2, centre: ['I', 'J'] },
  ZX: { a: 2, b: 0, h: 1, centre: ['K', 'I'] },
  YZ: { a: 1, b: 2, h: 0, centre: ['J', 'K'] },
};

/**
 * Carries out G2 or G3 to the end that `moves` holds. `onLength` is called with the length of the arc before it is made.
 * False when the arc could not be made as written.
 */
export function arcTo(
  block: Block,
  clockwise: boolean,
  state: ModalState,
  moves: Moves,
  problems: ProblemList,
  options: ToolpathOptions,
  onLength: (lengthMm: number) => void,
): boolean {
  const plane = AXES[state.plane];
  const from = [moves.x, moves.y, moves.z];
  const to = [moves.toX, moves.toY, moves.toZ];
  const a0 = from[plane.a]!;
  const b0 = from[plane.b]!;
  const a1 = to[plane.a]!;
  const b1 = to[plane.b]!;
  const [letterA, letterB] = plane.centre;
  const given = (letter: string) => (block.mask & bit(letter)) !== 0;
  const word = (letter: string) => (given(letter) ? block.values[slot(letter)]! * state.scale : 0);
  /** An arc that cannot be made: the head is taken to go straight to its end. */
  const asLine = (code: GcodeProblemCode, place: Place, args: Record<string, number | string>): false => {
    problems.add(code, place, args);
    moves.line(block.line, false, false);
    return false;
  };
  let arc: Arc;
  let mismatch: CentreArc['mismatch'] = null;
  if (given('R')) {
    const result = arcByRadius(a0, b0, a1, b1, word('R'), clockwise, options.arcToleranceMm);
    if (!result.ok) {
      const args = { radiusMm: word('R'), chordMm: result.chordMm };
      return asLine('arc-radius-too-small', block.placeOf('R'), args);
    }
    arc = result.arc;
  } else if (given(letterA) || given(letterB)) {
    const offset = (axis: number) => (state.absoluteCentres ? state.offset(axis) : from[axis]!);
    const centreA = !given(letterA) && state.absoluteCentres ? a0 : offset(plane.a) + word(letterA);
    const centreB = !given(letterB) && state.absoluteCentres ? b0 : offset(plane.b) + word(letterB);
    ({ arc, mismatch } = arcByCentre(a0, b0, a1, b1, centreA, centreB, clockwise, options.arcToleranceMm));
  } else {
    return asLine('arc-no-centre', block.place(), {});
  }
  // I0 J0: the centre is the start.
  if (arc.radius === 0) return asLine('arc-no-centre', block.place(), {});
  if (arc.radius > CENTRE_LIMIT) {
    const args = { text: `radius ${arc.radius}`, limit: `${CENTRE_LIMIT} mm` };
    return asLine('number-out-of-range', block.place(), args);
  }
  if (mismatch) {
    const { startRadiusMm, endRadiusMm, toleranceMm } = mismatch;
    const differenceMm = Math.abs(startRadiusMm - endRadiusMm);
    problems.add('arc-mismatch', block.place(), { startRadiusMm, endRadiusMm, differenceMm, toleranceMm });
  }
  const asWritten = addTurns(block, arc, problems);
  const rise = to[plane.h]! - from[plane.h]!;
  onLength(Math.hypot(arc.radius * arc.sweepRad, rise));
  if (state.plane === 'XY') moves.arc(block.line, arc);
  else chords(block.line, plane, arc, a0, b0, rise, moves);
  return asWritten;
}

/** P of a helix: how many turns it makes. False when they are not followed. */
function addTurns(block: Block, arc: Arc, problems: ProblemList): boolean {
  if ((block.mask & bit('P')) === 0) return true;
  const turns = block.values[slot('P')]!;
  if (!Number.isInteger(turns) || turns < 1 || turns > TURNS) {
    problems.add('number-out-of-range', block.placeOf('P'), { text: `P${turns}`, limit: `${TURNS} turns` });
    return false;
  }
  arc.sweepRad += Math.sign(arc.sweepRad) * 2 * Math.PI * (turns - 1);
  return true;
}

/** An arc in another plane, as chords. */
function chords(
  line: number,
  plane: (typeof AXES)[Plane],
  arc: Arc,
  a0: number,
  b0: number,
  rise: number,
  moves: Moves,
): void {
  const end = [moves.toX, moves.toY, moves.toZ];
  const here = [moves.x, moves.y, moves.z];
  const step = arc.radius > FLAT_MM ? 2 * Math.acos(1 - FLAT_MM / arc.radius) : Math.PI / 2;
  const count = Math.min(CHORDS, Math.max(1, Math.ceil(Math.abs(arc.sweepRad) / step)));
  const start = Math.atan2(b0 - arc.centreB, a0 - arc.centreA);
  const h0 = here[plane.h]!;
  const point = [0, 0, 0];
  for (let i = 1; i < count; i++) {
    const angle = start + (arc.sweepRad * i) / count;
    point[plane.a] = arc.centreA + arc.radius * Math.cos(angle);
    point[plane.b] = arc.centreB + arc.radius * Math.sin(angle);
    point[plane.h] = h0 + (rise * i) / count;
    [moves.toX, moves.toY, moves.toZ] = point as [number, number, number];
    moves.line(line, false, false);
  }
  [moves.toX, moves.toY, moves.toZ] = end as [number, number, number];
  moves.line(line, false, false);
}
