import { accessSync, constants, statSync } from 'node:fs';
import { UsageError } from '../src/cli/usage-error.ts';
import { escapeTerminal } from '../src/report/escape.ts';

type Env = Readonly<Record<string, string | undefined>>;

/** Files of the runner that a step writes into, by the variables that name them. */
export type RunnerFile = 'GITHUB_OUTPUT' | 'GITHUB_STEP_SUMMARY';

/**
 * Whether the runner gave a file to write into; a runner that gives none does without.
 * @throws UsageError when it gave one that cannot be written
 */
export function runnerFile(env: Env, name: RunnerFile): boolean {
  const path = env[name] ?? '';
  if (path === '') return false;
  try {
    accessSync(path, constants.R_OK | constants.W_OK);
  } catch (error) {
    throw notWritable(name, path, error);
  }
  if (statSync(path).isDirectory()) throw notWritable(name, path, { code: 'EISDIR' });
  return true;
}

/**
 * Writes into a file of the runner.
 * @throws UsageError when that fails
 */
export async function intoRunnerFile(env: Env, name: RunnerFile, write: () => unknown): Promise<void> {
  if (!runnerFile(env, name)) return;
  try {
    await write();
  } catch (error) {
    throw notWritable(name, env[name] ?? '', error);
  }
}

function notWritable(name: RunnerFile, path: string, error: unknown): UsageError {
  const { code } = error as { code?: string };
  return new UsageError(
    `the runner's file ${name} (${escapeTerminal(path)}) cannot be written (${code ?? String(error)}).`,
    'The runner makes it for each step: see what its disk, and the steps before this one, do to it.',
  );
}
