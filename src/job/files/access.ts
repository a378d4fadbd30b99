import type { Source } from '../../source/source.ts';

export interface FolderEntry {
  name: string;
  kind: 'file' | 'folder' | 'other';
  symlink?: boolean;
}

export interface Stat {
  kind: 'file' | 'folder' | 'other';
  /** Bytes. */
  size: number;
  /** True when following the links on the way leads outside the root. */
  leavesRoot?: boolean;
}

/** The files below a root, as the command line, a browser page or a test hands them in. Paths are relative to the root, with `/`; the root is ''. */
export interface FileAccess {
  /** What a folder holds, in any order; empty for what is no folder. Symbolic links are marked and not followed. */
  list(folder: string): readonly FolderEntry[];
  /** Null when there is nothing. */
  stat(path: string): Stat | null;
  /** Opening never fails; reading may (`SourceUnreadable`). */
  open(path: string): Source;
}

/** Folders whose content is never part of a job. */
const PASSED_BY = new Set(['node_modules']);
/** A checkout with more entries, or nested deeper, is walked no further, and the walk says so. */
const MOST_ENTRIES = 100_000;
const DEEPEST = 40;

export interface FolderWalk {
  /** Paths of files, in code-unit order. */
  files: string[];
  /** Paths of symbolic links, which were not followed. */
  links: string[];
  /** Where the walk gave up; null when it saw everything. */
  cutShortAt: string | null;
}

/** All files below a folder. Hidden folders, `node_modules` and symbolic links are passed by. */
export function walkFolder(access: FileAccess, start: string): FolderWalk {
  const files: string[] = [];
  const links: string[] = [];
  let cutShortAt: string | null = null;
  let seen = 0;
  const waiting: { folder: string; depth: number }[] = [{ folder: start, depth: 0 }];
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    if (next.depth > DEEPEST || seen > MOST_ENTRIES) {
      cutShortAt ??= next.folder;
      continue;
    }
    for (const entry of access.list(next.folder)) {
      seen++;
      const path = next.folder === '' ? entry.name : `${next.folder}/${entry.name}`;
      if (entry.symlink) links.push(path);
      else if (entry.kind === 'file') files.push(path);
      else if (entry.kind === 'folder' && !entry.name.startsWith('.') && !PASSED_BY.has(entry.name)) {
        waiting.push({ folder: path, depth: next.depth + 1 });
      }
    }
  }
  return { files: files.sort(byCodeUnit), links: links.sort(byCodeUnit), cutShortAt };
}

/** The same order on every machine. */
export function byCodeUnit(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * The root of a run: the nearest folder at or above all given folders that holds `.git` or `.kerflint.yaml`, else the
 * folder that holds them all. Under `untrusted` a `.kerflint.yaml` makes no root. Folders are absolute, with `/`.
 */
export function findRoot(has: (path: string) => boolean, folders: readonly string[], untrusted: boolean): string {
  const common = commonFolder(folders);
  const markers = untrusted ? ['.git'] : ['.git', '.kerflint.yaml'];
  for (let folder = common; ; ) {
    const base = folder === '/' ? '' : folder;
    if (markers.some((marker) => has(`${base}/${marker}`))) return folder;
    const at = base.lastIndexOf('/');
    if (at < 0) return common;
    const above = at === 0 ? '/' : base.slice(0, at);
    if (above === folder) return common;
    folder = above;
  }
}

function commonFolder(folders: readonly string[]): string {
  const [first = '/', ...rest] = folders.map((folder) => (folder === '/' ? folder : folder.replace(/\/+$/, '')));
  let parts = first.split('/');
  for (const folder of rest) {
    const others = folder.split('/');
    const same = parts.findIndex((part, index) => part !== others[index]);
    if (same >= 0) parts = parts.slice(0, same);
  }
  return parts.join('/') || '/';
}
