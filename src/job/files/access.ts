import type { Source } from '../../source/source.ts';

export interface FolderEntry {
  name: string;
  kind: 'file' | 'folder' | 'other';
  symlink?: boolean;
  /** Its bytes are no UTF-8: `name` only resembles it, and nothing can be opened by it. */
  unnameable?: boolean;
}

export interface FolderListing {
  /** In any order; none for what is no folder. Symbolic links are marked and not followed. They are gone through once. */
  entries: Iterable<FolderEntry>;
  /** Why a folder that is there cannot be listed; null when it could. */
  problem: string | null;
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
  /** What a folder holds. */
  list(folder: string): FolderListing;
  /** Null when there is nothing. */
  stat(path: string): Stat | null;
  /** Opening never fails; reading may (`SourceUnreadable`). */
  open(path: string): Source;
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
