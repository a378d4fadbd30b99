import { UsageError } from '../usage-error.ts';

/** One part of a divided run: the `index`-th (from 1) of `of`. */
export interface Shard {
  index: number;
  of: number;
}

/** @throws UsageError when it is not `i/n` with 1 ≤ i ≤ n */
export function parseShard(text: string): Shard {
  const [, index, of] = /^(\d{1,4})\/(\d{1,4})$/.exec(text) ?? [];
  const shard = { index: Number(index), of: Number(of) };
  if (of !== undefined && shard.index >= 1 && shard.index <= shard.of) return shard;
  throw new UsageError(
    `shard "${text}" is not a part of a whole.`,
    'Write the part and the number of parts, for instance 2/4.',
  );
}

/** The part's share: every n-th, so that neighbours, which are often alike, are spread over the parts. */
export function shareOf<T>(all: readonly T[], shard: Shard | null): T[] {
  return shard === null ? [...all] : all.filter((_, i) => i % shard.of === shard.index - 1);
}
