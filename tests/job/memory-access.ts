import type { Entry, FileAccess } from '../../src/job/access.ts';
import { textSource } from '../../src/source/source.ts';

/** What stands at a path: a text, or a link that leads outside the root. */
export type Content = string | { link: 'file' | 'folder' };

/** Files in memory, by path relative to the root. */
export function memoryAccess(files: Record<string, Content>): FileAccess {
  const paths = Object.keys(files);
  const isFolder = (path: string) => path === '' || paths.some((file) => file.startsWith(`${path}/`));
  const linkAbove = (path: string) =>
    paths.some((file) => typeof files[file] === 'object' && (path === file || path.startsWith(`${file}/`)));
  return {
    list(folder) {
      const inside = folder === '' ? '' : `${folder}/`;
      const entries = new Map<string, Entry>();
      for (const path of paths) {
        if (!path.startsWith(inside)) continue;
        const [name = '', ...deeper] = path.slice(inside.length).split('/');
        const content = files[path]!;
        if (deeper.length > 0) entries.set(name, { name, kind: 'folder' });
        // As a directory listing tells it: a link is neither a file nor a folder.
        else if (typeof content === 'object') entries.set(name, { name, kind: 'other', symlink: true });
        else entries.set(name, { name, kind: 'file' });
      }
      return [...entries.values()].reverse();
    },
    stat(path) {
      if (linkAbove(path)) {
        const content = files[path];
        return { kind: typeof content === 'object' ? content.link : 'file', size: 1, leavesRoot: true };
      }
      const content = files[path];
      if (typeof content === 'string') return { kind: 'file', size: content.length };
      return isFolder(path) ? { kind: 'folder', size: 0 } : null;
    },
    open(path) {
      const content = files[path];
      return textSource(path, typeof content === 'string' ? content : '');
    },
  };
}
