import { grown } from './grown.ts';
import type { Coverings, Pieces } from './pieces.ts';
import { type Segments, segmentLengthMm } from './segments.ts';

/**
 * The elementary stretches of a set of segments: every place that something runs along, once, with all that runs along
 * it. Stretches follow the order of the segments that came first to each place.
 */
export interface Stretches {
  count: number;
  /** What the stretches are parts of. */
  segments: Segments;
  /** The segment that came first: it gives the stretch its geometry, from `from` on for `lengthMm`; see `endsOf`. */
  segment: Uint32Array;
  from: Float64Array;
  lengthMm: Float64Array;
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

/** Ends of a stretch, mm. */
export interface Ends {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

/** Sets `ends` to those of stretch k. */
export function locate({ segments, segment, from, lengthMm }: Stretches, k: number, ends: Ends): void {
  locatePart(segments, segment[k]!, from[k]!, from[k]! + lengthMm[k]!, ends);
}

/** Ends of the part of segment s between two distances from its start. */
function locatePart({ x0, y0, x1, y1 }: Segments, s: number, from: number, to: number, ends: Ends): void {
  const dx = x1[s]! - x0[s]!;
  const dy = y1[s]! - y0[s]!;
  const length = Math.sqrt(dx * dx + dy * dy);
  const ux = dx / length;
  const uy = dy / length;
  ends.x0 = x0[s]! + ux * from;
  ends.y0 = y0[s]! + uy * from;
  ends.x1 = x0[s]! + ux * to;
  ends.y1 = y0[s]! + uy * to;
}

/** What was found along a set of segments. */
export interface Shares {
  /** 0 where a segment is one piece that nothing runs along; it is then not among the pieces. */
  touched: Uint8Array;
  pieces: Pieces;
  coverings: Coverings;
}

/** Turns pieces and the coverings found on them into elementary stretches. */
export function writeStretches(segments: Segments, shares: Shares, toleranceMm: number, complete: boolean): Stretches {
  return new StretchWriter(segments, toleranceMm).write(shares, complete);
}

const NO_OWNERS: readonly number[] = [];

class StretchWriter {
  readonly #segments: Segments;
  readonly #tolerance: number;
  #count = 0;
  #segment: Uint32Array;
  #from: Float64Array;
  #to: Float64Array;
  #passes: Uint32Array;
  /** Where the owners of the coverings after the first begin. */
  #again: Uint32Array;
  #owners = new Uint32Array(64);
  #owned = 0;

  constructor(segments: Segments, toleranceMm: number) {
    this.#segments = segments;
    this.#tolerance = toleranceMm;
    const capacity = segments.count + 64;
    this.#segment = new Uint32Array(capacity);
    this.#from = new Float64Array(capacity);
    this.#to = new Float64Array(capacity);
    this.#passes = new Uint32Array(capacity);
    this.#again = new Uint32Array(capacity);
  }

  write({ touched, pieces, coverings }: Shares, complete: boolean): Stretches {
    const { start, order } = coverings.byPiece(pieces.count);
    let p = 0;
    for (let s = 0; s < this.#segments.count; s++) {
      if (touched[s] === 0) this.#put(s, 0, segmentLengthMm(this.#segments, s), NO_OWNERS);
      else {
        for (; pieces.isOf(p, s); p++) {
          const mine = order.subarray(start[p]!, start[p + 1]!);
          if (mine.length === 0) this.#put(s, pieces.from[p]!, pieces.to[p]!, NO_OWNERS);
          else this.#split(pieces, p, coverings, mine);
        }
      }
    }
    this.#closeSlivers();
    return this.#finish(complete);
  }

