import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { escapeTerminal } from '../../report/escape.ts';
import type { InputStream } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';

/** More than any list of changed files; keeps a wrong file from filling the memory. */
const LARGEST_BYTES = 64 * 1024 * 1024;

/**
 * The text of a list of changed files, from a file or (`-`) from stdin.
 * @throws UsageError when it cannot be read
 */
export async function readChangedFiles(file: string, cwd: string, stdin: InputStream): Promise<string> {
  try {
    return file === '-' ? await whole(stdin) : readFileSync(resolve(cwd, file), 'utf8');
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === undefined) throw error;
    throw new UsageError(
      `--changed-files ${escapeTerminal(file)} cannot be read (${code}).`,
      'Feed it from git: git diff --name-only -z main... | kerflint check --changed-files -',
    );
  }
}

async function whole(stdin: InputStream): Promise<string> {
  const decoder = new TextDecoder();
  let text = '';
  for await (const chunk of stdin) {
    text += typeof chunk === 'string' ? chunk : decoder.decode(chunk, { stream: true });
    if (text.length > LARGEST_BYTES)
      throw new UsageError('the list of changed files on stdin does not end.', 'Name a file instead.');
  }
  return text + decoder.decode();
}
