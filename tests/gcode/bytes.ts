import type { Source } from '../../src/source/source.ts';

/** A source of these chunks, as they are. */
export function byteSource(name: string, chunks: readonly Uint8Array[]): Source {
  return { name, size: chunks.reduce((sum, chunk) => sum + chunk.length, 0), chunks: () => chunks };
}
