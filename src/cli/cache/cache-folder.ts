import { closeSync, constants, existsSync, fstatSync, mkdirSync, openSync, readSync, realpathSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { SETTINGS_NAME } from '../../job/files/paths.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { isWithin } from '../files/files.ts';
import { withoutLinks } from '../files/links.ts';
import { replaceFile } from '../files/write-file.ts';
import { UsageError } from '../usage-error.ts';

/** A result of a job has a few kilobytes; what is larger than this is no entry, or not worth keeping. */
const LARGEST_BYTES = 32 * 2 ** 20;

/**
 * The folder that `--cache` names, free of links.
 * @throws UsageError when it lies where the files that are checked come from: with a job, somebody could send its result
 */
export function cacheFolder(typed: string, cwd: string, root: string): string {
  const folder = withoutLinks(resolve(cwd, typed));
  const realRoot = realpathSync.native(root);
  const around = isWithin(folder, realRoot) ? realRoot : jobsFolderAround(folder);
  if (around === null) return folder;
  throw new UsageError(
    `--cache ${escapeTerminal(typed)} lies in ${escapeTerminal(around)}, where jobs come from: a result could be sent along with its job.`,
    'Name a folder outside of every checkout, to which only those write who are trusted.',
  );
}

/** The checkout that a folder lies in, or the folder of jobs with settings of its own. */
function jobsFolderAround(path: string): string | null {
  for (let folder = path; ; folder = dirname(folder)) {
    if (['.git', SETTINGS_NAME].some((name) => existsSync(join(folder, name)))) return folder;
    if (folder === dirname(folder)) return null;
  }
}

/** Texts by their key, in a folder that somebody else may have written to: whatever is not a plain file is not there. */
export class CacheFolder {
  /** Why nothing more is written, as a sentence; null as long as it is. */
  trouble: string | null = null;
  readonly #folder: string;

  constructor(folder: string) {
    this.#folder = folder;
  }

  read(key: string): string | null {
    try {
      // Neither through a link, which would lead elsewhere, nor waiting for the other end of a pipe.
      const fd = openSync(this.#pathOf(key), constants.O_RDONLY | constants.O_NOFOLLOW | constants.O_NONBLOCK);
      try {
        const stats = fstatSync(fd);
        return stats.isFile() && stats.size <= LARGEST_BYTES ? readBytes(fd, stats.size).toString('utf8') : null;
      } finally {
        closeSync(fd);
      }
    } catch {
      // An entry that cannot be read costs the time of judging the job.
      return null;
    }
  }

  write(key: string, text: string): void {
    if (this.trouble !== null || Buffer.byteLength(text) > LARGEST_BYTES) return;
    try {
      mkdirSync(this.#folder, { recursive: true, mode: 0o700 });
      replaceFile(this.#pathOf(key), text);
    } catch (error) {
      this.trouble = error instanceof Error ? error.message : String(error);
    }
  }

  #pathOf(key: string): string {
    return join(this.#folder, `${key}.json`);
  }
}

/** As many bytes as there were; what comes in meanwhile makes it no whole entry. */
function readBytes(fd: number, size: number): Buffer {
  const bytes = Buffer.alloc(size);
  let length = 0;
  for (let read = -1; read !== 0 && length < size; length += read) {
    read = readSync(fd, bytes, length, size - length, null);
  }
  return bytes.subarray(0, length);
}
