import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { safeParse } from 'valibot';
import { JoinError, joinResults } from '../../findings/joining.ts';
import type { RunResult } from '../../findings/result.ts';
import { exitCodeOf } from '../../findings/verdict.ts';
import { rulesOncePerRun } from '../../preflight.ts';
import { resultSchema } from '../../report/data/result-schema.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { writeOutputs } from '../files/outputs.ts';
import { RULES } from '../registered-rules.ts';
import { wantsColour } from '../terminal/colour.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { checkOptions, type RawCheckOptions } from './check-options.ts';

/** The `join` command: results of parts in, the report of the whole out, exit code as the undivided run would have. */
export async function runJoin(files: readonly string[], typed: RawCheckOptions, io: Io): Promise<number> {
  const options = checkOptions(typed);
  const result = whole(files.map((file) => readResult(file, io.cwd)));
  await writeOutputs(result, options.outputs, {
    cwd: io.cwd,
    stdout: io.stdout,
    context: { rules: RULES, quiet: options.quiet, failLevel: options, rootInRepository: '', docsUrl: null },
    colour: wantsColour(options.colour, io.stdout, io.env),
    links: 'replace',
  });
  return exitCodeOf(result, options);
}

function whole(parts: readonly RunResult[]): RunResult {
  try {
    return joinResults(parts, rulesOncePerRun);
  } catch (error) {
    if (error instanceof JoinError)
      throw new UsageError(escapeTerminal(error.message), 'Give the results of all parts of one run, each once.');
    throw error;
  }
}

function readResult(file: string, cwd: string): RunResult {
  const wayOut = 'Give files that kerflint check --format json=<file> wrote.';
  let data: unknown;
  try {
    data = JSON.parse(readFileSync(resolve(cwd, file), 'utf8'));
  } catch (error) {
    const { code } = error as { code?: string };
    throw new UsageError(
      `${escapeTerminal(file)} ${code === undefined ? 'is not JSON' : `cannot be read (${code})`}.`,
      wayOut,
    );
  }
  const parsed = safeParse(resultSchema, data);
  if (!parsed.success) throw new UsageError(`${escapeTerminal(file)} is no result of kerflint (version 1).`, wayOut);
  // The schema has checked it; what it does not know (added later) is kept.
  return data as RunResult;
}
