import type { Source } from './source.ts';

/** Text of a line that is kept, UTF-16 units. */
export const EXCERPT_UNITS = 400;
/** UTF-8 needs at most three bytes for one UTF-16 unit. */
const EXCERPT_BYTES = EXCERPT_UNITS * 3;

/**
 * The texts of some lines of a source (1-based numbers), in one pass over its bytes that ends with the last line asked for.
 * `\n`, `\r\n` and a lone `\r` end a line; a byte-order mark is dropped; of a longer line the first `EXCERPT_UNITS` units are
 * given. Lines that the source does not have are left out.
 *
 * @throws SourceUnreadable from `source.chunks()` only
 */
export function readLinesAt(source: Source, lines: Iterable<number>): Map<number, string> {
  const wanted = new Set<number>(lines);
  const found = new Map<number, string>();
  let last = 0;
  for (const line of wanted) last = Math.max(last, line);
  if (last < 1) return found;

  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  const kept = new Uint8Array(EXCERPT_BYTES);
  let length = 0;
  let line = 1;
  /** Bytes of the current line that were seen, kept or not. */
  let seen = 0;
  let afterCr = false;
  const keep = (chunk: Uint8Array, from: number, to: number) => {
    seen += to - from;
    if (!wanted.has(line)) return;
    const taken = Math.min(EXCERPT_BYTES - length, to - from);
    kept.set(chunk.subarray(from, from + taken), length);
    length += taken;
  };
  const end = () => {
    if (wanted.has(line)) {
      const text = decoder.decode(kept.subarray(0, length));
      found.set(line, clip(line === 1 ? text.replace(/^\uFEFF/, '') : text));
    }
    length = 0;
    seen = 0;
    line++;
  };

  for (const chunk of source.chunks()) {
    let at = 0;
    while (at < chunk.length) {
      if (afterCr) {
        afterCr = false;
        if (chunk[at] === 10) {
          at++;
          continue;
        }
      }
      const from = at;
      while (at < chunk.length && chunk[at] !== 10 && chunk[at] !== 13) at++;
      keep(chunk, from, at);
      if (at === chunk.length) break;
      afterCr = chunk[at] === 13;
      at++;
      end();
      if (line > last) return found;
    }
  }
  if (seen > 0) end();
  return found;
}

/** Cuts to the limit without splitting a surrogate pair, and drops what a cut through a character left behind. */
function clip(text: string): string {
  if (text.length <= EXCERPT_UNITS) return text.length * 3 >= EXCERPT_BYTES ? text.replace(/\uFFFD+$/, '') : text;
  const code = text.charCodeAt(EXCERPT_UNITS - 1);
  return text.slice(0, code >= 0xd800 && code < 0xdc00 ? EXCERPT_UNITS - 1 : EXCERPT_UNITS);
}
