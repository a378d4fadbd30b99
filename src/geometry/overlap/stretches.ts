import { grown } from '../segments/grow-array.ts';
import type { Segments } from '../segments/segments.ts';

/** Passes listed one by one for a stretch. */
export const MOST_LISTED = 255;

/** A stretch begins where the one before it ends when the two places are nearer than this, mm. */
const JOINED_MM = 1e-3;

/** A part of a segment. */
class Part {
  /** Ends, mm. */
  x0 = 0;
  y0 = 0;
  x1 = 0;
  y1 = 0;
  lengthMm = 0;

  /** Lies along a segment from one end to the other. */
  lieAlongAll({ x0, y0, x1, y1 }: Segments, segment: number): void {
    const dx = x1[segment]! - x0[segment]!;
    const dy = y1[segment]! - y0[segment]!;
    const length = Math.sqrt(dx * dx + dy * dy);
    this.x0 = x0[segment]!;
    this.y0 = y0[segment]!;
    this.x1 = this.x0 + (dx / length) * length;
    this.y1 = this.y0 + (dy / length) * length;
    this.lengthMm = length;
  }

  lieAlong({ x0, y0, x1, y1 }: Segments, segment: number, from: number, to: number): void {
    const dx = x1[segment]! - x0[segment]!;
    const dy = y1[segment]! - y0[segment]!;
    const length = Math.sqrt(dx * dx + dy * dy);
    const ux = dx / length;
    const uy = dy / length;
    this.x0 = x0[segment]! + ux * from;
    this.y0 = y0[segment]! + uy * from;
    this.x1 = x0[segment]! + ux * to;
    this.y1 = y0[segment]! + uy * to;
    this.lengthMm = to - from;
  }
}

/** A place that something runs along, with all that runs along it. Reused from stretch to stretch. */
export class Stretch extends Part {
  /** The owner that came first: its segment gives the stretch its geometry. */
  owner = 0;
  /** How often the stretch is run along, the first time included; an owner that is run along several times counts as often. */
  passes = 1;
  /** The first `listed` entries are the owners of the passes, ascending; at most `MOST_LISTED`. */
  listed = 1;
  readonly owners = new Uint32Array(MOST_LISTED);
}

/**
 * The elementary stretches of a set of segments: every place that something runs along, once, with all that runs along
 * it. Stretches follow the order of the segments that came first to each place. Segments in a row that nothing else runs
 * along are kept as one entry, so that a list of millions costs little more than what overlaps in it.
 */
export class Stretches {
  /** Longest deviation that was taken for the same place, mm. */
  readonly toleranceMm: number;
  /**
   * Why the search ended before all segments were compared: some coincidences then count as separate stretches. Null when
   * all were.
   */
  readonly endedEarly: string | null;
  readonly #segments: Segments;
  /** How often each owner is run along; null for once each. */
  readonly #timesOf: ArrayLike<number> | null;
  #entries = 0;
  /** Of each entry its segment and, of whole segments in a row, the one after the last; 0 for a part of a segment. */
  #segment = new Uint32Array(64);
  #until = new Uint32Array(64);
  /** Of a part: from where to where, mm along the segment. */
  #from = new Float64Array(64);
  #to = new Float64Array(64);
  #passes = new Uint32Array(64);
  /** How many owners are listed, the first included. */
  #listed = new Uint32Array(64);
  /** Where in `#owners` those of the passes after the first begin. */
  #again = new Uint32Array(64);
  #owners = new Uint32Array(64);
  #owned = 0;
  readonly #before = new Part();
  readonly #here = new Part();

  constructor(segments: Segments, timesOf: ArrayLike<number> | null, toleranceMm: number, endedEarly: string | null) {
    this.#segments = segments;
    this.#timesOf = timesOf;
    this.toleranceMm = toleranceMm;
    this.endedEarly = endedEarly;
  }

