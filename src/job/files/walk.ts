import { byCodeUnit, type FileAccess, type FolderEntry } from './access.ts';
import type { Excluded } from './exclude.ts';

/**
 * A walk that has met more entries goes no further and says so; hidden folders are counted apart. Far more than any checkout has: a disk lists
 * so many in some minutes.
 */
const MOST_ENTRIES = { open: 5_000_000, hidden: 100_000 };
/** What is nested deeper is not walked. */
const DEEPEST = 40;

/** One thing that a walk met. */
export type WalkStep =
  | {
      what: 'file' | 'link' | 'special';
      path: string;
      /** Its bytes are no UTF-8: nothing can be opened by this path. */
      unnameable: boolean;
      /** The outermost hidden folder that it lies in; null when it lies in none. */
      hidden: string | null;
    }
  /** One that lies in no other hidden folder. */
  | { what: 'hidden-folder'; path: string }
  | { what: 'unlisted'; path: string; problem: string }
  | { what: 'passed'; by: 'settings' | 'git' | 'node_modules' }
  /** Nothing was walked in this folder: it lies too deep, or there was too much before it, and then nothing behind it was walked either. */
  | { what: 'cut-short'; path: string; hidden: string | null; why: 'too-deep' | 'too-many' };

interface WalkOptions {
  excluded: Excluded;
  intoHidden: boolean;
  /** Asked before each folder: no more can be kept of what is met. */
  full?: () => boolean;
}

interface Waiting {
  folder: string;
  depth: number;
  hidden: string | null;
}

/**
 * What lies below a folder; where it ends is the same on every machine. Symbolic links are told and not followed; what is excluded,
 * `.git` and `node_modules` are passed by; hidden folders are gone through only when asked.
 */
export function walkFolder(access: FileAccess, start: string, how: WalkOptions): Iterable<WalkStep> {
  return new Walk(access, how).from(start);
}

class Walk {
  readonly #access: FileAccess;
  readonly #how: WalkOptions;
  readonly #waiting: Waiting[] = [];
  readonly #seen = { open: 0, hidden: 0 };

  constructor(access: FileAccess, how: WalkOptions) {
    this.#access = access;
    this.#how = how;
  }

  *from(start: string): Iterable<WalkStep> {
    this.#waiting.push({ folder: start, depth: 0, hidden: null });
    for (let next = this.#waiting.pop(); next; next = this.#waiting.pop()) {
      const where = next.hidden === null ? 'open' : 'hidden';
      const tooMany = this.#seen[where] > MOST_ENTRIES[where] || this.#how.full?.() === true;
      const why = tooMany ? 'too-many' : next.depth > DEEPEST ? 'too-deep' : null;
      if (why === null) yield* this.#folder(next);
      else yield { what: 'cut-short', path: next.folder, hidden: next.hidden, why };
      if (why === 'too-many' && next.hidden === null) return;
    }
  }

  /** What stands in a folder is told in no certain order; the folders below it are walked in one that is the same on every machine. */
  *#folder({ folder, depth, hidden }: Waiting): Iterable<WalkStep> {
    const { entries, problem } = this.#access.list(folder);
    const below: Waiting[] = [];
    if (problem !== null) yield { what: 'unlisted', path: folder, problem };
    for (const entry of entries) {
      this.#seen[hidden === null ? 'open' : 'hidden']++;
      // Joined, the text is one piece; put together by a template it would keep its parts beside itself, and may be one of a million.
      const path = folder === '' ? entry.name : [folder, entry.name].join('/');
      const step = met(entry, path, hidden, this.#how.excluded);
      if (step !== null) yield step;
      if (step === null) below.push({ folder: path, depth: depth + 1, hidden });
      else if (step.what === 'hidden-folder' && this.#how.intoHidden) {
        below.push({ folder: path, depth: depth + 1, hidden: path });
      }
    }
    below.sort((a, b) => byCodeUnit(a.folder, b.folder));
    for (const one of below) this.#waiting.push(one);
  }
}

/** What one entry of a folder is to a walk; null for a folder to go into without more ado. */
function met(entry: FolderEntry, path: string, hidden: string | null, excluded: Excluded): WalkStep | null {
  if (entry.name === '.git') return { what: 'passed', by: 'git' };
  if (entry.name === 'node_modules') return { what: 'passed', by: 'node_modules' };
  if (excluded(path)) return { what: 'passed', by: 'settings' };
  const unnameable = entry.unnameable ?? false;
  if (entry.symlink) return { what: 'link', path, unnameable, hidden };
  if (entry.kind === 'folder') {
    if (unnameable) return { what: 'unlisted', path, problem: 'its name is not UTF-8' };
    return hidden === null && entry.name.startsWith('.') ? { what: 'hidden-folder', path } : null;
  }
  return { what: entry.kind === 'file' ? 'file' : 'special', path, unnameable, hidden };
}
