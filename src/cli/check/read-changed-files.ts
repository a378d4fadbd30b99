import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { escapeTerminal } from '../../report/escape.ts';
import type { InputStream } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { type ChangedEntry, changedList } from './changed-list.ts';

/** More than any list of changed files; keeps a wrong file from filling the memory. */
const LARGEST_BYTES = 64 * 1024 * 1024;

/**
 * A list of changed files, from a file or (`-`) from stdin.
 * @throws UsageError when it cannot be read, or is no such list
 */
export async function readChangedFiles(file: string, cwd: string, stdin: InputStream): Promise<ChangedEntry[]> {
  return changedList(await bytesOf(file, cwd, stdin));
}

async function bytesOf(file: string, cwd: string, stdin: InputStream): Promise<Uint8Array> {
  try {
    return file === '-' ? await whole(stdin) : readFileSync(resolve(cwd, file));
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === undefined) throw error;
    throw new UsageError(
      `--changed-files ${escapeTerminal(file)} cannot be read (${code}).`,
      'Feed it from git: git diff --name-status -z main... | kerflint check --changed-files -',
    );
  }
}

async function whole(stdin: InputStream): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of stdin) {
    const part = typeof chunk === 'string' ? new TextEncoder().encode(chunk) : chunk;
    parts.push(part);
    length += part.length;
    if (length > LARGEST_BYTES)
      throw new UsageError('the list of changed files on stdin does not end.', 'Name a file instead.');
  }
  return Buffer.concat(parts, length);
}
