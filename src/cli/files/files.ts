import {
  closeSync,
  constants,
  type Dir,
  type Dirent,
  fstatSync,
  lstatSync,
  opendirSync,
  openSync,
  readSync,
  realpathSync,
  type Stats,
  statSync,
} from 'node:fs';
import { join, sep } from 'node:path';
import type { FileAccess, FolderEntry, FolderListing, Stat } from '../../job/files/access.ts';
import { rememberedSource } from '../../source/remembered.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';

/** Read in pieces of this size into a buffer that is used again and again. */
const CHUNK_BYTES = 1 << 20;
/** Larger than any toolpath that a controller takes; keeps a run bounded. */
const LARGEST_BYTES = 4 * 2 ** 30;

/** What people write by hand has less than this. */
const REMEMBERED_BYTES = 1 << 20;

/** Told as bytes of a file come in. */
export type OnBytes = (file: string, bytes: number, size: number) => void;

/** Buffers that no pass over a file holds at the moment. */
const idle: Uint8Array[] = [];

/**
 * The files below a folder on disk. Names carry `prefix`, so that people can tell a file of the shop from one of the
 * checkout. With `remember`, a file that people write (YAML), and what
 * ships as JSON, is read once, however often it is opened and whatever becomes of it meanwhile.
 */
export function folderAccess(
  root: string,
  options: { prefix?: string; onBytes?: OnBytes | undefined; remember?: boolean | undefined } = {},
): FileAccess {
  const realRoot = realpathSync.native(root);
  const { prefix = '', onBytes, remember = false } = options;
  const remembered = new Map<string, Source>();
  return {
    list(folder) {
      return listing(join(root, folder));
    },
    stat(path): Stat | null {
      try {
        const full = join(root, path);
        const stats = statSync(full);
        const stat: Stat = { kind: kindOf(stats), size: stats.size };
        if (!isWithin(realpathSync.native(full), realRoot)) stat.leavesRoot = true;
        return stat;
      } catch {
        return null;
      }
    },
    open(path) {
      const known = remembered.get(path);
      if (known) return known;
      const full = join(root, path);
      const source = fileSource(`${prefix}${path}`, full, this.stat(path)?.size ?? 0, realRoot, onBytes);
      if (!remember || !/\.(yaml|json)$/.test(path)) return source;
      const kept = rememberedSource(source, REMEMBERED_BYTES);
      remembered.set(path, kept);
      return kept;
    },
  };
}

function listing(folder: string): FolderListing {
  let opened: Dir | null = null;
  try {
    opened = opendirSync(folder, { bufferSize: 256 });
    const entries: FolderEntry[] = [];
    for (let entry = opened.readSync(); entry; entry = opened.readSync()) entries.push(entryOf(folder, entry));
    return { entries, problem: null };
  } catch (error) {
    const { code = String(error) } = error as { code?: string };
    const isNone = code === 'ENOENT' || code === 'ENOTDIR';
    return { entries: [], problem: isNone ? null : reasonOf(code) };
  } finally {
    opened?.closeSync();
  }
}

function entryOf(folder: string, entry: Dirent): FolderEntry {
  const { name } = entry;
  const made: FolderEntry = { name, kind: kindOf(entry), symlink: entry.isSymbolicLink() };
  // Bytes that are no UTF-8 come as U+FFFD, and by that name there is nothing; but a file may bear that very character.
  if (name.includes('\uFFFD') && !lstatSync(join(folder, name), { throwIfNoEntry: false })) made.unnameable = true;
  return made;
}

function kindOf(what: Dirent | Stats): FolderEntry['kind'] {
  return what.isFile() ? 'file' : what.isDirectory() ? 'folder' : 'other';
}

/**
 * A file on disk as a source. It is opened anew for each pass, only if it is a regular file (no device, pipe or folder)
 * and only if it lies under `realRoot` after all links are followed. What another pass, or the end of a pass, finds changed is
 * unreadable: half of one program and half of another would be judged as one.
 */
function fileSource(name: string, path: string, size: number, realRoot: string, onBytes: OnBytes | undefined): Source {
  let before: Stats | null = null;
  const asBefore = (now: Stats) => {
    before ??= now;
    if (before.ino !== now.ino || before.size !== now.size || before.mtimeMs !== now.mtimeMs)
      throw new SourceUnreadable('it was changed while it was read: check again');
  };
  return {
    name,
    size,
    *chunks() {
      const { fd, stats } = openRegular(path, realRoot);
      const buffer = idle.pop() ?? new Uint8Array(CHUNK_BYTES);
      try {
        asBefore(stats);
        let total = 0;
        for (;;) {
          const read = attempt(() => readSync(fd, buffer, 0, buffer.length, null));
          if (read === 0) {
            asBefore(fstatSync(fd));
            return;
          }
          total += read;
          if (total > LARGEST_BYTES) throw new SourceUnreadable(`it is larger than ${LARGEST_BYTES} bytes`);
          onBytes?.(name, total, stats.size);
          yield buffer.subarray(0, read);
        }
      } finally {
        idle.push(buffer);
        closeSync(fd);
      }
    },
  };
}

/** @throws SourceUnreadable when it is not a regular file under the root, or may not be read */
function openRegular(path: string, realRoot: string): { fd: number; stats: Stats } {
  const real = attempt(() => realpathSync.native(path));
  if (!isWithin(real, realRoot)) throw new SourceUnreadable('it is a link that leaves the root');
  // Without O_NONBLOCK the opening of a pipe would wait for a writer that never comes.
  const fd = attempt(() => openSync(real, constants.O_RDONLY | constants.O_NONBLOCK));
  const stats = fstatSync(fd);
  const refusal = whyNotRegular(stats);
  if (refusal === null) return { fd, stats };
  closeSync(fd);
  throw new SourceUnreadable(refusal);
}

function whyNotRegular(stats: Stats): string | null {
  if (stats.isDirectory()) return 'it is a folder';
  if (!stats.isFile()) return 'it is a device or a pipe, not a file';
  return stats.size > LARGEST_BYTES ? `it is larger than ${LARGEST_BYTES} bytes` : null;
}

/** Whether a path is a folder or lies below it. Both absolute and free of links. */
export function isWithin(path: string, folder: string): boolean {
  return path === folder || path.startsWith(folder.endsWith(sep) ? folder : folder + sep);
}

const REASONS: Record<string, string> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'there is no such file',
  EACCES: 'it may not be read (permission)',
  EPERM: 'it may not be read (permission)',
  ELOOP: 'its links lead in a circle',
  EISDIR: 'it is a folder',
  ENXIO: 'it is a device or a pipe, not a file',
  ENAMETOOLONG: 'its name is too long',
  EMFILE: 'too many files are open',
};

function reasonOf(code: string): string {
  return REASONS[code] ?? `the system says ${code}`;
}

/** An error of the file system in words; other errors pass. */
function attempt<T>(act: () => T): T {
  try {
    return act();
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === undefined) throw error;
    throw new SourceUnreadable(reasonOf(code));
  }
}

/** A path with `/` between its folders, whatever the system writes. */
export function slashed(path: string): string {
  return sep === '/' ? path : path.replaceAll(sep, '/');
}
