import type { FileAccess, FolderEntry } from '../src/job/files/access.ts';
import { bytesSource, type Source, SourceUnreadable, textSource } from '../src/source/source.ts';

/** What stands at a path: a text, bytes, or a link that leads outside the root. */
export type Content = string | Uint8Array | { link: 'file' | 'folder' };

type Link = Extract<Content, { link: string }>;

function isLink(content: Content | undefined): content is Link {
  return typeof content === 'object' && 'link' in content;
}

/** Files in memory, by path relative to the root. */
export function memoryAccess(files: Record<string, Content>): FileAccess {
  const paths = Object.keys(files);
  const isFolder = (path: string) => path === '' || paths.some((file) => file.startsWith(`${path}/`));
  const linkAbove = (path: string) =>
    paths.some((file) => isLink(files[file]) && (path === file || path.startsWith(`${file}/`)));
  return {
    list(folder) {
      const inside = folder === '' ? '' : `${folder}/`;
      const entries = new Map<string, FolderEntry>();
      for (const path of paths) {
        if (!path.startsWith(inside)) continue;
        const [name = '', ...deeper] = path.slice(inside.length).split('/');
        const content = files[path]!;
        if (deeper.length > 0) entries.set(name, { name, kind: 'folder' });
        // As a directory listing tells it: a link is neither a file nor a folder.
        else if (isLink(content)) entries.set(name, { name, kind: 'other', symlink: true });
        else entries.set(name, { name, kind: 'file' });
      }
      return { entries: [...entries.values()].reverse(), problem: null };
    },
    stat(path) {
      if (linkAbove(path)) {
        const content = files[path];
        return { kind: isLink(content) ? content.link : 'file', size: 1, leavesRoot: true };
      }
      const content = files[path];
      if (content !== undefined && !isLink(content)) return { kind: 'file', size: content.length };
      return isFolder(path) ? { kind: 'folder', size: 0 } : null;
    },
    open: (path) => sourceOf(path, files[path]),
  };
}

function sourceOf(path: string, content: Content | undefined): Source {
  if (typeof content === 'string') return textSource(path, content);
  if (content instanceof Uint8Array) return bytesSource(path, content);
  return {
    name: path,
    size: 0,
    // biome-ignore lint/correctness/useYield: a source whose bytes cannot be had
    *chunks() {
      throw new SourceUnreadable('there is no such file');
    },
  };
}