  #split(pieces: Pieces, p: number, coverings: Coverings, mine: Uint32Array): void {
    const segment = pieces.segment[p]!;
    const cuts = this.#cuts(pieces.from[p]!, pieces.to[p]!, coverings, mine);
    const starts: number[][] = Array.from({ length: cuts.length }, () => []);
    const last = cuts.length - 1;
    for (const c of mine) starts[nearest(cuts, coverings.from[c]!)]!.push(c);
    let running: number[] = [];
    let before: number[] | null = null;
    for (let k = 0; k < last; k++) {
      running = running.filter((c) => nearest(cuts, coverings.to[c]!) > k);
      for (const c of starts[k]!) if (nearest(cuts, coverings.to[c]!) > k) running.push(c);
      const owners = running.map((c) => this.#segments.owner[coverings.segment[c]!]!).sort((a, b) => a - b);
      if (before && sameList(before, owners)) this.#to[this.#count - 1] = cuts[k + 1]!;
      else this.#put(segment, cuts[k]!, cuts[k + 1]!, owners);
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

  #put(segment: number, from: number, to: number, owners: readonly number[]): void {
    if (this.#count === this.#segment.length) this.#grow();
    const at = this.#count++;
    this.#segment[at] = segment;
    this.#from[at] = from;
    this.#to[at] = to;
    this.#passes[at] = 1 + owners.length;
    this.#again[at] = this.#owned;
    const listed = Math.min(owners.length, MOST_LISTED - 1);
    if (this.#owned + listed > this.#owners.length) this.#owners = grown(this.#owners, 4 * (this.#owned + listed));
    for (let k = 0; k < listed; k++) this.#owners[this.#owned++] = owners[k]!;
  }

  #grow(): void {
    const capacity = 2 * this.#count;
    this.#segment = grown(this.#segment, capacity);
    this.#from = grown(this.#from, capacity);
    this.#to = grown(this.#to, capacity);
    this.#passes = grown(this.#passes, capacity);
    this.#again = grown(this.#again, capacity);
  }

  /**
   * Where two flattenings of a curve meet at a joint, a sliver may lack a pass that both its neighbours have, or have
   * one that both lack. Slivers up to the tolerance take what the stretch before them has.
   */
  #closeSlivers(): void {
    const passes = this.#passes;
    const count = this.#count;
    for (let k = 1; k < count; k++) {
      const wanted = passes[k - 1]!;
      if (passes[k] === wanted) continue;
      let length = 0;
      let next = k;
      while (next < count && passes[next] !== wanted && this.#follows(next)) {
        length += this.#to[next]! - this.#from[next]!;
        if (length > this.#tolerance) break;
        next++;
      }
      if (next === k || length > this.#tolerance || next === count) continue;
      if (passes[next] !== wanted || !this.#follows(next)) continue;
      for (; k < next; k++) {
        passes[k] = wanted;
        this.#again[k] = this.#again[k - 1]!;
      }
    }
  }

  readonly #before: Ends = { x0: 0, y0: 0, x1: 0, y1: 0 };
  readonly #here: Ends = { x0: 0, y0: 0, x1: 0, y1: 0 };

  /** Whether a stretch begins where the one before it ends. */
  #follows(k: number): boolean {
    locatePart(this.#segments, this.#segment[k - 1]!, this.#from[k - 1]!, this.#to[k - 1]!, this.#before);
    locatePart(this.#segments, this.#segment[k]!, this.#from[k]!, this.#to[k]!, this.#here);
    return Math.hypot(this.#here.x0 - this.#before.x1, this.#here.y0 - this.#before.y1) < 1e-3;
  }

  #finish(complete: boolean): Stretches {
    const n = this.#count;
    const lengthMm = this.#to.subarray(0, n);
    for (let k = 0; k < n; k++) lengthMm[k] = this.#to[k]! - this.#from[k]!;
    return {
      count: n,
      segments: this.#segments,
      segment: this.#segment.subarray(0, n),
      from: this.#from.subarray(0, n),
      lengthMm,
      passes: this.#passes.subarray(0, n),
      ...this.#list(),
      toleranceMm: this.#tolerance,
      complete,
    };
  }

  /** Writes the lists of passes; the first of each stretch is its own. */
  #list(): Pick<Stretches, 'coverStart' | 'coverOwner'> {
    const n = this.#count;
    let total = 0;
    for (let k = 0; k < n; k++) total += Math.min(this.#passes[k]!, MOST_LISTED);
    const coverStart = new Uint32Array(n + 1);
    const coverOwner = new Uint32Array(total);
    let at = 0;
    for (let k = 0; k < n; k++) {
      const first = at;
      const listed = Math.min(this.#passes[k]!, MOST_LISTED);
      coverStart[k] = first;
      coverOwner[at++] = this.#segments.owner[this.#segment[k]!]!;
      for (let c = 0; c < listed - 1; c++) coverOwner[at++] = this.#owners[this.#again[k]! + c]!;
      if (listed > 1) coverOwner.subarray(first, at).sort();
    }
    coverStart[n] = at;
    return { coverStart, coverOwner };
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
