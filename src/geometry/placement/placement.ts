import type { Box, Polyline } from '../outlines/outline.ts';
import { boxOfSegments } from '../segments/segments.ts';
import {
  type Drawing,
  nearestLine,
  newHit,
  placed,
  prepare,
  refine,
  roughShare,
  type Samples,
  sample,
  shareBack,
} from './fit.ts';
import { likelyMoves, likelyScales, longestSignatures, type Signature } from './signature.ts';
import { orientationOf, type Similarity } from './transform.ts';

export interface PlacementOptions {
  /** A counts Y downwards and B upwards, as SVG and machines do: a plain flip of Y is then no mirror image. */
  expectYFlip?: boolean;
  /** How far lines may lie apart after the offset has been taken off, mm (default 0.1). */
  toleranceMm?: number;
  /** Greatest kerf offset between the two drawings, mm (default 0.5). */
  mostOffsetMm?: number;
}

/** How drawing A lies on drawing B. */
export interface Placement extends Similarity {
  /** Share of A's length that B has too. */
  coveredShare: number;
  /** Share of B's length that A has too. */
  explainedShare: number;
  /** Median distance of B's lines from A's, towards the waste: positive where outer contours have grown and holes shrunk. */
  offsetMm: number;
  /** Another turn, mirror image or move fits as well: the drawing is symmetrical or repeats. */
  ambiguous: boolean;
}

/** Ratios that come from taking one unit for another: px per inch, inch for mm, and powers of ten. */
const UNIT_SLIPS = [25.4, 10, 96 / 72, 96 / 90, 90 / 72, 96 / 25.4, 72 / 25.4, 90 / 25.4];

/** No slip of units is greater than this: an inch taken for a millimetre, and px for inches, stay below it. */
const MOST_SCALE = 200;

/** Scores this close are equally good: flattening and sampling account for as much. */
const TIE = 0.015;

/** Below this share neither drawing is recognised in the other. */
const LEAST_SHARE = 0.5;

/**
 * Finds the move, quarter turn, mirror image and scale that lay drawing A on drawing B, from geometry alone. Outlines
 * of like shape vote for scale and move, the corners of the drawings' boxes add some more, and the candidates are then
 * measured along their lines. Missing and extra outlines and a kerf offset are tolerated. Of equally good placements
 * the one with fewest changes is returned. Null when A is not found in B.
 */
export function findPlacement(
  a: readonly Polyline[],
  b: readonly Polyline[],
  options: PlacementOptions = {},
): Placement | null {
  const drawnA = prepare(a);
  const drawnB = prepare(b);
  const boxA = boxOfSegments(drawnA.segments);
  const boxB = boxOfSegments(drawnB.segments);
  if (!boxA || !boxB) return null;
  const size = Math.hypot(boxB.maxX - boxB.minX, boxB.maxY - boxB.minY);
  // A drawing of a few millimetres (an inch taken for a millimetre) is compared by a finer measure.
  const unit = Math.min(1, size / 50);
  const toleranceMm = Math.min(options.toleranceMm ?? 0.1, 0.005 + 0.002 * size);
  const mostOffsetMm = Math.min(options.mostOffsetMm ?? 0.5, 0.03 * size);

  const coarse = sample(drawnA, 128);
  const coarseB = sample(drawnB, 128);
  const medium = sample(drawnA, 600);
  const fineA = sample(drawnA, 3000);
  const fineB = sample(drawnB, 1500);
  const flippedY = options.expectYFlip ?? false;
  const signsA = longestSignatures(a, 48);
  const signsB = longestSignatures(b, 48);
  const suggestedAt = (scale: number) => suggestions(signsA, signsB, boxA, boxB, scale, flippedY, mostOffsetMm, unit);
  const share = (place: Similarity, reach = unit): number => {
    const there = roughShare(coarse, drawnB, place, reach);
    return there + (there > 0 ? shareBack(coarseB, drawnA, place, reach) : 0);
  };
  const measured = (candidates: Candidate[]): Placement[] => {
    candidates.sort(byShare);
    const leastShare = (candidates[0]?.share ?? 0) - 0.5;
    const judged: Placement[] = [];
    for (const { place, share } of candidates) {
      if (judged.length >= MOST_JUDGED || share < Math.max(LEAST_SHARE / 4, leastShare)) break;
      if (judged.some((known) => alike(known, place) && sameEffect(known, place, boxA, 0.2 * unit))) continue;
      const fitted = refine(medium, drawnB, place, place.scale !== 1, 2 * unit, 0.6 * unit);
      if (Math.abs(Math.log(fitted.scale / place.scale)) > 0.05) continue;
      if (judged.some((known) => alike(known, fitted) && sameEffect(known, fitted, boxA, 0.05 * unit))) continue;
      judged.push(judge(fineA, fineB, drawnA, drawnB, fitted, toleranceMm, mostOffsetMm));
    }
    return judged;
  };

  const candidates: Candidate[] = [];
  for (const place of suggestedAt(1)) candidates.push({ place, share: share(place) });
  const plain = measured(candidates);
  // Where all of both drawings lies on the other, no other scale can lay more of it.
  if (plain.some((p) => score(p) >= 2 - TIE)) return choose(plain, boxA, unit);

  // A scale that was read off outlines with a kerf offset is wrong by about a hundredth at first.
  const doubt = 2 * unit + Math.min(10, 0.01 * size);
  const rough: Candidate[] = [];
  for (const scale of otherScales(signsA, signsB, boxA, boxB)) {
    for (const place of suggestedAt(scale)) rough.push({ place, share: share(place, doubt) });
  }
  rough.sort(byShare);
  for (const { place: first } of rough.slice(0, MOST_FITTED)) {
    const place = refine(coarse, drawnB, first, true, doubt, 0.6 * unit);
    // A bad start shrinks the drawing onto a single line, where everything seems to fit.
    if (Math.abs(Math.log(place.scale / first.scale)) <= 0.05) candidates.push({ place, share: share(place) });
  }
  return choose(measured(candidates), boxA, unit);
}

