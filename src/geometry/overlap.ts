import { SegmentGrid } from './grid.ts';
import type { Segments } from './segments.ts';
import { segmentLengthMm, totalLengthMm } from './segments.ts';
import { directionAllowances } from './turning.ts';

/**
 * The elementary stretches of a set of segments: every place that something runs along, once, with all that runs along
 * it. Stretches follow the order of the segments that came first to each place.
 */
export interface Stretches {
  count: number;
  x0: Float64Array;
  y0: Float64Array;
  x1: Float64Array;
  y1: Float64Array;
  lengthMm: Float64Array;
  /** The segment that came first, and its owner: it gives the stretch its geometry. */
  segment: Uint32Array;
  owner: Uint32Array;
  /** How often the stretch is run along, the first time included. */
  passes: Uint32Array;
  /** The coverings of stretch i are `coverOwner[coverStart[i]] … coverOwner[coverStart[i + 1] - 1]`, in owner order. */
  coverStart: Uint32Array;
  /** The owner of each pass. At most `MOST_LISTED` are listed for one stretch; `passes` counts all. */
  coverOwner: Uint32Array;
  /** Longest deviation that was taken for the same place, mm. */
  toleranceMm: number;
  /** False when the work limit was reached: some coincidences may then count as separate stretches. */
  complete: boolean;
}

/** Passes listed one by one for a stretch. */
export const MOST_LISTED = 255;

/** Candidate pairs that are measured before the search gives up; ordinary jobs need a few per segment. */
const MOST_PAIRS = 100_000_000;

/** Directions this close (radians) count as parallel however long the segments are: they may overlap on a part only. */
const PARALLEL = 0.5 * (Math.PI / 180);

/** Coverings of pieces, appended as they are found. */
interface Coverings {
  piece: number[];
  from: number[];
  to: number[];
  segment: number[];
}

/** First-come pieces of segments: `from`, `to` in mm along the segment. */
interface Pieces {
  segment: number[];
  from: number[];
  to: number[];
}

/**
 * Finds where segments run along the same line again: forwards or backwards, split at other places, as an arc here and
 * as chords there. Taken in order, each part of a segment either runs along an earlier piece (within `toleranceMm`
 * over its whole shared length, in about the same direction) or becomes a piece of its own. Crossings at an angle and
 * neighbours that merely touch do not count. The time grows with the number of segments and their summed length.
 */
export function findOverlaps(segments: Segments, options: { toleranceMm?: number } = {}): Stretches {
  const tolerance = options.toleranceMm ?? 0.05;
  const total = totalLengthMm(segments);
  const grid = new SegmentGrid(Math.max(1, 4 * tolerance), segments.count, total);
  const allowance = directionAllowances(segments);
  const pieces: Pieces = { segment: [], from: [], to: [] };
  const coverings: Coverings = { piece: [], from: [], to: [], segment: [] };
  const matcher = new PieceMatcher(segments, pieces, allowance, tolerance);
  let pairs = 0;

  for (let s = 0; s < segments.count; s++) {
    const length = segmentLengthMm(segments, s);
    const sx = segments.x0[s]!;
    const sy = segments.y0[s]!;
    const ux = (segments.x1[s]! - sx) / length;
    const uy = (segments.y1[s]! - sy) / length;
    matcher.start(s, length);
    if (pairs < MOST_PAIRS) {
      const found = grid.search(sx, sy, segments.x1[s]!, segments.y1[s]!, tolerance);
      pairs += grid.foundCount;
      for (let k = 0; k < grid.foundCount; k++) matcher.measure(found[k]!);
    }
    for (const [from, to] of matcher.settle(coverings)) {
      grid.insert(pieces.segment.length, sx + ux * from, sy + uy * from, sx + ux * to, sy + uy * to);
      pieces.segment.push(s);
      pieces.from.push(from);
      pieces.to.push(to);
    }
  }
  return new StretchWriter(segments, tolerance, pairs < MOST_PAIRS).write(pieces, coverings);
}

/** A part of the segment at hand that runs along an earlier piece. */
interface Claim {
  piece: number;
  /** On the segment at hand, mm from its start. */
  from: number;
  to: number;
  /** The same places on the piece, mm from the start of the piece's segment. */
  pieceAtFrom: number;
  pieceAtTo: number;
}

/** Measures one segment against earlier pieces and shares it out among them. */
class PieceMatcher {
  readonly #segments: Segments;
  readonly #pieces: Pieces;
  readonly #allowance: Float64Array;
  readonly #tolerance: number;
  #claims: Claim[] = [];
  #segment = 0;
  #length = 0;

  constructor(segments: Segments, pieces: Pieces, allowance: Float64Array, toleranceMm: number) {
    this.#segments = segments;
    this.#pieces = pieces;
    this.#allowance = allowance;
    this.#tolerance = toleranceMm;
  }

  start(segment: number, lengthMm: number): void {
    this.#segment = segment;
    this.#length = lengthMm;
    this.#claims = [];
  }

