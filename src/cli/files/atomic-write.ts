import { mkdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { UsageError } from '../usage-error.ts';

let written = 0;

/**
 * Writes a file whole or not at all: into a new file beside it, which then takes its name. Parent folders are made.
 * @throws UsageError when it cannot be written there
 */
export function writeAtomically(path: string, text: string): void {
  const folder = dirname(path);
  const beside = join(folder, `.${basename(path)}.${process.pid}-${written++}.tmp`);
  try {
    if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) {
      throw new UsageError(`${path} cannot be written: it is a folder.`, 'Name a file.');
    }
    mkdirSync(folder, { recursive: true });
    // "wx": never through a link that somebody has laid there.
    writeFileSync(beside, text, { flag: 'wx' });
    renameSync(beside, path);
  } catch (error) {
    if (error instanceof UsageError) throw error;
    removeIfThere(beside);
    const { code } = error as { code?: string };
    throw new UsageError(
      `${path} cannot be written (${code ?? String(error)}).`,
      'Name a file in a folder that you may write to.',
    );
  }
}

function removeIfThere(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // What could not be made need not be removed; the error that is told is the first one.
  }
}
