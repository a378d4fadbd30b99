import Flatbush from 'flatbush';
import type { Box } from '../outlines/outline.ts';
import { grown } from '../segments/grow-array.ts';
import { type Segments, totalLengthMm } from '../segments/segments.ts';

/** Boxes that the parts of long slanted segments may add. */
const MOST_ADDED = 4_000_000;
const ADDED_EACH = 100;
const ALWAYS_ADDED = 20_000;

/** What going down the tree costs, in parts that are met. */
const COST_OF_DESCENT = 6;

/** Relative error of a number that is kept in 32 bits, with a reserve. */
const SINGLE = 2 ** -23;

/**
 * Parts that suit searches around segments like those of the index: a millimetre, or a quarter of their mean length. Shorter ones would
 * have long lines searched for in thousands of pieces.
 */
export function partLengthMm(segments: Segments): number {
  return Math.max(1, totalLengthMm(segments) / Math.max(1, segments.count) / 4);
}

/**
 * A spatial index of segments: flatbush's R-tree over their boxes. A slanted segment is entered part by part, since its one box would meet
 * all that lies anywhere between its ends; what is searched for is taken part by part for the same reason.
 */
export class SegmentIndex {
  readonly #tree: Flatbush | null;
  readonly #partMm: number;
  /** Numbers of the segments that were entered; null for all. */
  readonly #only: Uint32Array | null;
  /** Entry of each box; null where each entry has one box, with its own number. */
  readonly #entryOf: Uint32Array | null;
  /** Search that met each entry last. */
  readonly #stamps: Uint32Array;
  #stamp = 0;
  #visit: (segment: number) => boolean = () => false;
  /** Whether a segment is shown once, and not with every part. */
  #once = true;
  /** What searches have cost so far: parts that they came upon, and going down the tree once more for each part of a long piece. */
  partsMet = 0;
  /** Box of the part that is being shown: minX, minY, maxX, maxY. */
  readonly shownBox = new Float64Array(4);
  #found = new Int32Array(64);
  #foundCount = 0;

  /**
   * @param partMm a part's box is at most this wide across its shorter side, unless that would take far more boxes than there are segments.
   * @param only numbers of the segments to enter; all of them when it is left out.
   */
  constructor(segments: Segments, partMm: number, only?: Uint32Array) {
    const { x0, y0, x1, y1 } = segments;
    const count = only?.length ?? segments.count;
    let acrossMm = 0;
    let farthestMm = 0;
    for (let k = 0; k < count; k++) {
      const i = only ? only[k]! : k;
      acrossMm += Math.min(Math.abs(x1[i]! - x0[i]!), Math.abs(y1[i]! - y0[i]!));
      farthestMm = Math.max(farthestMm, Math.abs(x0[i]!), Math.abs(y0[i]!), Math.abs(x1[i]!), Math.abs(y1[i]!));
    }
    this.#partMm = Math.max(partMm, acrossMm / Math.min(MOST_ADDED, ALWAYS_ADDED + ADDED_EACH * count));
    let boxes = 0;
    for (let k = 0; k < count; k++) {
      const i = only ? only[k]! : k;
      boxes += this.#partsOf(x1[i]! - x0[i]!, y1[i]! - y0[i]!);
    }
    this.#only = only ?? null;
    this.#entryOf = boxes === count ? null : new Uint32Array(boxes);
    this.#stamps = new Uint32Array(count);
    this.#tree = boxes === 0 ? null : new Flatbush(boxes, 16, Float32Array);
    for (let k = 0; k < count; k++) this.#enter(segments, k, SINGLE * farthestMm);
    this.#tree?.finish();
  }

