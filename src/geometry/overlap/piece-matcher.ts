import { type Segments, segmentLengthMm } from '../segments/segments.ts';
import type { Coverings, Pieces } from './pieces.ts';

/** Directions this close (radians, or their sine) count as parallel however long the segments are: they may overlap on a part only. */
export const PARALLEL = 0.5 * (Math.PI / 180);

/** A part of the segment at hand that runs along an earlier piece. Used again from segment to segment. */
class Overlap {
  piece = 0;
  /** On the segment at hand, mm from its start. */
  from = 0;
  to = 0;
  /** The same places on the piece, mm from the start of the piece's segment. */
  pieceAtFrom = 0;
  pieceAtTo = 0;
}

/** The segment at hand seen from an earlier one: where its ends lie along and beside it, mm. */
class Sight {
  start = 0;
  end = 0;
  startOff = 0;
  endOff = 0;
  parallel = false;
}

/** Measures one segment against the pieces of earlier ones and shares it out among them. */
export class PieceMatcher {
  readonly #segments: Segments;
  readonly #pieces: Pieces;
  readonly #allowance: Float32Array;
  readonly #tolerance: number;
  /** The first `#found` count. */
  readonly #overlaps: Overlap[] = [];
  #found = 0;
  readonly #sight = new Sight();
  /** What is left of the segment at hand: from, to, from, to …, mm; and room for what will be. */
  #free: number[] = [];
  #left: number[] = [];
  #segment = 0;
  #length = 0;
  /** Unit direction of the segment at hand. */
  #ux = 0;
  #uy = 0;

  constructor(segments: Segments, pieces: Pieces, allowance: Float32Array, toleranceMm: number) {
    this.#segments = segments;
    this.#pieces = pieces;
    this.#allowance = allowance;
    this.#tolerance = toleranceMm;
  }

  start(segment: number): void {
    const { x0, y0, x1, y1 } = this.#segments;
    this.#segment = segment;
    this.#length = segmentLengthMm(this.#segments, segment);
    this.#ux = (x1[segment]! - x0[segment]!) / this.#length;
    this.#uy = (y1[segment]! - y0[segment]!) / this.#length;
    this.#found = 0;
  }

