import { exitCodeOf } from '../findings/verdict.ts';
import { drawsPictures } from '../report/formats.ts';
import { RULES } from '../rules/index.ts';
import { withBaseline } from './baselining.ts';
import { changedList } from './changed-list.ts';
import { checkOptions, type TypedOptions } from './check-options.ts';
import { wantsColour } from './colour.ts';
import type { Io } from './io.ts';
import { type JudgeRequest, judge } from './judge.ts';
import { writeOutputs } from './outputs.ts';
import { judgeInParallel } from './parallel.ts';
import { Progress } from './progress.ts';

/** The `check` command: options in, reports out, exit code back. Reports are written only after everything is judged. */
export async function runCheck(paths: readonly string[], typed: TypedOptions, io: Io): Promise<number> {
  const options = checkOptions(typed);
  const { untrusted, shop, changedFiles } = options;
  const progress = new Progress(io.stderr);
  const request: JudgeRequest = {
    cwd: io.cwd,
    paths,
    shop,
    untrusted,
    bare: options.bare,
    today: options.today,
    changed: changedFiles === null ? null : await changedList(changedFiles, io.cwd, io.stdin),
    shard: options.shard,
    draw: options.outputs.some(({ format }) => drawsPictures(format)),
  };
  const judged =
    options.workers === 1
      ? judge({ ...request, onBytes: (file, bytes, size) => progress.read(file, bytes, size) })
      : await judgeInParallel(request, options.workers);
  progress.clear();
  const tell = (line: string) => io.stderr.write(`kerflint: ${line}\n`);
  const { root, rootInRepository } = judged;
  const result =
    options.baseline === null
      ? judged.result
      : withBaseline(judged.result, options.baseline, { cwd: io.cwd, root, untrusted, shop, tell });
  await writeOutputs(result, options.outputs, {
    cwd: io.cwd,
    stdout: io.stdout,
    context: { rules: RULES, quiet: options.quiet, rootInRepository, docsUrl: null, pictures: judged.pictures },
    colour: wantsColour(options.colour, io.stdout, io.env),
  });
  return exitCodeOf(result, options);
}