  /** Enters the parts of entry k, their boxes wider by what 32 bits may lose. */
  #enter(segments: Segments, k: number, slackMm: number): void {
    const i = this.#only ? this.#only[k]! : k;
    const x0 = segments.x0[i]!;
    const y0 = segments.y0[i]!;
    const dx = segments.x1[i]! - x0;
    const dy = segments.y1[i]! - y0;
    const parts = this.#partsOf(dx, dy);
    for (let part = 0; part < parts; part++) {
      const px = x0 + (part / parts) * dx;
      const py = y0 + (part / parts) * dy;
      const qx = x0 + ((part + 1) / parts) * dx;
      const qy = y0 + ((part + 1) / parts) * dy;
      const box = this.#tree!.add(
        Math.min(px, qx) - slackMm,
        Math.min(py, qy) - slackMm,
        Math.max(px, qx) + slackMm,
        Math.max(py, qy) + slackMm,
      );
      if (this.#entryOf) this.#entryOf[box] = k;
    }
  }

  /**
   * Collects the segments that may lie within `padMm` of a piece, each once, in no order: all that do, and some that do not. The array is
   * used anew by the next call; only its first `foundCount` entries count.
   */
  search(x0: number, y0: number, x1: number, y1: number, padMm: number): Int32Array {
    this.#foundCount = 0;
    this.visit(x0, y0, x1, y1, padMm, this.#collect);
    return this.#found;
  }

  /** Collects the segments that may lie within `padMm` of a box, as `search` does. */
  searchBox({ minX, minY, maxX, maxY }: Box, padMm: number): Int32Array {
    this.#foundCount = 0;
    this.#begin(this.#collect);
    this.#tree?.collides(minX - padMm, minY - padMm, maxX + padMm, maxY + padMm, this.#show);
    return this.#found;
  }

  get foundCount(): number {
    return this.#foundCount;
  }

  /** Shows what `search` collects, one by one, until `stop` answers true. True when it did. */
  visit(x0: number, y0: number, x1: number, y1: number, padMm: number, stop: (segment: number) => boolean): boolean {
    if (this.#tree === null) return false;
    this.#begin(stop);
    const dx = x1 - x0;
    const dy = y1 - y0;
    // More parts than boxes would cost more than looking at every box.
    const parts = Math.min(this.#partsOf(dx, dy), this.#tree.numItems) || 1;
    for (let part = 0; part < parts; part++) {
      const px = x0 + (part / parts) * dx;
      const py = y0 + (part / parts) * dy;
      if (part > 0) this.partsMet += COST_OF_DESCENT;
      const qx = part + 1 === parts ? x1 : x0 + ((part + 1) / parts) * dx;
      const qy = part + 1 === parts ? y1 : y0 + ((part + 1) / parts) * dy;
      const stopped = this.#tree.collides(
        Math.min(px, qx) - padMm,
        Math.min(py, qy) - padMm,
        Math.max(px, qx) + padMm,
        Math.max(py, qy) + padMm,
        this.#show,
      );
      if (stopped) return true;
    }
    return false;
  }

  /**
   * Shows the segments that may lie within `padMm` of a box, each part of them with its box in `shownBox`, until `stop` answers true.
   */
  visitParts({ minX, minY, maxX, maxY }: Box, padMm: number, stop: (segment: number) => boolean): void {
    this.#begin(stop, false);
    this.#tree?.collides(minX - padMm, minY - padMm, maxX + padMm, maxY + padMm, this.#show);
  }

  /** Numbers of all segments, each once, those near each other near each other. */
  inPlaceOrder(): Uint32Array {
    const order = new Uint32Array(this.#stamps.length);
    let at = 0;
    this.#begin((segment) => {
      order[at++] = segment;
      return false;
    });
    // The tree keeps its leaves along a Hilbert curve and shows them so; in another order all would only be slower.
    this.#tree?.collides(-Infinity, -Infinity, Infinity, Infinity, this.#show);
    return order;
  }

  #begin(stop: (segment: number) => boolean, once = true): void {
    this.#stamp++;
    this.#visit = stop;
    this.#once = once;
  }

  readonly #collect = (segment: number): boolean => {
    if (this.#foundCount === this.#found.length) this.#found = grown(this.#found, 4 * this.#foundCount);
    this.#found[this.#foundCount++] = segment;
    return false;
  };

  /** The callback of every search in the tree: where there is but one, the engine compiles it into the search. */
  readonly #show = (box: number, minX: number, minY: number, maxX: number, maxY: number): boolean => {
    this.partsMet++;
    const entry = this.#entryOf === null ? box : this.#entryOf[box]!;
    if (this.#once) {
      if (this.#stamps[entry] === this.#stamp) return false;
      this.#stamps[entry] = this.#stamp;
    } else {
      this.shownBox[0] = minX;
      this.shownBox[1] = minY;
      this.shownBox[2] = maxX;
      this.shownBox[3] = maxY;
    }
    return this.#visit(this.#only === null ? entry : this.#only[entry]!);
  };

  /** Parts of a segment whose boxes are narrow; NaN for what is not finite. */
  #partsOf(dx: number, dy: number): number {
    return Math.max(1, Math.ceil(Math.min(Math.abs(dx), Math.abs(dy)) / this.#partMm));
  }
}
