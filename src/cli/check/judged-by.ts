import { createHash } from 'node:crypto';
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
  const hash = createHash('sha256');
  try {
    for (const chunk of source.chunks()) hash.update(chunk);
  } catch (error) {
    if (!(error instanceof SourceUnreadable)) throw error;
    return `${baseName(source.name)}: ${error.message}`;
  }
  return `${baseName(source.name)}: ${hash.digest('hex')}`;
}

function digestOf(value: unknown): string {
  return createHash('sha256').update(JSON.stringify(value)).digest('hex');
}