  /** Notes the overlap with each piece of an earlier segment that the segment at hand runs along. */
  measure(earlier: number): void {
    const pieces = this.#pieces;
    let piece = pieces.firstOf(earlier);
    if (!pieces.isOf(piece, earlier)) return;
    if (!this.#lookFrom(earlier)) return;
    for (; pieces.isOf(piece, earlier); piece++) this.#overlapWith(piece);
  }

  /** Lays `#sight`; false when the two do not run in about the same direction. */
  #lookFrom(earlier: number): boolean {
    const s = this.#segment;
    const { x0, y0, x1, y1 } = this.#segments;
    const px = x0[earlier]!;
    const py = y0[earlier]!;
    const length = segmentLengthMm(this.#segments, earlier);
    const ux = (x1[earlier]! - px) / length;
    const uy = (y1[earlier]! - py) / length;
    const slope = Math.abs(ux * this.#uy - uy * this.#ux);
    const play = Math.sin(this.#allowance[s]!) + Math.sin(this.#allowance[earlier]!);
    if (slope > play + PARALLEL) return false;
    const sight = this.#sight;
    sight.start = (x0[s]! - px) * ux + (y0[s]! - py) * uy;
    sight.end = (x1[s]! - px) * ux + (y1[s]! - py) * uy;
    sight.startOff = (y0[s]! - py) * ux - (x0[s]! - px) * uy;
    sight.endOff = (y1[s]! - py) * ux - (x1[s]! - px) * uy;
    sight.parallel = slope <= PARALLEL;
    return true;
  }

  #overlapWith(piece: number): void {
    const { start, end, startOff, endOff, parallel } = this.#sight;
    const pieceFrom = this.#pieces.from[piece]!;
    const pieceTo = this.#pieces.to[piece]!;
    const run = end - start;
    let low = Math.max(pieceFrom, Math.min(start, end));
    let high = Math.min(pieceTo, Math.max(start, end));
    if (!(high > low)) return;
    const lowOff = startOff + ((low - start) / run) * (endOff - startOff);
    const highOff = startOff + ((high - start) / run) * (endOff - startOff);
    if (Math.abs(lowOff) > this.#tolerance || Math.abs(highOff) > this.#tolerance) {
      if (!parallel) return;
      // Nearly parallel lines that drift apart share the part that is still within the tolerance.
      const perOff = run / (endOff - startOff);
      const a = start + (this.#tolerance - startOff) * perOff;
      const b = start + (-this.#tolerance - startOff) * perOff;
      low = Math.max(low, Math.min(a, b));
      high = Math.min(high, Math.max(a, b));
    }
    if (high - low < this.#shortest(pieceTo - pieceFrom)) return;
    const perAlong = this.#length / run;
    const atLow = clamp((low - start) * perAlong, this.#length);
    const atHigh = clamp((high - start) * perAlong, this.#length);
    const forwards = atLow <= atHigh;
    if (this.#found === this.#overlaps.length) this.#overlaps.push(new Overlap());
    const overlap = this.#overlaps[this.#found++]!;
    overlap.piece = piece;
    overlap.from = forwards ? atLow : atHigh;
    overlap.to = forwards ? atHigh : atLow;
    overlap.pieceAtFrom = forwards ? low : high;
    overlap.pieceAtTo = forwards ? high : low;
  }

  /** Writes the coverings, and what is left of the segment as new pieces; answers with the number of these. */
  settle(coverings: Coverings): number {
    const length = this.#length;
    if (this.#found === 0) {
      this.#pieces.add(this.#segment, 0, length);
      return 1;
    }
    this.#sortByPiece();
    this.#free[0] = 0;
    this.#free[1] = length;
    let ends = 2;
    for (let k = 0; k < this.#found; k++) ends = this.#take(this.#overlaps[k]!, ends, coverings);
    // Slivers left at the joints of two splittings, or of arc and chords, belong to the stretch beside them.
    const sliver = Math.min(this.#tolerance, length / 2);
    const free = this.#free;
    let added = 0;
    for (let k = 0; k < ends; k += 2) {
      if (free[k + 1]! - free[k]! <= sliver) continue;
      this.#pieces.add(this.#segment, free[k]!, free[k + 1]!);
      added++;
    }
    return added;
  }

  /** Gives an overlap what is still free of it; `ends`: how many numbers of `#free` count, before and afterwards. */
  #take(overlap: Overlap, ends: number, coverings: Coverings): number {
    const free = this.#free;
    const left = this.#left;
    const shortest = this.#shortest(this.#length);
    const perMm = (overlap.pieceAtTo - overlap.pieceAtFrom) / (overlap.to - overlap.from);
    let kept = 0;
    for (let k = 0; k < ends; k += 2) {
      const from = free[k]!;
      const to = free[k + 1]!;
      const low = Math.max(from, overlap.from);
      const high = Math.min(to, overlap.to);
      const isTaken = !(high - low < shortest);
      if (isTaken) {
        const a = overlap.pieceAtFrom + (low - overlap.from) * perMm;
        const b = overlap.pieceAtFrom + (high - overlap.from) * perMm;
        coverings.add(overlap.piece, Math.min(a, b), Math.max(a, b), this.#segment);
      }
      if (!isTaken || low > from) {
        left[kept++] = from;
        left[kept++] = isTaken ? low : to;
      }
      if (isTaken && high < to) {
        left[kept++] = high;
        left[kept++] = to;
      }
    }
    this.#free = left;
    this.#left = free;
    return kept;
  }

  /** They are mostly found in order. */
  #sortByPiece(): void {
    const overlaps = this.#overlaps;
    let sorted = 1;
    while (sorted < this.#found && overlaps[sorted - 1]!.piece <= overlaps[sorted]!.piece) sorted++;
    if (sorted >= this.#found) return;
    const inOrder = overlaps.slice(0, this.#found).sort((a, b) => a.piece - b.piece);
    for (let k = 0; k < inOrder.length; k++) overlaps[k] = inOrder[k]!;
  }

  /** Shared lengths below this are the touch of two ends, not a run along the same line. */
  #shortest(otherMm: number): number {
    return Math.min(this.#tolerance / 2, this.#length / 8, otherMm / 8);
  }
}

const clamp = (v: number, most: number): number => Math.min(most, Math.max(0, v));
