import type { FileAccess, FolderEntry } from '../../job/files/access.ts';
import { bytesSource, type Source, SourceUnreadable } from '../../source/source.ts';

/** Files by path, with `/`, as they were dropped onto the page. */
export type Files = ReadonlyMap<string, Uint8Array>;

/** The files as the core sees them. `prefix` stands ahead of their names where people read them. */
export function memoryFiles(files: Files, prefix = ''): FileAccess {
  const isFolder = (path: string) => path === '' || [...files.keys()].some((file) => file.startsWith(`${path}/`));
  return {
    list(folder) {
      const entries = new Map<string, FolderEntry>();
      for (const path of files.keys()) {
        if (folder !== '' && !path.startsWith(`${folder}/`)) continue;
        const [name = '', ...rest] = (folder === '' ? path : path.slice(folder.length + 1)).split('/');
        entries.set(name, { name, kind: rest.length > 0 ? 'folder' : 'file' });
      }
      return { entries: [...entries.values()], problem: null };
    },
    stat(path) {
      const bytes = files.get(path);
      if (bytes) return { kind: 'file', size: bytes.length };
      return isFolder(path) ? { kind: 'folder', size: 0 } : null;
    },
    open(path) {
      const bytes = files.get(path);
      return bytes ? bytesSource(`${prefix}${path}`, bytes) : missing(`${prefix}${path}`);
    },
  };
}

function missing(name: string): Source {
  return {
    name,
    size: 0,
    // biome-ignore lint/correctness/useYield: a source whose bytes cannot be had
    *chunks() {
      throw new SourceUnreadable('there is no such file');
    },
  };
}
