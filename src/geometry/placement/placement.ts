import type { Box, Polyline } from '../outlines/outline.ts';
import { boxOfSegments } from '../segments/segments.ts';
import { type Drawing, prepare, putPlaced, refine, type Samples, sample, shareBack, shareThere } from './fit.ts';
import { newPlaceOnLine } from './near-lines.ts';
import { longestSignatures, type Signature } from './signature.ts';
import { type Fineness, otherScales, suggestions } from './suggestions.ts';
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
  readonly coveredShare: number;
  /** Share of B's length that A has too. */
  readonly explainedShare: number;
  /** Median distance of B's lines from A's, towards the waste: positive where outer contours have grown and holes shrunk. */
  readonly offsetMm: number;
  /**
   * Whether another turn, mirror image or move fits as well, since the drawing is symmetrical or repeats. Null where that is not asked: all of
   * both drawings lies on the other without a turn or mirror image, and nothing could be preferred to that.
   */
  readonly ambiguous: boolean | null;
}

/** What came of the search for a placement. */
export interface PlacementSearch {
  /** Null when A is not found in B. */
  readonly placement: Placement | null;
  /** Why there may be a placement all the same; null when there is one, and when none was passed over. */
  readonly endedEarly: string | null;
}

/** Scores this close are equally good: flattening and sampling account for as much. */
const TIE = 0.015;

/** From this score on all of both drawings counts as lying on the other. */
const WHOLE = 2 - TIE;

/** Places this near to each other have the same share. */
const SAME_PLACE_MM = 1e-6;

/** Below this share neither drawing is recognised in the other. */
const LEAST_SHARE = 0.5;

/** Outlines whose shapes vote for moves and scales, the longest. */
const MOST_VOTING = 48;

/** Candidates at another scale than 1 that are fitted roughly, the best. */
const MOST_FITTED = 32;

/** Candidates that look worse than the best by more than this are not judged. */
const NOT_WORSE = 0.5;

/** Candidates that are refined and measured finely, the best. */
const MOST_JUDGED = 16;

/**
 * So far below the best a placement is neither chosen nor as good as what is: of those that are judged each may be preferred to the one
 * before it for being plainer, at the cost of two ties.
 */
const OUT_OF_REACH = 2 * TIE * (MOST_JUDGED + 1);

/** One of the two drawings, with what is compared of it. */
interface Side {
  readonly drawing: Drawing;
  readonly box: Box;
  readonly signatures: readonly Signature[];
  readonly coarse: Samples;
  readonly fine: Samples;
}

/**
 * Finds the move, quarter turn, mirror image and scale that lay drawing A on drawing B, from geometry alone. Outlines
 * of like shape vote for scale and move, the corners of the drawings' boxes add some more, and the candidates are then
 * measured along their lines, those that look best first. Missing and extra outlines and a kerf offset are tolerated. Of
 * equally good placements the one with fewest changes is returned.
 */
export function findPlacement(
  a: readonly Polyline[],
  b: readonly Polyline[],
  options: PlacementOptions = {},
): PlacementSearch {
  const drawingA = prepare(a);
  const drawingB = prepare(b);
  const boxA = boxOfSegments(drawingA.segments);
  const boxB = boxOfSegments(drawingB.segments);
  if (!boxA || !boxB) return { placement: null, endedEarly: null };
  const sizeMm = Math.hypot(boxB.maxX - boxB.minX, boxB.maxY - boxB.minY);
  const search = new CandidateSearch(
    sideOf(a, drawingA, boxA, 3000),
    sideOf(b, drawingB, boxB, 1500),
    {
      flippedY: options.expectYFlip ?? false,
      toleranceMm: Math.min(options.toleranceMm ?? 0.1, 0.005 + 0.002 * sizeMm),
      mostOffsetMm: Math.min(options.mostOffsetMm ?? 0.5, 0.03 * sizeMm),
      // A drawing of a few millimetres (an inch taken for a millimetre) is compared by a finer measure.
      unitMm: Math.min(1, sizeMm / 50),
    },
    sizeMm,
  );
  return search.run();
}

function sideOf(lines: readonly Polyline[], drawing: Drawing, box: Box, fine: number): Side {
  return {
    drawing,
    box,
    signatures: longestSignatures(lines, MOST_VOTING),
    coarse: sample(drawing, 128),
    fine: sample(drawing, fine),
  };
}

/** A placement with the shares (0 to 2, both ways) that samples of both drawings gave it. */
interface Candidate {
  readonly place: Similarity;
  readonly share: number;
}

