import { lstatSync, readdirSync, statSync, watch } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';

/** Programs save in several steps; this long after the last of them a file is taken as saved. */
const SETTLE_MS = 250;

/**
 * Calls `changed` after each save of a file that `matters` (by its absolute path) below the folders of the paths, with the names as the
 * system gives them. Calls never overlap: what is saved meanwhile comes with the next one. `ready` is called once no save can be missed. It
 * goes on until the process is interrupted.
 */
export function watchPaths(
  paths: readonly string[],
  matters: (path: string) => boolean,
  changed: (names: string[]) => Promise<void>,
  ready: () => void,
): Promise<never> {
  const saved = new Set<string>();
  let timer: NodeJS.Timeout | null = null;
  let busy = false;
  return new Promise((_, reject) => {
    const settle = () => {
      if (timer) clearTimeout(timer);
      timer = setTimeout(() => {
        timer = null;
        if (busy || saved.size === 0) return;
        const names = [...saved].sort();
        saved.clear();
        busy = true;
        changed(names).then(() => {
          busy = false;
          if (saved.size > 0) settle();
        }, reject);
      }, SETTLE_MS);
    };
    const heard = (name: string) => {
      saved.add(name);
      settle();
    };
    const watched = new Set<string>();
    for (const path of paths) watchFolder(folderOf(path), folderOf(path), { watched, matters, heard, failed: reject });
    ready();
  });
}

interface Listener {
  watched: Set<string>;
  matters(path: string): boolean;
  heard(name: string): void;
  failed(error: Error): void;
}

/**
 * Listens to a folder and those below it, one by one: a watcher of Node's that follows a tree by itself loses a file that
 * was saved by putting a new one in its place, as most editors do.
 */
function watchFolder(root: string, folder: string, listener: Listener): void {
  if (listener.watched.has(folder)) return;
  listener.watched.add(folder);
  const watcher = watch(folder, (_event, name) => {
    if (name === null) return;
    const path = join(folder, name);
    if (isFolder(path)) watchFolder(root, path, listener);
    else if (listener.matters(path)) listener.heard(relative(root, path));
  });
  watcher.on('error', (error: Error & { code?: string }) => {
    // The folder is gone, and all that was in it.
    listener.watched.delete(folder);
    watcher.close();
    if (folder === root) listener.failed(error);
  });
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    if (!name.startsWith('.') && name !== 'node_modules' && isFolder(path)) watchFolder(root, path, listener);
  }
}

function isFolder(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

function folderOf(path: string): string {
  const full = resolve(path);
  return statSync(full, { throwIfNoEntry: false })?.isDirectory() ? full : dirname(full);
}
