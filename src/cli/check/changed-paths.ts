import { posix } from 'node:path';
import { escapeTerminal } from '../../report/escape.ts';
import { formatCount } from '../../units/format.ts';
import { UsageError } from '../usage-error.ts';
import type { ChangedEntry } from './changed-list.ts';

/** Where listed names may count from. Absolute folders, with `/`. */
export interface NamesFrom {
  /** Top of the repository: where git's own names count from. */
  top: string;
  /** Root of the run. */
  root: string;
  /** Folder that the run was started in: where `git diff --relative` counts from. */
  cwd: string;
  /** What stands at an absolute path. */
  look(path: string): 'file' | 'folder' | null;
}

/** The files that a change touches, by paths relative to the root of the run; outside of it they begin with `../`. */
export class ChangedPaths {
  readonly paths: readonly string[];
  readonly #files: ReadonlySet<string>;
  readonly #folders: readonly string[];

  constructor(files: readonly string[], folders: readonly string[]) {
    this.paths = [...files, ...folders];
    this.#files = new Set(files.map(composed));
    this.#folders = folders.map((folder) => `${composed(folder)}/`);
  }

  /** Whether a file was changed, or lies in a folder that the list names as a whole. */
  has(path: string): boolean {
    const key = composed(path);
    return this.#files.has(key) || this.#folders.some((folder) => key.startsWith(folder));
  }

  /** Whether anything in a folder was changed. */
  hasBelow(folder: string): boolean {
    const key = `${composed(folder)}/`;
    return this.has(folder) || this.paths.some((path) => composed(path).startsWith(key));
  }
}

/** File systems and git differ in how they write accents; two files that differ by nothing else are taken for one. */
function composed(path: string): string {
  return path.normalize('NFC');
}

interface Placed {
  entry: ChangedEntry;
  /** Absolute: where it stands, or all places where it may have stood when there is nothing at any of them. */
  at: string[];
  kind: 'file' | 'folder' | null;
}

/**
 * Where the entries of a list stand. A name counts from the top of the repository, or from where it is found; what is not there is
 * taken as deleted.
 * @throws UsageError when none of the names can be of this repository
 */
export function changedPaths(
  entries: readonly ChangedEntry[],
  from: NamesFrom,
): { changed: ChangedPaths; note: string | null } {
  const placed = placedEntries(entries, from);
  const isPossible = ({ entry, at, kind }: Placed) =>
    kind !== null || (entry.deleted !== false && at.some((path) => isWithin(from.top, path)));
  if (placed.length > 0 && !placed.some(isPossible)) {
    throw new UsageError(
      `--changed-files lists ${formatCount(placed.length, 'file')}, and none is there: ${escapeTerminal(entries[0]!.path.slice(0, 200))}.`,
      'List paths from the top of this repository, as git diff --name-status -z does.',
    );
  }
  const isFolder = ({ entry, kind }: Placed) => kind === 'folder' || (kind === null && /[\\/]$/.test(entry.path));
  const relativePaths = (some: readonly Placed[]) =>
    some.flatMap(({ at }) => at.map((path) => posix.relative(from.root, path)));
  return {
    changed: new ChangedPaths(
      relativePaths(placed.filter((one) => !isFolder(one))),
      relativePaths(placed.filter(isFolder)),
    ),
    note: noteOn(placed),
  };
}

function noteOn(placed: readonly Placed[]): string | null {
  const absent = placed.filter(({ entry, kind }) => kind === null && entry.deleted !== true).length;
  if (absent === 0) return null;
  return `${absent} of ${formatCount(placed.length, 'listed file')} ${absent === 1 ? 'is not there and counts' : 'are not there and count'} as deleted.`;
}

/** Where one name of the list is found only from a folder below the top, all its names may count from there. */
function placedEntries(entries: readonly ChangedEntry[], from: NamesFrom): Placed[] {
  const bases = [...new Set([from.top, from.cwd, from.root])];
  const found = entries.map(({ path }) => bases.flatMap((base) => standing(path, base, from.look) ?? []));
  const fromBelow = found.some(([first]) => first !== undefined && first.base !== from.top);
  return entries.map((entry, i): Placed => {
    const [first, ...others] = found[i]!;
    if (first === undefined) {
      const spelling = spellingsOf(entry.path).at(-1)!;
      return { entry, at: [...new Set(bases.map((base) => absolute(base, spelling)))], kind: null };
    }
    return { entry, at: [first, ...(fromBelow ? others : [])].map(({ path }) => path), kind: first.kind };
  });
}

/** What a name leads to when it counts from a folder; null when there is nothing. */
function standing(
  listed: string,
  base: string,
  look: NamesFrom['look'],
): { base: string; path: string; kind: 'file' | 'folder' } | null {
  for (const spelling of spellingsOf(listed)) {
    const path = absolute(base, spelling);
    const kind = look(path);
    if (kind !== null) return { base, path, kind };
  }
  return null;
}

/** A name as it is and as other systems write it, the likeliest last. */
function spellingsOf(listed: string): string[] {
  const slashed = listed.replaceAll('\\', '/');
  return [...new Set([listed, slashed, ...['NFD', 'NFC'].map((form) => slashed.normalize(form))])];
}

function absolute(base: string, name: string): string {
  // On Windows an absolute name begins with its drive.
  return /^[A-Za-z]:\//.test(name) ? posix.normalize(name) : posix.resolve(base, name);
}

function isWithin(folder: string, path: string): boolean {
  return path === folder || path.startsWith(folder.endsWith('/') ? folder : `${folder}/`);
}
