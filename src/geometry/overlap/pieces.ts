import { grown } from '../segments/grow-array.ts';

/** Parts of segments that came first to their place: `from`, `to` in mm along the segment. Those of one segment stand side by side. */
export class Pieces {
  count = 0;
  segment = new Uint32Array(64);
  from = new Float64Array(64);
  to = new Float64Array(64);
  readonly #first: Uint32Array;

  constructor(segments: number) {
    this.#first = new Uint32Array(segments);
  }

  add(segment: number, from: number, to: number): void {
    if (this.count === this.segment.length) {
      this.segment = grown(this.segment, 4 * this.count);
      this.from = grown(this.from, 4 * this.count);
      this.to = grown(this.to, 4 * this.count);
    }
    const at = this.count++;
    if (at === 0 || this.segment[at - 1] !== segment) this.#first[segment] = at;
    this.segment[at] = segment;
    this.from[at] = from;
    this.to[at] = to;
  }

  /** Number of a segment's first piece; its others follow as long as `isOf` holds. */
  firstOf(segment: number): number {
    return this.#first[segment]!;
  }

  isOf(piece: number, segment: number): boolean {
    return piece < this.count && this.segment[piece] === segment;
  }
}

/** Parts of pieces that later segments run along, appended as they are found: `from`, `to` in mm along the piece's segment. */
export class Coverings {
  count = 0;
  piece = new Uint32Array(64);
  from = new Float64Array(64);
  to = new Float64Array(64);
  segment = new Uint32Array(64);

  add(piece: number, from: number, to: number, segment: number): void {
    if (this.count === this.piece.length) {
      this.piece = grown(this.piece, 4 * this.count);
      this.from = grown(this.from, 4 * this.count);
      this.to = grown(this.to, 4 * this.count);
      this.segment = grown(this.segment, 4 * this.count);
    }
    const at = this.count++;
    this.piece[at] = piece;
    this.from[at] = from;
    this.to[at] = to;
    this.segment[at] = segment;
  }

  /** The coverings of piece p are `order[start[p]] … order[start[p + 1] - 1]`, in the order they were found. */
  byPiece(pieces: number): { start: Uint32Array; order: Uint32Array } {
    const start = new Uint32Array(pieces + 1);
    for (let c = 0; c < this.count; c++) start[this.piece[c]! + 1]!++;
    for (let p = 0; p < pieces; p++) start[p + 1]! += start[p]!;
    const next = start.slice();
    const order = new Uint32Array(this.count);
    for (let c = 0; c < this.count; c++) order[next[this.piece[c]!]!++] = c;
    return { start, order };
  }
}
