import { JoinError, joinResults } from '../../findings/joining.ts';
import type { RunResult } from '../../findings/result.ts';
import { exitCodeOf } from '../../findings/verdict.ts';
import { rulesOncePerRun } from '../../preflight.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { drawsPictures, showsBase } from '../../report/formats.ts';
import { drawingsBeside, withoutDrawings } from '../files/drawings-beside.ts';
import { type OutputsAt, writeOutputs } from '../files/outputs.ts';
import { readResult } from '../files/read-result.ts';
import { RULES } from '../registered-rules.ts';
import { wantsColour } from '../terminal/colour.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { comparisonWith, picturesOfBase, readBase, refuseOtherBase } from './against.ts';
import { checkOptions, type RawCheckOptions } from './check-options.ts';

/** The `join` command: results of parts in, the report of the whole out, exit code as the undivided run would have. */
export async function runJoin(named: readonly string[], typed: RawCheckOptions, io: Io): Promise<number> {
  const options = checkOptions(typed);
  const where = { cwd: io.cwd, untrusted: false, shop: null };
  const base = options.against === null ? null : readBase(options.against, where);
  const files = withoutDrawings(named);
  const parts = files.map((file) => readResult(file, io.cwd));
  const joined = whole(parts);
  const tell = (line: string) => io.stderr.write(`kerflint: ${line}\n`);
  if (base !== null) refuseOtherBase(base, joined, tell);
  const result = base === null ? joined : { ...joined, comparison: comparisonWith(base, joined, null) };
  const draws = options.outputs.some(({ format }) => drawsPictures(format));
  const pictures = draws ? drawingsBeside(files, parts, io.cwd, tell) : undefined;
  const shows = base !== null && options.outputs.some(({ format }) => showsBase(format));
  const at: OutputsAt = {
    cwd: io.cwd,
    stdout: io.stdout,
    context: {
      rules: RULES,
      quiet: options.quiet,
      failLevel: options,
      rootInRepository: '',
      docsUrl: null,
      ...(shows && { basePictures: picturesOfBase(base, where, tell) }),
      ...(result.judgedBy ? { today: result.judgedBy.today } : {}),
    },
    colour: wantsColour(options.colour, io.stdout, io.env),
    links: 'replace',
  };
  await writeOutputs(result, options.outputs, at, pictures);
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
