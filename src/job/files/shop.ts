import { START_OF_FILE } from '../../source/place.ts';
import type { Source } from '../../source/source.ts';
import { readSettings, type Settings } from '../settings/settings.ts';
import { byCodeUnit, type FileAccess, walkFolder } from './access.ts';
import { joinPath, MACHINE_SUFFIX, MATERIAL_SUFFIX, SETTINGS_NAME } from './paths.ts';
import { type FileProblem, fileProblem } from './problem.ts';

/** What a shop states: its settings and the files of its machines and materials. */
export interface Shop {
  settings: Settings | null;
  sources: Source[];
  /** Configuration problems: they end a run. */
  problems: FileProblem[];
}

/**
 * The trusted files below a folder. With a `.kerflint.yaml` there, those of the folders it names; without one, and when
 * `wholeFolder` is set (`--shop`), all machine and material files below it. Symbolic links are never followed: a checkout
 * could point them at files of its own.
 */
export function collectShop(access: FileAccess, wholeFolder: boolean): Shop {
  const shop: Shop = { settings: null, sources: [], problems: [] };
  const settingsThere = access.list('').find((entry) => entry.name === SETTINGS_NAME);
  const paths = new Set<string>();
  if (settingsThere && settingsThere.symlink !== true && settingsThere.kind === 'file') {
    const loaded = readSettings(access.open(SETTINGS_NAME));
    shop.settings = loaded.value;
    shop.problems.push(...loaded.problems);
    if (loaded.value) addNamedFolders(access, loaded.value, paths, shop.problems);
  } else if (settingsThere) {
    const place = { file: SETTINGS_NAME, ...START_OF_FILE };
    shop.problems.push(fileProblem('unreadable', place, `${SETTINGS_NAME} is a link or a folder and is not read`));
  }
  const named = shop.settings !== null && shop.settings.machines.length + shop.settings.materials.length > 0;
  if (wholeFolder && !named) {
    for (const path of walkFolder(access, '').files) if (isShopFile(path)) paths.add(path);
  }
  shop.sources = [...paths].sort(byCodeUnit).map((path) => access.open(path));
  return shop;
}

function isShopFile(name: string): boolean {
  return name.endsWith(MACHINE_SUFFIX) || name.endsWith(MATERIAL_SUFFIX);
}

function addNamedFolders(access: FileAccess, settings: Settings, paths: Set<string>, problems: FileProblem[]): void {
  for (const [key, suffix] of [
    ['machines', MACHINE_SUFFIX],
    ['materials', MATERIAL_SUFFIX],
  ] as const) {
    for (const [index, folder] of settings[key].entries()) {
      const path = joinPath('', folder);
      const stat = path === null ? null : access.stat(path);
      const place = settings.placeOf([key, index]);
      if (path === null || stat?.leavesRoot) {
        problems.push(fileProblem('outside-root', place, `${key}: the folder "${folder}" lies outside this folder`));
      } else if (stat?.kind !== 'folder') {
        problems.push(fileProblem('unreadable', place, `${key}: there is no folder "${folder}"`));
      } else {
        for (const file of filesIn(access, path, suffix)) paths.add(file);
      }
    }
  }
}

function filesIn(access: FileAccess, folder: string, suffix: string): string[] {
  return access
    .list(folder)
    .filter(({ kind, symlink, name }) => kind === 'file' && !symlink && name.endsWith(suffix))
    .map(({ name }) => (folder === '' ? name : `${folder}/${name}`));
}