/** A placement with the shares (0 to 2, both ways) that samples of both drawings gave it. */
interface Candidate {
  place: Similarity;
  share: number;
}

const byShare = (p: Candidate, q: Candidate): number => q.share - p.share || changes(p.place) - changes(q.place);

/** Candidates at another scale than 1 that are fitted roughly. */
const MOST_FITTED = 32;

/** Candidates that are refined and measured finely. */
const MOST_JUDGED = 16;

const score = (p: Placement): number => p.coveredShare + p.explainedShare;

function choose(judged: readonly Placement[], boxA: Box, unit: number): Placement | null {
  let best: Placement | null = null;
  for (const p of judged) {
    if (Math.max(p.coveredShare, p.explainedShare) < LEAST_SHARE) continue;
    if (best && score(p) < score(best) - 2 * TIE) continue;
    if (best && score(p) <= score(best) + 2 * TIE && changes(p) >= changes(best)) continue;
    best = p;
  }
  if (!best) return null;
  const chosen = best;
  const ambiguous = judged.some(
    (p) => p !== chosen && score(p) >= score(chosen) - 2 * TIE && !sameEffect(p, chosen, boxA, 2 * unit),
  );
  return { ...chosen, ambiguous };
}

/** How far a placement is from the plainest one. */
function changes(place: Similarity): number {
  const turns = [0, 1.5, 1, 1.5][place.quarterTurns]!;
  return (place.scale === 1 ? 0 : 4) + (place.mirrored ? 2 : 0) + turns;
}

/** Placements at the scale of 1 are kept beside others, however near: they are preferred. */
const alike = (p: Similarity, q: Similarity): boolean => (p.scale === 1) === (q.scale === 1);

/** Whether two placements turn A alike and bring the corners of its box to places within `nearMm`. */
function sameEffect(p: Similarity, q: Similarity, box: Box, nearMm: number): boolean {
  if (p.quarterTurns !== q.quarterTurns || p.mirrored !== q.mirrored) return false;
  const turn = orientationOf(p);
  for (const [x, y] of [
    [box.minX, box.minY],
    [box.maxX, box.maxY],
  ] as const) {
    const shiftX = (p.scale - q.scale) * (turn.a * x + turn.c * y) + p.dx - q.dx;
    const shiftY = (p.scale - q.scale) * (turn.b * x + turn.d * y) + p.dy - q.dy;
    if (Math.hypot(shiftX, shiftY) > nearMm) return false;
  }
  return true;
}

/** Moves worth trying in each of the eight orientations, at one scale. */
function* suggestions(
  signsA: readonly Signature[],
  signsB: readonly Signature[],
  boxA: Box,
  boxB: Box,
  scale: number,
  flippedY: boolean,
  mostOffsetMm: number,
  grainMm: number,
): Generator<Similarity> {
  for (const mirrored of [false, true]) {
    for (const quarterTurns of [0, 1, 2, 3] as const) {
      const turn = orientationOf({ quarterTurns, mirrored, flippedY });
      const base = { scale, quarterTurns, mirrored, flippedY };
      for (const { dx, dy } of likelyMoves(signsA, signsB, turn, scale, mostOffsetMm, grainMm)) {
        yield { ...base, dx, dy };
      }
      // Corner on corner and middle on middle, for drawings whose outlines were joined in other ways.
      const x = [boxA.minX, boxA.maxX].map((v) => scale * v);
      const y = [boxA.minY, boxA.maxY].map((v) => scale * v);
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

/** Scales worth trying besides 1: what the outlines and the boxes suggest, and the unit slips near to that. */
function otherScales(a: readonly Signature[], b: readonly Signature[], boxA: Box, boxB: Box): number[] {
  const diagonal = (box: Box): number => Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  const suggested = likelyScales(a, b, 4);
  const whole = diagonal(boxB) / diagonal(boxA);
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

/** Measures a placement along A's lines and along B's. */
function judge(
  fineA: Samples,
  fineB: Samples,
  a: Drawing,
  b: Drawing,
  place: Similarity,
  toleranceMm: number,
  mostOffsetMm: number,
): Placement {
  const turn = orientationOf(place);
  const handed = turn.a * turn.d - turn.b * turn.c;
  const reach = mostOffsetMm + toleranceMm;
  const hit = newHit();
  const offsets: number[] = [];
  const open: number[] = [];
  for (let i = 0; i < fineA.count; i++) {
    const [x, y, ux, uy] = placed(fineA, i, place, turn);
    nearestLine(b, x, y, ux, uy, reach, hit);
    if (hit.distanceMm > reach) continue;
    const keep = fineA.keep[i]! * handed;
    // Positive away from the material that stays, which lies to the left where keep is +1.
    if (keep === 0) open.push(hit.distanceMm);
    else offsets.push(keep * (uy * hit.dx - ux * hit.dy));
  }
  const sorted = Float64Array.from(offsets).sort();
  const offsetMm = sorted.length === 0 ? 0 : sorted[sorted.length >> 1]!;
  let covered = open.filter((d) => d <= toleranceMm).length;
  for (const d of offsets) if (Math.abs(d - offsetMm) <= toleranceMm) covered++;

  return {
    ...place,
    coveredShare: covered / fineA.count,
    explainedShare: shareBack(fineB, a, place, Math.abs(offsetMm) + toleranceMm),
    offsetMm,
    ambiguous: false,
  };
}
