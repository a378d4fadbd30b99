import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { safeParse } from 'valibot';
import type { RunResult } from '../../findings/result.ts';
import { resultSchema } from '../../report/data/result-schema.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { UsageError } from '../usage-error.ts';

const WAY_OUT = 'Give a file that kerflint check --format json=<file> wrote.';

/**
 * A result that an earlier run wrote.
 * @param file as typed.
 * @throws UsageError when it cannot be read or is none
 */
export function readResult(file: string, cwd: string): RunResult {
  let data: unknown;
  try {
    data = JSON.parse(readFileSync(resolve(cwd, file), 'utf8'));
  } catch (error) {
    const { code } = error as { code?: string };
    throw new UsageError(
      `${escapeTerminal(file)} ${code === undefined ? 'is not JSON' : `cannot be read (${code})`}.`,
      WAY_OUT,
    );
  }
  const parsed = safeParse(resultSchema, data);
  if (!parsed.success) throw new UsageError(`${escapeTerminal(file)} is no result of kerflint (version 1).`, WAY_OUT);
  // The schema has checked it; what it does not know (added later) is kept.
  return data as RunResult;
}
