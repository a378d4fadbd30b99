import type { Segments } from './segments.ts';

/** Segments that are drawn again from the same start to the same end, to the last digit. */
export interface SameSegments {
  /** For each segment the first that is the same: itself, where none was before it. */
  readonly first: Uint32Array;
  /** For the first of each kind, how many there are in all. */
  readonly times: Uint32Array;
  /** How many kinds there are. */
  readonly kinds: number;
}

/** Recognises segments that are the same, in one pass over a table of hashes. */
export function sameSegments({ count, x0, y0, x1, y1 }: Segments): SameSegments {
  let size = 64;
  while (size < 2 * count) size *= 2;
  const mask = size - 1;
  /** Number of a segment and one more; 0 where there is none. */
  const table = new Uint32Array(size);
  const first = new Uint32Array(count);
  const times = new Uint32Array(count);
  let kinds = 0;
  const bits = new Float64Array(4);
  const words = new Int32Array(bits.buffer);
  for (let i = 0; i < count; i++) {
    bits[0] = x0[i]!;
    bits[1] = y0[i]!;
    bits[2] = x1[i]!;
    bits[3] = y1[i]!;
    let hash = 0;
    for (let k = 0; k < 8; k++) {
      hash = Math.imul(hash ^ words[k]!, 0x5bd1e995);
      hash ^= hash >>> 15;
    }
    let at = hash & mask;
    for (; table[at] !== 0; at = (at + 1) & mask) {
      const j = table[at]! - 1;
      if (x0[j] === x0[i] && y0[j] === y0[i] && x1[j] === x1[i] && y1[j] === y1[i]) break;
    }
    if (table[at] === 0) {
      table[at] = i + 1;
      kinds++;
    }
    first[i] = table[at]! - 1;
    times[first[i]!]!++;
  }
  return { first, times, kinds };
}
