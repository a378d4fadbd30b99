/**
 * A file as a re-openable, synchronous sequence of byte chunks. No toolpath is ever one string: readers consume chunks
 * and may open the same source again (for excerpts, or for a second look at one line).
 */
export interface Source {
  /** Path relative to the root, with `/`; what people see and what findings carry. */
  readonly name: string;
  /** Bytes. */
  readonly size: number;
  /**
   * A fresh pass over the bytes. A chunk is only valid until the next one is asked for: the backing buffer is reused.
   * @throws SourceUnreadable when the bytes cannot be had (gone, a folder, no permission, larger than allowed)
   */
  chunks(): Iterable<Uint8Array>;
}

/** The bytes of a source cannot be had. `reason` completes the sentence "cannot be read: …". */
export class SourceUnreadable extends Error {
  override readonly name = 'SourceUnreadable';
  readonly reason: string;
  constructor(reason: string) {
    super(`cannot be read: ${reason}`);
    this.reason = reason;
  }
}

/** A source over bytes in memory, cut into chunks of `chunkSize` bytes (browser page, tests, small files). */
export function bytesSource(name: string, bytes: Uint8Array, chunkSize = 1 << 20): Source {
  return {
    name,
    size: bytes.length,
    *chunks() {
      for (let at = 0; at < bytes.length; at += chunkSize) yield bytes.subarray(at, at + chunkSize);
    },
  };
}

/** A source over a text, encoded as UTF-8. */
export function textSource(name: string, text: string, chunkSize?: number): Source {
  return bytesSource(name, new TextEncoder().encode(text), chunkSize);
}

/**
 * The first bytes of a source, at most so many.
 * @throws SourceUnreadable from `source.chunks()` only
 */
export function firstBytes(source: Source, most: number): Uint8Array {
  const head = new Uint8Array(most);
  let length = 0;
  for (const chunk of source.chunks()) {
    const part = chunk.subarray(0, most - length);
    head.set(part, length);
    length += part.length;
    if (length === most) break;
  }
  return head.subarray(0, length);
}

/**
 * The whole of a small source as one text, UTF-8 (or UTF-16 by its byte-order mark), BOM removed. For sidecars and artwork, never for toolpaths.
 * @throws SourceUnreadable when the source is larger than `limitBytes`
 */
export function wholeText(source: Source, limitBytes: number): string {
  if (source.size > limitBytes) {
    throw new SourceUnreadable(`it has ${source.size} bytes, more than the ${limitBytes} that are read of such a file`);
  }
  let bytes = new Uint8Array(Math.max(source.size, 16));
  let length = 0;
  for (const chunk of source.chunks()) {
    if (length + chunk.length > limitBytes) {
      throw new SourceUnreadable(`it has more than the ${limitBytes} bytes that are read of such a file`);
    }
    if (length + chunk.length > bytes.length) {
      const grown = new Uint8Array(Math.max(bytes.length * 2, length + chunk.length));
      grown.set(bytes.subarray(0, length));
      bytes = grown;
    }
    bytes.set(chunk, length);
    length += chunk.length;
  }
  const used = bytes.subarray(0, length);
  return new TextDecoder(encodingByMark(used)).decode(used);
}

/** The encoding that a byte-order mark states; UTF-8 without one. */
function encodingByMark(head: Uint8Array): 'utf-8' | 'utf-16le' | 'utf-16be' {
  if (head[0] === 0xff && head[1] === 0xfe) return 'utf-16le';
  return head[0] === 0xfe && head[1] === 0xff ? 'utf-16be' : 'utf-8';
}

/**
 * Whether all bytes of a source are text in an encoding (by default the one that `wholeText` takes). A text that was decoded does not tell:
 * U+FFFD stands for bytes that were lost, and for itself.
 * @throws SourceUnreadable from `source.chunks()` only
 */
export function isWholeText(source: Source, encoding: string = encodingByMark(firstBytes(source, 2))): boolean {
  const decoder = new TextDecoder(encoding, { fatal: true });
  try {
    for (const chunk of source.chunks()) decoder.decode(chunk, { stream: true });
    decoder.decode();
    return true;
  } catch (error) {
    if (error instanceof TypeError) return false;
    throw error;
  }
}