  /** Appends whole segments, up to the one before `until`, that nothing else runs along. */
  addWhole(segment: number, until: number): void {
    if (this.#timesOf === null) this.#addAlike(segment, until, 1);
    else for (let s = segment; s < until; s++) this.#addAlike(s, s + 1, this.#timesOf[this.#segments.owner[s]!]!);
  }

  /** Appends whole segments whose owners are all run along as often as each other. */
  #addAlike(segment: number, until: number, times: number): void {
    const last = this.#entries - 1;
    if (last >= 0 && this.#until[last] === segment && this.#passes[last] === times) this.#until[last] = until;
    else this.#add(segment, until, 0, 0, times, 1);
  }

  /** Appends a part of a segment; `again`: owners of the passes after the first, ascending. */
  addPart(segment: number, from: number, to: number, again: readonly number[]): void {
    const listed = Math.min(again.length, MOST_LISTED - 1);
    this.#add(segment, 0, from, to, this.#timesAlong(segment, again), 1 + listed);
    if (this.#owned + listed > this.#owners.length) this.#owners = grown(this.#owners, 4 * (this.#owned + listed));
    for (let k = 0; k < listed; k++) this.#owners[this.#owned++] = again[k]!;
  }

  /** How often the owner of a segment, and those that run along it again, are run along in all. */
  #timesAlong(segment: number, again: readonly number[]): number {
    const times = this.#timesOf;
    if (times === null) return 1 + again.length;
    return again.reduce((sum, owner) => sum + times[owner]!, times[this.#segments.owner[segment]!]!);
  }

  /** Lets the part that was added last go on to another place of its segment. */
  extendPart(to: number): void {
    this.#to[this.#entries - 1] = to;
  }

  /**
   * Where two flattenings of a curve meet at a joint, a sliver may lack a pass that both its neighbours have, or have
   * one that both lack. Slivers up to the tolerance take what the stretch before them has.
   */
  closeSlivers(): void {
    const passes = this.#passes;
    for (let k = 1; k < this.#entries; k++) {
      const wanted = passes[k - 1]!;
      if (passes[k] === wanted) continue;
      const next = this.#endOfSliver(k, wanted);
      for (; k < next; k++) {
        passes[k] = wanted;
        this.#listed[k] = this.#listed[k - 1]!;
        this.#again[k] = this.#again[k - 1]!;
      }
    }
  }

  /** Shows all stretches in order. */
  each(visit: (stretch: Stretch) => void): void {
    const stretch = new Stretch();
    for (let k = 0; k < this.#entries; k++) {
      const segment = this.#segment[k]!;
      const until = this.#until[k]! || segment + 1;
      stretch.passes = this.#passes[k]!;
      stretch.listed = this.#listed[k]!;
      for (let s = segment; s < until; s++) {
        this.#lay(stretch, k, s);
        stretch.owner = this.#segments.owner[s]!;
        this.#list(stretch, this.#again[k]!);
        visit(stretch);
      }
    }
  }

  #lay(part: Part, entry: number, segment: number): void {
    if (this.#until[entry] === 0) part.lieAlong(this.#segments, segment, this.#from[entry]!, this.#to[entry]!);
    else part.lieAlongAll(this.#segments, segment);
  }

  /** Lists the owners of the passes: the stretch's own goes in where it belongs. */
  #list(stretch: Stretch, again: number): void {
    const { owners, owner } = stretch;
    let own = stretch.listed - 1;
    for (; own > 0 && this.#owners[again + own - 1]! > owner; own--) owners[own] = this.#owners[again + own - 1]!;
    owners[own] = owner;
    for (let k = 0; k < own; k++) owners[k] = this.#owners[again + k]!;
  }

  #add(segment: number, until: number, from: number, to: number, passes: number, listed: number): void {
    if (this.#entries === this.#segment.length) this.#grow(4 * this.#entries);
    const at = this.#entries++;
    this.#segment[at] = segment;
    this.#until[at] = until;
    this.#from[at] = from;
    this.#to[at] = to;
    this.#passes[at] = passes;
    this.#listed[at] = listed;
    this.#again[at] = this.#owned;
  }

  #grow(capacity: number): void {
    this.#segment = grown(this.#segment, capacity);
    this.#until = grown(this.#until, capacity);
    this.#from = grown(this.#from, capacity);
    this.#to = grown(this.#to, capacity);
    this.#passes = grown(this.#passes, capacity);
    this.#listed = grown(this.#listed, capacity);
    this.#again = grown(this.#again, capacity);
  }

  /** The entry after the sliver that begins with entry k, when what follows it has `wanted` passes again; else k. */
  #endOfSliver(k: number, wanted: number): number {
    const before = this.#before;
    const here = this.#here;
    this.#lay(before, k - 1, (this.#until[k - 1]! || this.#segment[k - 1]! + 1) - 1);
    let length = 0;
    for (let next = k; next < this.#entries; next++) {
      const until = this.#until[next]! || this.#segment[next]! + 1;
      for (let s = this.#segment[next]!; s < until; s++) {
        this.#lay(here, next, s);
        if (Math.hypot(here.x0 - before.x1, here.y0 - before.y1) >= JOINED_MM) return k;
        if (this.#passes[next] === wanted) return next;
        length += here.lengthMm;
        if (length > this.toleranceMm) return k;
        before.x1 = here.x1;
        before.y1 = here.y1;
      }
    }
    return k;
  }
}
