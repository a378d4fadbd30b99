import type { Edit } from '../model/editing.ts';
import { type Source, SourceUnreadable } from '../source/source.ts';

/** A part of an edited file: bytes of the original from one offset to another, or new ones. */
type Piece = { from: number; to: number } | { bytes: Uint8Array };

/** A replacement in the original file, by bytes. */
export interface Replacement {
  offset: number;
  length: number;
  bytes: Uint8Array;
}

/**
 * An edited file as pieces of the original and of what is new. Edits upon edits stay one list of pieces, so a file is read once however often
 * it was changed, and none is ever held whole.
 */
export class Pieces {
  readonly #pieces: readonly Piece[];
  readonly #size: number;

  private constructor(pieces: readonly Piece[], size: number) {
    this.#pieces = pieces;
    this.#size = size;
  }

  static whole(size: number): Pieces {
    return new Pieces(size === 0 ? [] : [{ from: 0, to: size }], size);
  }

  /** Edits by rising offset, which count in the file as these pieces make it. */
  edited(edits: readonly Edit[]): Pieces {
    const made: Piece[] = [];
    /** What is left, the next last. */
    const rest = [...this.#pieces].reverse();
    let at = 0;
    /** Takes bytes from the front of what is left; they go on, or fall away. */
    const take = (count: number, keep: boolean) => {
      for (let left = count; left > 0; ) {
        const piece = rest.pop();
        if (piece === undefined) return;
        const length = lengthOf(piece);
        const [head, tail] = length <= left ? [piece, null] : split(piece, left);
        if (keep) made.push(head);
        if (tail !== null) rest.push(tail);
        left -= Math.min(length, left);
      }
    };
    for (const { offset, old, new: bytes } of edits) {
      take(offset - at, true);
      take(old.length, false);
      if (bytes.length > 0) made.push({ bytes });
      at = offset + old.length;
    }
    return new Pieces([...made, ...rest.reverse()], this.#size);
  }

  /** What changes in the original, by rising offset; none touches another. */
  replacements(): Replacement[] {
    const found: Replacement[] = [];
    let at = 0;
    let fresh: Uint8Array[] = [];
    const close = (from: number) => {
      if (fresh.length > 0 || from > at) found.push({ offset: at, length: from - at, bytes: concatenated(fresh) });
      fresh = [];
    };
    for (const piece of this.#pieces) {
      if ('bytes' in piece) fresh.push(piece.bytes);
      else {
        close(piece.from);
        at = piece.to;
      }
    }
    close(this.#size);
    return found;
  }

  /** The edited file over its original. */
  source(original: Source): Source {
    const pieces = this.#pieces;
    const size = pieces.reduce((sum, piece) => sum + lengthOf(piece), 0);
    const expected = this.#size;
    return { name: original.name, size, chunks: () => chunksOf(original, pieces, expected) };
  }
}

function* chunksOf(original: Source, pieces: readonly Piece[], size: number): Iterable<Uint8Array> {
  let next = 0;
  let offset = 0;
  for (const chunk of original.chunks()) {
    const end = offset + chunk.length;
    if (end > size) throw new SourceUnreadable('it has grown while it was read');
    for (; next < pieces.length; next++) {
      const piece = pieces[next]!;
      if ('bytes' in piece) {
        // What is new goes ahead of the original's bytes that follow it, even where those are yet to come.
        yield piece.bytes;
        continue;
      }
      const from = Math.max(piece.from, offset);
      const to = Math.min(piece.to, end);
      if (to > from) yield chunk.subarray(from - offset, to - offset);
      if (piece.to > end) break;
    }
    offset = end;
  }
  if (offset < size) throw new SourceUnreadable('it has shrunk while it was read');
  for (; next < pieces.length; next++) {
    const piece = pieces[next]!;
    if ('bytes' in piece) yield piece.bytes;
  }
}

const lengthOf = (piece: Piece): number => ('bytes' in piece ? piece.bytes.length : piece.to - piece.from);

function split(piece: Piece, at: number): [Piece, Piece] {
  if ('bytes' in piece) return [{ bytes: piece.bytes.subarray(0, at) }, { bytes: piece.bytes.subarray(at) }];
  return [
    { from: piece.from, to: piece.from + at },
    { from: piece.from + at, to: piece.to },
  ];
}

function concatenated(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
