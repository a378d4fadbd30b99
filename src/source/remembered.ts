import type { Source } from './source.ts';

/**
 * A source whose bytes are read once and kept, so that everyone who asks sees the same even when the file changes meanwhile. One with
 * more than `mostBytes` is read anew each time.
 */
export function rememberedSource(source: Source, mostBytes: number): Source {
  let kept: Uint8Array | null = null;
  return {
    name: source.name,
    size: source.size,
    *chunks() {
      if (kept === null && source.size <= mostBytes) kept = wholeOf(source, mostBytes);
      if (kept === null) yield* source.chunks();
      else if (kept.length > 0) yield kept;
    },
  };
}

/** Null when it has grown beyond the limit. */
function wholeOf(source: Source, mostBytes: number): Uint8Array | null {
  const parts: Uint8Array[] = [];
  let length = 0;
  for (const chunk of source.chunks()) {
    length += chunk.length;
    if (length > mostBytes) return null;
    parts.push(chunk.slice());
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
