import { exitCodeOf } from '../findings/verdict.ts';
import { RULES } from '../rules/index.ts';
import { checkOptions, type TypedOptions } from './check-options.ts';
import { wantsColour } from './colour.ts';
import type { Io } from './io.ts';
import { judge } from './judge.ts';
import { writeOutputs } from './outputs.ts';
import { Progress } from './progress.ts';

/** The `check` command: options in, reports out, exit code back. Reports are written only after everything is judged. */
export async function runCheck(paths: readonly string[], typed: TypedOptions, io: Io): Promise<number> {
  const options = checkOptions(typed);
  const progress = new Progress(io.stderr);
  const { result, rootInRepository } = judge({
    cwd: io.cwd,
    paths,
    shop: options.shop,
    untrusted: options.untrusted,
    bare: options.bare,
    today: options.today,
    onBytes: (file, bytes, size) => progress.read(file, bytes, size),
  });
  progress.clear();
  await writeOutputs(result, options.outputs, {
    cwd: io.cwd,
    stdout: io.stdout,
    context: { rules: RULES, quiet: options.quiet, rootInRepository, docsUrl: null },
    colour: wantsColour(options.colour, io.stdout, io.env),
  });
  return exitCodeOf(result, options);
}
