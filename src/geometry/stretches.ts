import type { Segments } from './segments.ts';
import { segmentLengthMm } from './segments.ts';

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

/** Coverings of pieces, appended as they are found. */
export interface Coverings {
  piece: number[];
  from: number[];
  to: number[];
  segment: number[];
}

/** First-come pieces of segments: `from`, `to` in mm along the segment. */
export interface Pieces {
  segment: number[];
  from: number[];
  to: number[];
}

/** Turns pieces and the coverings found on them into elementary stretches. */
export function writeStretches(
  segments: Segments,
  pieces: Pieces,
  coverings: Coverings,
  toleranceMm: number,
  complete: boolean,
): Stretches {
  return new StretchWriter(segments, toleranceMm, complete).write(pieces, coverings);
}

class StretchWriter {
  readonly #segments: Segments;
  readonly #tolerance: number;
  readonly #complete: boolean;
  readonly #piece: number[] = [];
  readonly #from: number[] = [];
  readonly #to: number[] = [];
  readonly #passes: number[] = [];
  /** Owners of the coverings after the first; undefined where there are none. */
  readonly #again: (number[] | undefined)[] = [];

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
      if (first === at) this.#put(p, pieces.from[p]!, pieces.to[p]!, []);
      else this.#split(pieces, p, coverings, order.subarray(first, at));
    }
    return this.#finish(pieces);
  }

  #split(pieces: Pieces, p: number, coverings: Coverings, mine: Uint32Array): void {
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
    this.#passes.push(1 + owners.length);
    this.#again.push(owners.length === 0 ? undefined : owners.slice(0, MOST_LISTED - 1));
  }

  /**
   * Where two flattenings of a curve meet at a joint, a sliver may lack a pass that both its neighbours have, or have
   * one that both lack. Slivers up to the tolerance take what the stretch before them has.
   */
  #closeSlivers(stretches: Stretches): void {
    const passes = this.#passes;
    for (let k = 1; k < passes.length; k++) {
      const wanted = passes[k - 1]!;
      if (passes[k] === wanted) continue;
      let length = 0;
      let next = k;
      while (next < passes.length && passes[next] !== wanted && follows(stretches, next)) {
        length += stretches.lengthMm[next]!;
        if (length > this.#tolerance) break;
        next++;
      }
      if (next === k || length > this.#tolerance || next === passes.length) continue;
      if (passes[next] !== wanted || !follows(stretches, next)) continue;
      for (; k < next; k++) {
        passes[k] = wanted;
        this.#again[k] = this.#again[k - 1];
      }
    }
  }

  /** Writes the lists of passes; the first of each stretch is its own. */
  #list(stretches: Stretches): void {
    let total = 0;
    for (const again of this.#again) total += 1 + (again?.length ?? 0);
    stretches.passes = Uint32Array.from(this.#passes);
    stretches.coverOwner = new Uint32Array(total);
    let at = 0;
    for (let k = 0; k < stretches.count; k++) {
      const first = at;
      stretches.coverStart[k] = first;
      stretches.coverOwner[at++] = stretches.owner[k]!;
      for (const owner of this.#again[k] ?? []) stretches.coverOwner[at++] = owner;
      if (at > first + 1) stretches.coverOwner.subarray(first, at).sort();
    }
    stretches.coverStart[stretches.count] = at;
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
      passes: new Uint32Array(0),
      coverStart: new Uint32Array(n + 1),
      coverOwner: new Uint32Array(0),
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
    this.#closeSlivers(stretches);
    this.#list(stretches);
    return stretches;
  }
}

/** Whether a stretch begins where the one before it ends. */
function follows(stretches: Stretches, k: number): boolean {
  return Math.hypot(stretches.x0[k]! - stretches.x1[k - 1]!, stretches.y0[k]! - stretches.y1[k - 1]!) < 1e-3;
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
