import { START_OF_FILE } from '../../source/place.ts';
import type { Source } from '../../source/source.ts';
import { CITED_CUTS_NAME } from '../evidence/cited-cuts.ts';
import { readSettings, type Settings } from '../settings/settings.ts';
import { byCodeUnit, type FileAccess, type FolderEntry } from './access.ts';
import { BENCH_SUFFIX, joinPath, MACHINE_SUFFIX, MATERIAL_SUFFIX, SETTINGS_NAME } from './paths.ts';
import { type FileProblem, fileProblem } from './problem.ts';
import { walkFolder } from './walk.ts';

/** What a shop states: its settings and the files of its machines, their benches and its materials. */
export interface Shop {
  settings: Settings | null;
  sources: Source[];
  /** Configuration problems: they end a run. */
  problems: FileProblem[];
}

/**
 * The trusted files below a folder. With a `.kerflint.yaml` there, those of the folders it names; without one, and when
 * `wholeFolder` is set (`--shop`), all machine, bench and material files below it. Symbolic links are never followed: a checkout
 * could point them at files of its own.
 */
export function collectShop(access: FileAccess, wholeFolder: boolean): Shop {
  const shop: Shop = { settings: null, sources: [], problems: [] };
  const settingsThere = entryNamed(SETTINGS_NAME, access.list('').entries);
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
    addWholeFolder(access, paths, shop.problems);
  }
  shop.sources = [...paths].sort(byCodeUnit).map((path) => access.open(path));
  return shop;
}

/** What ships with kerflint: its materials, example machines and published cuts. */
export function collectCatalogue(access: FileAccess): Shop {
  const catalogue = collectShop(access, true);
  return { ...catalogue, sources: [...catalogue.sources, access.open(CITED_CUTS_NAME)] };
}

function entryNamed(name: string, entries: Iterable<FolderEntry>): FolderEntry | null {
  for (const entry of entries) if (entry.name === name) return entry;
  return null;
}

function isShopFile(name: string): boolean {
  return [MACHINE_SUFFIX, BENCH_SUFFIX, MATERIAL_SUFFIX].some((suffix) => name.endsWith(suffix));
}

function addWholeFolder(access: FileAccess, paths: Set<string>, problems: FileProblem[]): void {
  for (const step of walkFolder(access, '', { excluded: () => false, intoHidden: false })) {
    if (step.what === 'file' && isShopFile(step.path)) paths.add(step.path);
    if (step.what !== 'unlisted' && step.what !== 'cut-short') continue;
    const why = step.what === 'unlisted' ? `cannot be listed: ${step.problem}` : 'holds too much to be looked through';
    problems.push(fileProblem('unreadable', { file: step.path || '.', ...START_OF_FILE }, `this folder ${why}`));
  }
}

function addNamedFolders(access: FileAccess, settings: Settings, paths: Set<string>, problems: FileProblem[]): void {
  for (const [key, suffixes] of [
    ['machines', [MACHINE_SUFFIX, BENCH_SUFFIX]],
    ['materials', [MATERIAL_SUFFIX]],
  ] as const) {
    for (const [index, folder] of settings[key].entries()) {
      const path = joinPath('', folder);
      const why = whyNotListed(access, path);
      if (why !== null) {
        problems.push(fileProblem(why.code, settings.placeOf([key, index]), `${key}: ${why.say(`"${folder}"`)}`));
      } else for (const file of filesIn(access, path!, suffixes)) paths.add(file);
    }
  }
}

function whyNotListed(
  access: FileAccess,
  path: string | null,
): { code: 'outside-root' | 'unreadable'; say: (folder: string) => string } | null {
  const stat = path === null ? null : access.stat(path);
  if (path === null || stat?.leavesRoot) {
    return { code: 'outside-root', say: (folder) => `the folder ${folder} lies outside this folder` };
  }
  if (stat?.kind !== 'folder') return { code: 'unreadable', say: (folder) => `there is no folder ${folder}` };
  const { problem } = access.list(path);
  if (problem === null) return null;
  return { code: 'unreadable', say: (folder) => `the folder ${folder} cannot be listed: ${problem}` };
}

function filesIn(access: FileAccess, folder: string, suffixes: readonly string[]): string[] {
  return [...access.list(folder).entries]
    .filter(({ kind, symlink, name }) => kind === 'file' && !symlink && suffixes.some((one) => name.endsWith(one)))
    .map(({ name }) => (folder === '' ? name : `${folder}/${name}`));
}