/** Tries what the drawings suggest, first at their own size and then at others. */
class CandidateSearch {
  readonly #a: Side;
  readonly #b: Side;
  /** Of A, to refine a candidate by. */
  readonly #medium: Samples;
  readonly #fineness: Fineness;
  readonly #sizeMm: number;
  /** What was measured roughly at the scale of 1, and the greatest share of it. */
  readonly #measured: Candidate[] = [];
  #bestShare = 0;
  /** The share of the best candidate that looked possible and was passed over, because so many looked better. */
  #passedOver = 0;

  constructor(a: Side, b: Side, fineness: Fineness, sizeMm: number) {
    this.#a = a;
    this.#b = b;
    this.#medium = sample(a.drawing, 600);
    this.#fineness = fineness;
    this.#sizeMm = sizeMm;
  }

  run(): PlacementSearch {
    const plainest = this.#plainest();
    if (plainest) return { placement: plainest, endedEarly: null };
    const candidates = Array.from(this.#suggested(1), (place) => this.#candidate(place));
    const plain = this.#judged(candidates);
    // Where all of both drawings lies on the other, no other scale can lay more of it.
    if (plain.some((p) => score(p) >= WHOLE)) return { placement: this.#choose(plain), endedEarly: null };
    this.#passedOver = 0;
    const placement = this.#choose(this.#judged([...candidates, ...this.#atOtherScales()]));
    // Less than half of either drawing near the other, even roughly, and it could not have been taken.
    const early = placement === null && this.#passedOver >= LEAST_SHARE;
    return { placement, endedEarly: early ? 'more turns, moves and sizes look possible than could be tried' : null };
  }

  /** The placement without a turn or mirror image, where all of both drawings lies on the other: none can be preferred to it. Else null. */
  #plainest(): Placement | null {
    const plain: Candidate[] = [];
    for (const place of this.#suggested(1)) {
      // Those without a turn come first.
      if (changes(place) > 0) break;
      plain.push(this.#candidate(place));
    }
    const best = plain.sort(byShare)[0];
    if (best?.share !== 2) return null;
    const placement = judge(this.#a, this.#b, this.#fitted(best.place), this.#fineness, 0);
    return score(placement) < WHOLE ? null : { ...placement, ambiguous: null };
  }

  #suggested(scale: number): Generator<Similarity> {
    return suggestions(this.#a, this.#b, scale, this.#fineness);
  }

  /** A place at the scale of 1 with its share; 0 where it is clear that it is too little to be judged. */
  #candidate(place: Similarity): Candidate {
    // Votes, middles and corners of drawings that fit suggest the same again and again.
    const known = this.#measured.find((one) => sameEffect(one.place, place, this.#a.box, SAME_PLACE_MM));
    if (known) return { place, share: known.share };
    const candidate = { place, share: this.#share(place, this.#fineness.unitMm, this.#bestShare - NOT_WORSE) };
    this.#measured.push(candidate);
    this.#bestShare = Math.max(this.#bestShare, candidate.share);
    return candidate;
  }

  /** Share of A that lies on B and of B that lies on A; 0 where it is clear that it is less than `least`. */
  #share(place: Similarity, reachMm: number, least = 0): number {
    const there = shareThere(this.#a.coarse, this.#b.drawing, place, reachMm, least - 1);
    if (there === 0) return 0;
    const share = there + shareBack(this.#b.coarse, this.#a.drawing, place, reachMm, least - there);
    return share < least ? 0 : share;
  }

  #fitted(place: Similarity): Similarity {
    const { unitMm } = this.#fineness;
    return refine(this.#medium, this.#b.drawing, place, {
      freeScale: place.scale !== 1,
      firstReach: 2 * unitMm,
      lastReach: 0.6 * unitMm,
    });
  }

  /** Candidates at other scales than 1, fitted roughly. */
  #atOtherScales(): Candidate[] {
    const { unitMm } = this.#fineness;
    // A scale that was read off outlines with a kerf offset is wrong by about a hundredth at first.
    const doubtMm = 2 * unitMm + Math.min(10, 0.01 * this.#sizeMm);
    const rough: Candidate[] = [];
    for (const scale of otherScales(this.#a, this.#b)) {
      for (const place of this.#suggested(scale)) rough.push({ place, share: this.#share(place, doubtMm) });
    }
    rough.sort(byShare);
    this.#passOver(rough[MOST_FITTED]);
    return rough.slice(0, MOST_FITTED).flatMap(({ place: first }) => {
      const place = refine(this.#a.coarse, this.#b.drawing, first, {
        freeScale: true,
        firstReach: doubtMm,
        lastReach: 0.6 * unitMm,
      });
      // A bad start shrinks the drawing onto a single line, where everything seems to fit.
      if (Math.abs(Math.log(place.scale / first.scale)) > 0.05) return [];
      return [{ place, share: this.#share(place, unitMm) }];
    });
  }

  /** Refines and measures the candidates that look best, each place once. */
  #judged(candidates: readonly Candidate[]): Placement[] {
    const { unitMm } = this.#fineness;
    const best = [...candidates].sort(byShare);
    const leastShare = Math.max(LEAST_SHARE / 4, (best[0]?.share ?? 0) - NOT_WORSE);
    const judged: Placement[] = [];
    const isKnown = (place: Similarity, nearMm: number) =>
      judged.some((known) => alike(known, place) && sameEffect(known, place, this.#a.box, nearMm));
    for (const candidate of best) {
      const { place, share } = candidate;
      if (share < leastShare) break;
      if (judged.length === MOST_JUDGED) {
        this.#passOver(candidate);
        break;
      }
      if (isKnown(place, 0.2 * unitMm)) continue;
      const fitted = this.#fitted(place);
      if (Math.abs(Math.log(fitted.scale / place.scale)) > 0.05 || isKnown(fitted, 0.05 * unitMm)) continue;
      const leastScore = Math.max(0, ...judged.map(score)) - OUT_OF_REACH;
      judged.push(judge(this.#a, this.#b, fitted, this.#fineness, leastScore));
    }
    return judged;
  }

  #passOver(candidate: Candidate | undefined): void {
    this.#passedOver = Math.max(this.#passedOver, candidate?.share ?? 0);
  }

  #choose(judged: readonly Placement[]): Placement | null {
    let best: Placement | null = null;
    for (const p of judged) {
      if (Math.max(p.coveredShare, p.explainedShare) < LEAST_SHARE) continue;
      if (best && score(p) < score(best) - 2 * TIE) continue;
      if (best && score(p) <= score(best) + 2 * TIE && changes(p) >= changes(best)) continue;
      best = p;
    }
    if (!best) return null;
    const chosen = best;
    const { box } = this.#a;
    const nearMm = 2 * this.#fineness.unitMm;
    const ambiguous = judged.some(
      (p) => p !== chosen && score(p) >= score(chosen) - 2 * TIE && !sameEffect(p, chosen, box, nearMm),
    );
    return { ...chosen, ambiguous };
  }
}

const byShare = (p: Candidate, q: Candidate): number => q.share - p.share || changes(p.place) - changes(q.place);

const score = (p: Placement): number => p.coveredShare + p.explainedShare;

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

const NO_SHARE = { coveredShare: 0, explainedShare: 0, offsetMm: 0, ambiguous: false };

/** Measures a placement along A's lines and along B's. As soon as it cannot come to `leastScore` any more it is given none at all. */
function judge(
  a: Side,
  b: Side,
  place: Similarity,
  { toleranceMm, mostOffsetMm }: Fineness,
  leastScore: number,
): Placement {
  const turn = orientationOf(place);
  const handed = turn.a * turn.d - turn.b * turn.c;
  const reach = mostOffsetMm + toleranceMm;
  const at = newPlaceOnLine();
  let missed = 0;
  const offsets: number[] = [];
  const open: number[] = [];
  for (let i = 0; i < a.fine.count; i++) {
    putPlaced(a.fine, i, place, turn, at);
    const hit = b.drawing.near.nearest(at, reach);
    if (hit.distanceMm > reach) {
      // All of B may still be explained, but no more of A covered than what is left.
      if (2 - ++missed / a.fine.count < leastScore) return { ...place, ...NO_SHARE };
      continue;
    }
    const keep = a.fine.keep[i]! * handed;
    // Positive away from the material that stays, which lies to the left where keep is +1.
    if (keep === 0) open.push(hit.distanceMm);
    else offsets.push(keep * (at.uy * hit.dx - at.ux * hit.dy));
  }
  const sorted = Float64Array.from(offsets).sort();
  const offsetMm = sorted.length === 0 ? 0 : sorted[sorted.length >> 1]!;
  let covered = open.filter((d) => d <= toleranceMm).length;
  for (const d of offsets) if (Math.abs(d - offsetMm) <= toleranceMm) covered++;

  const coveredShare = covered / a.fine.count;
  if (coveredShare + 1 < leastScore) return { ...place, ...NO_SHARE };
  return {
    ...place,
    coveredShare,
    explainedShare: shareBack(b.fine, a.drawing, place, Math.abs(offsetMm) + toleranceMm, leastScore - coveredShare),
    offsetMm,
    ambiguous: false,
  };
}
