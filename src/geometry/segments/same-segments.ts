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

/**
 * Recognises segments that are the same, in one pass over a table of hashes.
 * @param only numbers of the segments to look at, ascending, where the others are known to be like no other; all when it is left out
 */
export function sameSegments({ count, x0, y0, x1, y1 }: Segments, only?: Uint32Array): SameSegments {
  const asked = only?.length ?? count;
  let size = 64;
  while (size < 2 * asked) size *= 2;
  const mask = size - 1;
  /** Number of a segment and one more; 0 where there is none. */
  const table = new Uint32Array(size);
  const first = new Uint32Array(count);
  const times = new Uint32Array(count);
  if (only) {
    for (let i = 0; i < count; i++) first[i] = i;
    times.fill(1);
    for (const i of only) times[i] = 0;
  }
  let kinds = count - asked;
  const bits = new Float64Array(4);
  const words = new Int32Array(bits.buffer);
  for (let k = 0; k < asked; k++) {
    const i = only ? only[k]! : k;
    bits[0] = x0[i]!;
    bits[1] = y0[i]!;
    bits[2] = x1[i]!;
    bits[3] = y1[i]!;
    let hash = 0;
    for (let word = 0; word < 8; word++) {
      hash = Math.imul(hash ^ words[word]!, 0x5bd1e995);
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
