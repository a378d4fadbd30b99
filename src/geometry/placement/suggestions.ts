import type { Box } from '../outlines/outline.ts';
import { likelyMoves, likelyScales, type Signature } from './signature.ts';
import { orientationOf, type Similarity } from './transform.ts';

/** What is looked at of a drawing to guess how it may lie. */
export interface Suggesting {
  readonly box: Box;
  readonly signatures: readonly Signature[];
}

/** How finely two drawings are compared. */
export interface Fineness {
  /** A counts Y downwards and B upwards. */
  readonly flippedY: boolean;
  /** How far lines may lie apart after the offset has been taken off, mm. */
  readonly toleranceMm: number;
  /** Greatest kerf offset between the two drawings, mm. */
  readonly mostOffsetMm: number;
  /** A millimetre, or less in a drawing of a few millimetres: places this near to each other are roughly one. */
  readonly unitMm: number;
}

/** Ratios that come from taking one unit for another: px per inch, inch for mm, and powers of ten. */
const UNIT_SLIPS = [25.4, 10, 96 / 72, 96 / 90, 90 / 72, 96 / 25.4, 72 / 25.4, 90 / 25.4];

/** No slip of units is greater than this: an inch taken for a millimetre, and px for inches, stay below it. */
const MOST_SCALE = 200;

/** Moves of A worth trying in each of the eight orientations, at one scale. */
export function* suggestions(
  a: Suggesting,
  b: Suggesting,
  scale: number,
  { flippedY, mostOffsetMm, unitMm }: Fineness,
): Generator<Similarity> {
  const boxB = b.box;
  for (const mirrored of [false, true]) {
    for (const quarterTurns of [0, 1, 2, 3] as const) {
      const turn = orientationOf({ quarterTurns, mirrored, flippedY });
      const base = { scale, quarterTurns, mirrored, flippedY };
      const votes = likelyMoves(a.signatures, b.signatures, { turn, scale, offsetMm: mostOffsetMm, grainMm: unitMm });
      for (const { dx, dy } of votes) yield { ...base, dx, dy };
      // Corner on corner and middle on middle, for drawings whose outlines were joined in other ways.
      const x = [a.box.minX, a.box.maxX].map((v) => scale * v);
      const y = [a.box.minY, a.box.maxY].map((v) => scale * v);
      const xs = x.flatMap((px) => y.map((py) => turn.a * px + turn.c * py)).sort((p, q) => p - q);
      const ys = x.flatMap((px) => y.map((py) => turn.b * px + turn.d * py)).sort((p, q) => p - q);
      for (const [sx, sy] of ANCHORS) {
        yield {
          ...base,
          dx: boxB.minX + sx * (boxB.maxX - boxB.minX) - (xs[0]! + sx * (xs[3]! - xs[0]!)),
          dy: boxB.minY + sy * (boxB.maxY - boxB.minY) - (ys[0]! + sy * (ys[3]! - ys[0]!)),
        };
      }
    }
  }
}

const ANCHORS = [
  [0.5, 0.5],
  [0, 0],
  [1, 0],
  [0, 1],
  [1, 1],
] as const;

/** Scales of A worth trying besides 1: what the outlines and the boxes suggest, and the unit slips near to that. */
export function otherScales(a: Suggesting, b: Suggesting): number[] {
  const diagonal = (box: Box): number => Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  const suggested = likelyScales(a.signatures, b.signatures, 4);
  const whole = diagonal(b.box) / diagonal(a.box);
  if (Number.isFinite(whole) && whole > 0) suggested.push(whole);
  const tried = [1];
  for (const scale of suggested) {
    if (scale < 1 / MOST_SCALE || scale > MOST_SCALE) continue;
    const slip = UNIT_SLIPS.flatMap((s) => [s, 1 / s]).find((s) => Math.abs(Math.log(scale / s)) < 0.03);
    for (const s of slip === undefined ? [scale] : [slip, scale]) {
      if (tried.every((known) => Math.abs(Math.log(s / known)) > 1e-4)) tried.push(s);
    }
  }
  return tried.slice(1);
}
