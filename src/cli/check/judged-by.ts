import { fnv1a64 } from '../../findings/fingerprint.ts';
import type { JudgedBy } from '../../findings/result.ts';
import { baseName } from '../../job/files/paths.ts';
import type { Shop } from '../../job/files/shop.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';
import { withIds } from '../files/named-profiles.ts';
import type { CheckOptions } from './check-options.ts';

/**
 * By what a run is judged, as far as a person can change it: the day, the settings with the options that go before them, and the shop's files
 * by name and bytes. Where the shop lies, and which folder a file of it is in, makes no difference.
 */
export function judgedByOf(
  {
    today,
    untrusted,
    bare,
    unchecked = {},
  }: Pick<CheckOptions, 'today' | 'untrusted' | 'bare'> & Partial<Pick<CheckOptions, 'unchecked'>>,
  { settings, sources }: Shop,
): JudgedBy {
  // How customers are answered has no bearing on the result.
  const { file: _, placeOf: __, reply: ___, ...said } = settings ?? { file: '', placeOf: null, reply: null };
  return {
    today,
    settings: digestOf({ said, untrusted, bare: withIds(bare), unchecked }),
    shop: digestOf(sources.map(stamp).sort()),
  };
}

function stamp(source: Source): string {
  const name = baseName(source.name);
  const decoder = new TextDecoder();
  let text = '';
  try {
    for (const chunk of source.chunks()) text += decoder.decode(chunk, { stream: true });
  } catch (error) {
    if (!(error instanceof SourceUnreadable)) throw error;
    return `${name}: ${error.message}`;
  }
  return `${name}: ${fnv1a64(text)}`;
}

/** It tells what was changed by a person; nothing hangs on it that somebody would forge: a base is only taken from those who are trusted. */
const digestOf = (value: unknown): string => fnv1a64(JSON.stringify(value));
