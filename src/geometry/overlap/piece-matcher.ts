import { type Segments, segmentLengthMm } from '../segments/segments.ts';
import type { Coverings, Pieces } from './pieces.ts';

/** Directions this close (radians, or their sine) count as parallel however long the segments are: they may overlap on a part only. */
export const PARALLEL = 0.5 * (Math.PI / 180);

/** A part of the segment at hand that runs along an earlier piece. */
interface Overlap {
  piece: number;
  /** On the segment at hand, mm from its start. */
  from: number;
  to: number;
  /** The same places on the piece, mm from the start of the piece's segment. */
  pieceAtFrom: number;
  pieceAtTo: number;
}

/** The segment at hand seen from an earlier one: where its ends lie along and beside it, mm. */
interface Sight {
  start: number;
  end: number;
  startOff: number;
  endOff: number;
  parallel: boolean;
}

/** Measures one segment against the pieces of earlier ones and shares it out among them. */
export class PieceMatcher {
  readonly #segments: Segments;
  readonly #pieces: Pieces;
  readonly #allowance: Float32Array;
  readonly #tolerance: number;
  readonly #overlaps: Overlap[] = [];
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
    this.#overlaps.length = 0;
  }

  /** Notes the overlap with each piece of an earlier segment that the segment at hand runs along. */
  measure(earlier: number): void {
    const pieces = this.#pieces;
    let piece = pieces.firstOf(earlier);
    if (!pieces.isOf(piece, earlier)) return;
    const sight = this.#sightFrom(earlier);
    if (sight === null) return;
    for (; pieces.isOf(piece, earlier); piece++) this.#overlapWith(piece, sight);
  }

  /** Null when the two do not run in about the same direction. */
  #sightFrom(earlier: number): Sight | null {
    const s = this.#segment;
    const { x0, y0, x1, y1 } = this.#segments;
    const px = x0[earlier]!;
    const py = y0[earlier]!;
    const length = segmentLengthMm(this.#segments, earlier);
    const ux = (x1[earlier]! - px) / length;
    const uy = (y1[earlier]! - py) / length;
    const slope = Math.abs(ux * this.#uy - uy * this.#ux);
    const play = Math.sin(this.#allowance[s]!) + Math.sin(this.#allowance[earlier]!);
    if (slope > play + PARALLEL) return null;
    return {
      start: (x0[s]! - px) * ux + (y0[s]! - py) * uy,
      end: (x1[s]! - px) * ux + (y1[s]! - py) * uy,
      startOff: (y0[s]! - py) * ux - (x0[s]! - px) * uy,
      endOff: (y1[s]! - py) * ux - (x1[s]! - px) * uy,
      parallel: slope <= PARALLEL,
    };
  }

  #overlapWith(piece: number, { start, end, startOff, endOff, parallel }: Sight): void {
    const pieceFrom = this.#pieces.from[piece]!;
    const pieceTo = this.#pieces.to[piece]!;
    const run = end - start;
    let low = Math.max(pieceFrom, Math.min(start, end));
    let high = Math.min(pieceTo, Math.max(start, end));
    if (!(high > low)) return;
    const offAt = (along: number): number => startOff + ((along - start) / run) * (endOff - startOff);
    if (Math.abs(offAt(low)) > this.#tolerance || Math.abs(offAt(high)) > this.#tolerance) {
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
    this.#overlaps.push(
      atLow <= atHigh
        ? { piece, from: atLow, to: atHigh, pieceAtFrom: low, pieceAtTo: high }
        : { piece, from: atHigh, to: atLow, pieceAtFrom: high, pieceAtTo: low },
    );
  }

  /** Writes the coverings, and what is left of the segment as new pieces; answers with the number of these. */
  settle(coverings: Coverings): number {
    const length = this.#length;
    if (this.#overlaps.length === 0) {
      this.#pieces.add(this.#segment, 0, length);
      return 1;
    }
    if (this.#overlaps.length > 1) this.#overlaps.sort((a, b) => a.piece - b.piece);
    const shortest = this.#shortest(length);
    let free: [number, number][] = [[0, length]];
    for (const overlap of this.#overlaps) {
      const left: [number, number][] = [];
      for (const [from, to] of free) {
        const low = Math.max(from, overlap.from);
        const high = Math.min(to, overlap.to);
        if (high - low < shortest) {
          left.push([from, to]);
          continue;
        }
        const perMm = (overlap.pieceAtTo - overlap.pieceAtFrom) / (overlap.to - overlap.from);
        const a = overlap.pieceAtFrom + (low - overlap.from) * perMm;
        const b = overlap.pieceAtFrom + (high - overlap.from) * perMm;
        coverings.add(overlap.piece, Math.min(a, b), Math.max(a, b), this.#segment);
        if (low > from) left.push([from, low]);
        if (high < to) left.push([high, to]);
      }
      free = left;
    }
    // Slivers left at the joints of two splittings, or of arc and chords, belong to the stretch beside them.
    const sliver = Math.min(this.#tolerance, length / 2);
    const before = this.#pieces.count;
    for (const [from, to] of free) if (to - from > sliver) this.#pieces.add(this.#segment, from, to);
    return this.#pieces.count - before;
  }

  /** Shared lengths below this are the touch of two ends, not a run along the same line. */
  #shortest(otherMm: number): number {
    return Math.min(this.#tolerance / 2, this.#length / 8, otherMm / 8);
  }
}

const clamp = (v: number, most: number): number => Math.min(most, Math.max(0, v));