  /** Notes a claim when the segment at hand runs along the piece. */
  measure(piece: number): void {
    const { x0, y0, x1, y1 } = this.#segments;
    const s = this.#segment;
    const p = this.#pieces.segment[piece]!;
    const px = x0[p]!;
    const py = y0[p]!;
    const pLength = Math.hypot(x1[p]! - px, y1[p]! - py);
    const ux = (x1[p]! - px) / pLength;
    const uy = (y1[p]! - py) / pLength;
    const startAlong = (x0[s]! - px) * ux + (y0[s]! - py) * uy;
    const endAlong = (x1[s]! - px) * ux + (y1[s]! - py) * uy;
    const startOff = (y0[s]! - py) * ux - (x0[s]! - px) * uy;
    const endOff = (y1[s]! - py) * ux - (x1[s]! - px) * uy;
    const run = endAlong - startAlong;
    const slope = Math.abs(endOff - startOff) / this.#length;
    if (slope > Math.sin(this.#allowance[s]! + this.#allowance[p]! + PARALLEL)) return;

    const pieceFrom = this.#pieces.from[piece]!;
    const pieceTo = this.#pieces.to[piece]!;
    let low = Math.max(pieceFrom, Math.min(startAlong, endAlong));
    let high = Math.min(pieceTo, Math.max(startAlong, endAlong));
    if (!(high > low)) return;
    const offAt = (along: number): number => startOff + ((along - startAlong) / run) * (endOff - startOff);
    if (Math.abs(offAt(low)) > this.#tolerance || Math.abs(offAt(high)) > this.#tolerance) {
      if (slope > Math.sin(PARALLEL)) return;
      // Nearly parallel lines that drift apart share the part that is still within the tolerance.
      const perOff = run / (endOff - startOff);
      const a = startAlong + (this.#tolerance - startOff) * perOff;
      const b = startAlong + (-this.#tolerance - startOff) * perOff;
      low = Math.max(low, Math.min(a, b));
      high = Math.min(high, Math.max(a, b));
    }
    if (high - low < this.#shortest(pieceTo - pieceFrom)) return;
    const perAlong = this.#length / run;
    const atLow = clamp((low - startAlong) * perAlong, this.#length);
    const atHigh = clamp((high - startAlong) * perAlong, this.#length);
    this.#claims.push(
      atLow <= atHigh
        ? { piece, from: atLow, to: atHigh, pieceAtFrom: low, pieceAtTo: high }
        : { piece, from: atHigh, to: atLow, pieceAtFrom: high, pieceAtTo: low },
    );
  }

  /** Writes the coverings and returns what is left of the segment as new pieces, [from, to] in mm. */
  settle(coverings: Coverings): [number, number][] {
    const length = this.#length;
    if (this.#claims.length === 0) return [[0, length]];
    this.#claims.sort((a, b) => a.piece - b.piece);
    const shortest = this.#shortest(length);
    let free: [number, number][] = [[0, length]];
    for (const claim of this.#claims) {
      const left: [number, number][] = [];
      for (const [from, to] of free) {
        const low = Math.max(from, claim.from);
        const high = Math.min(to, claim.to);
        if (high - low < shortest) {
          left.push([from, to]);
          continue;
        }
        const perMm = (claim.pieceAtTo - claim.pieceAtFrom) / (claim.to - claim.from);
        const a = claim.pieceAtFrom + (low - claim.from) * perMm;
        const b = claim.pieceAtFrom + (high - claim.from) * perMm;
        coverings.piece.push(claim.piece);
        coverings.from.push(Math.min(a, b));
        coverings.to.push(Math.max(a, b));
        coverings.segment.push(this.#segment);
        if (low > from) left.push([from, low]);
        if (high < to) left.push([high, to]);
      }
      free = left;
    }
    // Slivers left at the joints of two splittings, or of arc and chords, belong to the stretch beside them.
    const sliver = Math.min(this.#tolerance, length / 2);
    return free.filter(([from, to]) => to - from > sliver);
  }

  /** Shared lengths below this are the touch of two ends, not a run along the same line. */
  #shortest(otherMm: number): number {
    return Math.min(this.#tolerance / 2, this.#length / 8, otherMm / 8);
  }
}

const clamp = (v: number, most: number): number => Math.min(most, Math.max(0, v));

/** Turns pieces and coverings into elementary stretches. */
class StretchWriter {
  readonly #segments: Segments;
  readonly #tolerance: number;
  readonly #complete: boolean;
  readonly #piece: number[] = [];
  readonly #from: number[] = [];
  readonly #to: number[] = [];
  readonly #passes: number[] = [];
  readonly #coverStart: number[] = [0];
  readonly #coverOwner: number[] = [];

  constructor(segments: Segments, toleranceMm: number, complete: boolean) {
    this.#segments = segments;
    this.#tolerance = toleranceMm;
    this.#complete = complete;
  }

  write(pieces: Pieces, coverings: Coverings): Stretches {
    const order = Uint32Array.from(coverings.piece.keys()).sort((a, b) => coverings.piece[a]! - coverings.piece[b]!);
    let at = 0;
    for (let p = 0; p < pieces.segment.length; p++) {
      const first = at;
      while (at < order.length && coverings.piece[order[at]!] === p) at++;
      if (first === at) this.#put(p, pieces.from[p]!, pieces.to[p]!, [this.#segments.owner[pieces.segment[p]!]!]);
      else this.#split(pieces, p, coverings, order.subarray(first, at));
    }
    return this.#finish(pieces);
  }

  #split(pieces: Pieces, p: number, coverings: Coverings, mine: Uint32Array): void {
    const own = this.#segments.owner[pieces.segment[p]!]!;
    const cuts = this.#cuts(pieces.from[p]!, pieces.to[p]!, coverings, mine);
    const starts: number[][] = Array.from({ length: cuts.length }, () => []);
    const last = cuts.length - 1;
    for (const c of mine) starts[nearest(cuts, coverings.from[c]!)]!.push(c);
    let running: number[] = [];
    let before: number[] | null = null;
    for (let k = 0; k < last; k++) {
      running = running.filter((c) => nearest(cuts, coverings.to[c]!) > k);
      for (const c of starts[k]!) if (nearest(cuts, coverings.to[c]!) > k) running.push(c);
      const owners = [own, ...running.map((c) => this.#segments.owner[coverings.segment[c]!]!)].sort((a, b) => a - b);
      if (before && sameList(before, owners)) this.#to[this.#to.length - 1] = cuts[k + 1]!;
      else this.#put(p, cuts[k]!, cuts[k + 1]!, owners);
      before = owners;
    }
  }

  /** Where the coverings of a piece begin and end: places closer than the joints of two splittings are one. */
  #cuts(pieceFrom: number, pieceTo: number, coverings: Coverings, mine: Uint32Array): number[] {
    const ends: { at: number; play: number }[] = [];
    for (const c of mine) {
      const from = coverings.from[c]!;
      const to = coverings.to[c]!;
      const play = Math.min(this.#tolerance, (to - from) / 2);
      ends.push({ at: from, play }, { at: to, play });
    }
    ends.sort((a, b) => a.at - b.at);
    const edge = Math.min(this.#tolerance, (pieceTo - pieceFrom) / 4);
    const cuts = [pieceFrom];
    for (const { at, play } of ends) {
      const previous = cuts[cuts.length - 1]!;
      if (at - previous <= Math.min(play, edge) || pieceTo - at <= Math.min(play, edge)) continue;
      cuts.push(at);
    }
    cuts.push(pieceTo);
    return cuts;
  }

  #put(piece: number, from: number, to: number, owners: number[]): void {
    this.#piece.push(piece);
    this.#from.push(from);
    this.#to.push(to);
    this.#passes.push(owners.length);
    for (let k = 0; k < Math.min(owners.length, MOST_LISTED); k++) this.#coverOwner.push(owners[k]!);
    this.#coverStart.push(this.#coverOwner.length);
  }

  #finish(pieces: Pieces): Stretches {
    const n = this.#piece.length;
    const stretches: Stretches = {
      count: n,
      x0: new Float64Array(n),
      y0: new Float64Array(n),
      x1: new Float64Array(n),
      y1: new Float64Array(n),
      lengthMm: new Float64Array(n),
      segment: new Uint32Array(n),
      owner: new Uint32Array(n),
      passes: Uint32Array.from(this.#passes),
      coverStart: Uint32Array.from(this.#coverStart),
      coverOwner: Uint32Array.from(this.#coverOwner),
      toleranceMm: this.#tolerance,
      complete: this.#complete,
    };
    const { x0, y0, x1, y1 } = this.#segments;
    for (let k = 0; k < n; k++) {
      const s = pieces.segment[this.#piece[k]!]!;
      const length = segmentLengthMm(this.#segments, s);
      const ux = (x1[s]! - x0[s]!) / length;
      const uy = (y1[s]! - y0[s]!) / length;
      stretches.x0[k] = x0[s]! + ux * this.#from[k]!;
      stretches.y0[k] = y0[s]! + uy * this.#from[k]!;
      stretches.x1[k] = x0[s]! + ux * this.#to[k]!;
      stretches.y1[k] = y0[s]! + uy * this.#to[k]!;
      stretches.lengthMm[k] = this.#to[k]! - this.#from[k]!;
      stretches.segment[k] = s;
      stretches.owner[k] = this.#segments.owner[s]!;
    }
    return stretches;
  }
}

/** Index of the cut nearest to a place; `cuts` ascend. */
function nearest(cuts: readonly number[], at: number): number {
  let low = 0;
  let high = cuts.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (cuts[middle]! <= at) low = middle;
    else high = middle;
  }
  return at - cuts[low]! <= cuts[high]! - at ? low : high;
}

function sameList(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
