import { nameKey } from '../../job/files/name-key.ts';
import type { MaterialEntry } from '../worker/messages.ts';

/** A material that fits what was typed, and the alias by which it does; null where its own name fits. */
export interface Hit {
  entry: MaterialEntry;
  alias: string | null;
}

/** The materials that what was typed may mean: those whose name begins with it first, then those that hold it, then by other names. */
export function searched(typed: string, entries: readonly MaterialEntry[]): Hit[] {
  const key = nameKey(typed.trim());
  if (key === '') return entries.map((entry) => ({ entry, alias: null }));
  const ranked = entries.flatMap((entry): (Hit & { rank: number })[] => {
    const own = [entry.id, entry.name].map(nameKey);
    if (own.some((name) => name.startsWith(key))) return [{ entry, alias: null, rank: 0 }];
    if (own.some((name) => name.includes(key))) return [{ entry, alias: null, rank: 1 }];
    const alias = entry.aliases.find((one) => nameKey(one).includes(key));
    return alias === undefined ? [] : [{ entry, alias, rank: 2 }];
  });
  return ranked.sort((a, b) => a.rank - b.rank).map(({ entry, alias }) => ({ entry, alias }));
}
