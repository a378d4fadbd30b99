import type { Library } from '../../job/files/library.ts';
import { HAZARD_WORDS } from '../../job/material/names/hint-text.ts';
import type { HazardClass } from '../../job/model.ts';
import type { Settings } from '../../job/settings/settings.ts';
import type { ProfileKind } from './named-profiles.ts';

const FOLDERS = { machine: 'machines', material: 'materials' } as const;

/** In words, where the shop's profiles of a kind were looked for. */
export function shopPlace(kind: ProfileKind, shop: string | null, settings: Settings | null): string {
  const folders = settings?.[FOLDERS[kind]] ?? [];
  if (shop !== null) return folders.length === 0 ? `in ${shop} and below` : `in ${folders.join(', ')} of ${shop}`;
  if (settings === null) return 'which nobody names: no --shop, and no .kerflint.yaml here or above';
  return folders.length === 0 ? `${settings.file} names no folder of ${FOLDERS[kind]}` : `in ${folders.join(', ')}`;
}

/** What there is of a kind, line by line: the shop's, with where it was looked for, and the catalogue's. Materials stand by hazard class. */
export function knownProfiles(kind: ProfileKind, library: Library, place: string): string[] {
  return (['shop', 'catalogue'] as const).flatMap((rank) => {
    const ids = library.ids(rank)[FOLDERS[kind]];
    const where = rank === 'shop' ? `the shop (${place})` : 'the catalogue';
    if (ids.length === 0) return [`  ${where}: none`];
    if (kind === 'machine') return [`  ${where}: ${ids.join(', ')}`];
    return [...byHazard(ids, library)].map(([hazard, some]) => `  ${where}, ${hazard}: ${some.join(', ')}`);
  });
}

function byHazard(ids: readonly string[], library: Library): Map<string, string[]> {
  const groups = new Map<string, string[]>(Object.values(HAZARD_WORDS).map((word) => [word, []]));
  for (const id of ids) {
    const hazard: HazardClass | undefined = library.material(id).value?.hazard.class;
    const word = hazard === undefined ? 'cannot be read' : HAZARD_WORDS[hazard];
    groups.set(word, [...(groups.get(word) ?? []), id]);
  }
  return new Map([...groups].filter(([, some]) => some.length > 0));
}
