import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { UsageError } from '../usage-error.ts';

/** So many bytes are kept in memory; what is more goes to a file. */
const IN_MEMORY_BYTES = 4 << 20;
const FIRST_BYTES = 1 << 16;

/**
 * Pieces of bytes that are needed later, in their order: few in memory, many in a file of the system's folder for temporary files. That file
 * has no name any more once it is open, so that nothing is left of it, however the process ends.
 */
export class PutAside {
  readonly #sizes: number[] = [];
  /** Copied into one buffer that is used again and again: buffers that are let go stay until the engine tidies up. */
  #buffer = new Uint8Array(FIRST_BYTES);
  #used = 0;
  #file: number | null = null;
  #named: string | null = null;

  /** @throws UsageError when there is no room for it */
  put(piece: Uint8Array): void {
    this.#sizes.push(piece.length);
    if (this.#used + piece.length > IN_MEMORY_BYTES) this.#toFile(this.#buffer.subarray(0, this.#used));
    if (piece.length > IN_MEMORY_BYTES) this.#toFile(piece);
    else {
      this.#makeRoom(this.#used + piece.length);
      this.#buffer.set(piece, this.#used);
      this.#used += piece.length;
    }
  }

  /** All pieces; each is only good until the next. */
  *pieces(): Iterable<Uint8Array> {
    let at = 0;
    if (this.#file === null) {
      for (const size of this.#sizes) {
        yield this.#buffer.subarray(at, at + size);
        at += size;
      }
      return;
    }
    this.#toFile(this.#buffer.subarray(0, this.#used));
    let buffer = new Uint8Array(IN_MEMORY_BYTES);
    let [from, end] = [0, 0];
    for (const size of this.#sizes) {
      if (end - from < size) {
        if (size > buffer.length) buffer = new Uint8Array(size);
        [from, end] = [0, readFully(this.#file, buffer, at)];
      }
      yield buffer.subarray(from, from + size);
      from += size;
      at += size;
    }
  }

  /** What was put aside is gone. */
  remove(): void {
    if (this.#file !== null) closeSync(this.#file);
    if (this.#named !== null) rmSync(this.#named, { recursive: true, force: true });
    this.#file = null;
    this.#named = null;
    this.#used = 0;
    this.#sizes.length = 0;
  }

  #makeRoom(bytes: number): void {
    if (bytes <= this.#buffer.length) return;
    const larger = new Uint8Array(Math.min(IN_MEMORY_BYTES, Math.max(bytes, 2 * this.#buffer.length)));
    larger.set(this.#buffer.subarray(0, this.#used));
    this.#buffer = larger;
  }

  /** Writes what is in the buffer, or a piece for which the buffer, empty by then, is too small. */
  #toFile(bytes: Uint8Array): void {
    try {
      this.#file ??= this.#opened();
      for (let done = 0; done < bytes.length; ) done += writeSync(this.#file, bytes, done);
    } catch (error) {
      const { code = String(error) } = error as { code?: string };
      throw new UsageError(
        `nothing can be put aside in the folder for temporary files, ${tmpdir()} (${code}).`,
        'Make room there, or name another folder by the variable TMPDIR.',
      );
    }
    this.#used = 0;
  }

  #opened(): number {
    this.#named = mkdtempSync(join(tmpdir(), 'kerflint-'));
    const file = openSync(join(this.#named, 'aside'), 'wx+', 0o600);
    try {
      rmSync(this.#named, { recursive: true });
      this.#named = null;
    } catch {
      // Where a file that is open keeps its name it is removed at last.
    }
    return file;
  }
}

/** Text that comes in small pieces and is wanted in large ones later. */
export class TextAside {
  readonly #aside = new PutAside();
  #waiting: string[] = [];
  #units = 0;
  #bytes = new Uint8Array(0);

  /** @throws UsageError when there is no room for it */
  add(text: string): void {
    this.#waiting.push(text);
    this.#units += text.length;
    if (this.#units > PIECE_UNITS) this.#put();
  }

  /** All that was added, in its order. */
  *pieces(): Iterable<string> {
    for (const piece of this.bytes()) yield DECODER.decode(piece);
  }

  /** The same in UTF-8, without making text of it again; each piece is only good until the next. */
  *bytes(): Iterable<Uint8Array> {
    this.#put();
    yield* this.#aside.pieces();
  }

  close(): void {
    this.#aside.remove();
  }

  #put(): void {
    // A half of a surrogate pair has no bytes of its own: pieces end where texts end, which are whole.
    if (this.#units > 0) {
      // A unit takes three bytes at most.
      if (this.#bytes.length < 3 * this.#units) this.#bytes = new Uint8Array(3 * this.#units);
      const { written } = ENCODER.encodeInto(this.#waiting.join(''), this.#bytes);
      this.#aside.put(this.#bytes.subarray(0, written));
    }
    this.#waiting = [];
    this.#units = 0;
  }
}

/** Text is put aside in pieces of about this size, UTF-16 units. */
const PIECE_UNITS = 1 << 16;
const ENCODER = new TextEncoder();
const DECODER = new TextDecoder('utf-8', { ignoreBOM: true });

/** Fills the buffer from a place of the file on, as far as there is something; gives how many bytes it has. */
function readFully(file: number, buffer: Uint8Array, at: number): number {
  let read = 0;
  while (read < buffer.length) {
    const more = readSync(file, buffer, read, buffer.length - read, at + read);
    if (more === 0) break;
    read += more;
  }
  return read;
}
