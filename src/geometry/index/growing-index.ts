import type { Segments } from '../segments/segments.ts';
import { SegmentIndex } from './segment-index.ts';

/** Segments that are looked at one by one until there are enough for an index of their own. */
const FRESH = 16;

/** What it takes to enter a segment into an index, in comparisons of two. */
export const COST_OF_ENTRY = 5;

/**
 * An index that segments are put into while it is searched, out of such as cannot grow: each holds at least twice as many as the next, and
 * small ones are made into one ([BENTLEY-1980]; from memory).
 */
export class GrowingIndex {
  readonly #segments: Segments;
  readonly #partMm: number;
  /** Largest first. */
  #parts: { entries: Uint32Array; index: SegmentIndex }[] = [];
  readonly #fresh = new Uint32Array(FRESH);
  #freshCount = 0;
  /** Searches since the last segment was put in. */
  #searches = 0;
  /** Entries of all indexes that were made so far: making one costs about as much as {@link COST_OF_ENTRY} comparisons. */
  entriesMade = 0;

  constructor(segments: Segments, partMm: number) {
    this.#segments = segments;
    this.#partMm = partMm;
  }

  insert(segment: number): void {
    this.#searches = 0;
    this.#fresh[this.#freshCount++] = segment;
    if (this.#freshCount < FRESH) return;
    const joined: Uint32Array[] = [this.#fresh];
    let size = FRESH;
    while (this.#parts.length > 0 && this.#parts[this.#parts.length - 1]!.entries.length < 2 * size) {
      const { entries } = this.#parts.pop()!;
      joined.push(entries);
      size += entries.length;
    }
    this.#freshCount = 0;
    this.#add(joined, size);
  }

  /** Shows each segment that may lie within `padMm` of a piece, as {@link SegmentIndex.visit} does. */
  visit(x0: number, y0: number, x1: number, y1: number, padMm: number, see: (segment: number) => void): void {
    // Nothing was put in for as many searches as there are entries: from here on one index is cheaper than many.
    if (this.#parts.length > 1 && ++this.#searches > this.#parts[0]!.entries.length) this.#joinAll();
    const goOn = (segment: number): boolean => {
      see(segment);
      return false;
    };
    for (const { index } of this.#parts) index.visit(x0, y0, x1, y1, padMm, goOn);
    for (let k = 0; k < this.#freshCount; k++) see(this.#fresh[k]!);
  }

  #joinAll(): void {
    const joined = this.#parts.map(({ entries }) => entries);
    this.#parts = [];
    this.#add(
      joined,
      joined.reduce((sum, { length }) => sum + length, 0),
    );
  }

  #add(joined: readonly Uint32Array[], size: number): void {
    this.entriesMade += size;
    const entries = new Uint32Array(size);
    let at = 0;
    for (const some of joined) {
      entries.set(some, at);
      at += some.length;
    }
    this.#parts.push({ entries, index: new SegmentIndex(this.#segments, this.#partMm, entries) });
  }
}
