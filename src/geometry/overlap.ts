import { SegmentGrid } from './grid.ts';
import type { Segments } from './segments.ts';
import { segmentLengthMm, totalLengthMm } from './segments.ts';
import { type Coverings, type Pieces, type Stretches, writeStretches } from './stretches.ts';

export type { Stretches } from './stretches.ts';

import { directionAllowances } from './turning.ts';

/** Candidate pairs that are measured before the search gives up; ordinary jobs need a few per segment. */
const MOST_PAIRS = 60_000_000;

/** Cells of the index where pieces are long, mm. */
const WIDEST_CELL_MM = 1;

/** Directions this close (radians, or their sine) count as parallel however long the segments are: they may overlap on a part only. */
const PARALLEL = 0.5 * (Math.PI / 180);

/**
 * Finds where segments run along the same line again: forwards or backwards, split at other places, as an arc here and
 * as chords there. Taken in order, each part of a segment either runs along an earlier piece (within `toleranceMm`
 * over its whole shared length, in about the same direction) or becomes a piece of its own. Crossings at an angle and
 * neighbours that merely touch do not count. The time grows with the number of segments and their summed length.
 */
export function findOverlaps(segments: Segments, options: { toleranceMm?: number } = {}): Stretches {
  const tolerance = options.toleranceMm ?? 0.05;
  const total = totalLengthMm(segments);
  // Cells about as long as the pieces: wider ones hold many that are nowhere near, narrower ones make long pieces dear.
  const cellMm = Math.max(4 * tolerance, Math.min(WIDEST_CELL_MM, total / Math.max(1, segments.count)));
  const grid = new SegmentGrid(cellMm, segments.count, total);
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
  return writeStretches(segments, pieces, coverings, tolerance, pairs < MOST_PAIRS);
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
  /** Sine of each segment's direction allowance, and its unit direction. */
  readonly #play: Float64Array;
  readonly #ux: Float64Array;
  readonly #uy: Float64Array;
  readonly #tolerance: number;
  #claims: Claim[] = [];
  #segment = 0;
  #length = 0;

  constructor(segments: Segments, pieces: Pieces, allowance: Float64Array, toleranceMm: number) {
    this.#segments = segments;
    this.#pieces = pieces;
    this.#play = allowance.map(Math.sin);
    this.#ux = new Float64Array(segments.count);
    this.#uy = new Float64Array(segments.count);
    for (let i = 0; i < segments.count; i++) {
      const length = segmentLengthMm(segments, i);
      this.#ux[i] = (segments.x1[i]! - segments.x0[i]!) / length;
      this.#uy[i] = (segments.y1[i]! - segments.y0[i]!) / length;
    }
    this.#tolerance = toleranceMm;
  }

  start(segment: number, lengthMm: number): void {
    this.#segment = segment;
    this.#length = lengthMm;
    this.#claims.length = 0;
  }

  /** Notes a claim when the segment at hand runs along the piece. */
  measure(piece: number): void {
    const s = this.#segment;
    const p = this.#pieces.segment[piece]!;
    const ux = this.#ux[p]!;
    const uy = this.#uy[p]!;
    const slope = Math.abs(ux * this.#uy[s]! - uy * this.#ux[s]!);
    if (slope > this.#play[s]! + this.#play[p]! + PARALLEL) return;
    const { x0, y0, x1, y1 } = this.#segments;
    const px = x0[p]!;
    const py = y0[p]!;
    const startAlong = (x0[s]! - px) * ux + (y0[s]! - py) * uy;
    const endAlong = (x1[s]! - px) * ux + (y1[s]! - py) * uy;
    const startOff = (y0[s]! - py) * ux - (x0[s]! - px) * uy;
    const endOff = (y1[s]! - py) * ux - (x1[s]! - px) * uy;
    const run = endAlong - startAlong;

    const pieceFrom = this.#pieces.from[piece]!;
    const pieceTo = this.#pieces.to[piece]!;
    let low = Math.max(pieceFrom, Math.min(startAlong, endAlong));
    let high = Math.min(pieceTo, Math.max(startAlong, endAlong));
    if (!(high > low)) return;
    const offAt = (along: number): number => startOff + ((along - startAlong) / run) * (endOff - startOff);
    if (Math.abs(offAt(low)) > this.#tolerance || Math.abs(offAt(high)) > this.#tolerance) {
      if (slope > PARALLEL) return;
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
