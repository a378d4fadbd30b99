import {
  chmodSync,
  closeSync,
  constants,
  lstatSync,
  mkdirSync,
  openSync,
  readlinkSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { SourceUnreadable } from '../../source/source.ts';
import { UsageError } from '../usage-error.ts';

let written = 0;

/**
 * Writes a file whole or not at all: into a new file beside it, which then takes its name. Parent folders are made. What is no regular file
 * (a device, a FIFO, what `/dev/stdout` leads to) is written to and stays what it is; any other link is replaced and what it points to
 * is left alone.
 * @param links `refuse` where somebody who is not trusted may have laid one.
 * @throws UsageError when it cannot be written there
 */
export function writeFile(path: string, text: string, links: 'replace' | 'refuse' = 'replace'): void {
  writePieces(path, [text], links);
}

/**
 * The same for a text in pieces.
 * @throws UsageError when it cannot be written there
 */
export function writePieces(path: string, pieces: Iterable<string | Uint8Array>, links: 'replace' | 'refuse'): void {
  attempt(path, () => {
    const there = lstatSync(path, { throwIfNoEntry: false });
    if (there?.isSymbolicLink() && links === 'refuse' && !isOfTheSystem(path)) {
      throw new UsageError(`${path} cannot be written: it is a link.`, 'Name a file that is none, or remove the link.');
    }
    const target = there?.isSymbolicLink() ? statSync(path, { throwIfNoEntry: false }) : there;
    if (target?.isDirectory()) {
      throw new UsageError(`${path} cannot be written: it is a folder.`, 'Name a file.');
    }
    if (there !== undefined && isStream(path, there, target)) writeInto(path, pieces);
    else replace(path, pieces);
  });
}

/**
 * Puts a new file in the place of whatever is there, a FIFO or a device too: for folders of our own, where nothing else belongs. It never
 * waits for the other end of a pipe.
 * @param mode the permissions of the new file; left out: as the system makes files
 * @throws UsageError when it cannot be written there
 */
export function replaceFile(path: string, content: string | Iterable<Uint8Array>, mode?: number): void {
  attempt(path, () => replace(path, typeof content === 'string' ? [content] : content, mode));
}

/**
 * Writes a new file, never over one that is there or through a link.
 * @throws UsageError when it cannot be written there
 */
export function newFile(path: string, chunks: Iterable<Uint8Array>): void {
  attempt(path, () => writeNew(path, chunks));
}

function attempt(path: string, write: () => void): void {
  try {
    write();
  } catch (error) {
    // What is read meanwhile may fail as well, and that is not said of what is written.
    throw error instanceof UsageError || error instanceof SourceUnreadable ? error : notWritten(path, error);
  }
}

function notWritten(path: string, error: unknown): UsageError {
  const { code } = error as { code?: string };
  return new UsageError(
    `${path} cannot be written (${code ?? String(error)}).`,
    'Name a file in a folder that you may write to.',
  );
}

/** Whether a name stands for something that is written to rather than replaced. */
function isStream(path: string, there: Stats, target: Stats | undefined): boolean {
  if (target !== undefined && !target.isFile()) return true;
  // `/dev/stdout` may lead to a regular file, which others hold open.
  return there.isSymbolicLink() && (isOfTheSystem(path) || isOfTheSystem(resolve(dirname(path), readlinkSync(path))));
}

/** Names that the system itself makes: nobody lays a link there who could not do worse. */
function isOfTheSystem(path: string): boolean {
  return /^\/(dev|proc)\//.test(path);
}

function writeInto(path: string, pieces: Iterable<string | Uint8Array>): void {
  const file = openSync(path, constants.O_WRONLY);
  try {
    for (const piece of pieces) writeFileSync(file, piece);
  } finally {
    closeSync(file);
  }
}

function replace(path: string, pieces: Iterable<string | Uint8Array>, mode?: number): void {
  const folder = dirname(path);
  const beside = join(folder, `.${basename(path)}.${process.pid}-${written++}.tmp`);
  mkdirSync(folder, { recursive: true });
  try {
    // "wx": never through a link that somebody has laid there.
    writeNew(beside, pieces);
    if (mode !== undefined) chmodSync(beside, mode);
    renameSync(beside, path);
  } catch (error) {
    removeIfThere(beside);
    throw error;
  }
}

function writeNew(path: string, pieces: Iterable<string | Uint8Array>): void {
  const file = openSync(path, 'wx');
  try {
    for (const piece of pieces) writeFileSync(file, piece);
  } finally {
    closeSync(file);
  }
}

function removeIfThere(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // What could not be made need not be removed; the error that is told is the first one.
  }
}
