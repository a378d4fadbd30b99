import { resolve } from 'node:path';
import type { RunResult } from '../findings/result.ts';
import { exitCodeOf } from '../findings/verdict.ts';
import { terminal } from '../report/escape.ts';
import { drawsPictures } from '../report/formats.ts';
import { count, verdictSentence } from '../report/wording.ts';
import { RULES } from '../rules/index.ts';
import { withBaseline } from './baselining.ts';
import { changedList } from './changed-list.ts';
import { type CheckOptions, checkOptions, type TypedOptions } from './check-options.ts';
import { wantsColour } from './colour.ts';
import type { Io } from './io.ts';
import { concluded, type Judged, type JudgeRequest, judge, prepare } from './judge.ts';
import { writeOutputs } from './outputs.ts';
import { Progress } from './progress.ts';
import { UsageError } from './usage-error.ts';
import { watchPaths } from './watching.ts';

/** The `check` command: options in, reports out, exit code back. Reports are written only after everything is judged. */
export async function runCheck(paths: readonly string[], typed: TypedOptions, io: Io): Promise<number> {
  const options = checkOptions(typed);
  const result = await checkOnce(paths, options, io);
  if (!options.watch) return exitCodeOf(result, options);
  // stdout had its report; from now on only the files of --format are refreshed.
  const refreshed = { ...options, outputs: options.outputs.filter(({ file }) => file !== null) };
  const watched = paths.length === 0 ? ['.'] : paths;
  return watchPaths(
    [...watched, ...(options.shop === null ? [] : [options.shop])].map((path) => resolve(io.cwd, path)),
    (names) => checkAgain(names, paths, refreshed, io),
    () => io.stderr.write('kerflint: watching; Ctrl-C ends.\n'),
  );
}

/** One line for each event, whatever came of it. */
async function checkAgain(names: string[], paths: readonly string[], options: CheckOptions, io: Io): Promise<void> {
  const [name = '', ...more] = names;
  const saved = `${name}${more.length === 0 ? '' : ` and ${count(more.length, 'other file')}`} saved`;
  const say = (text: string) => io.stderr.write(`${terminal(`${clock(new Date())}  ${saved}: ${text}`)}\n`);
  try {
    const result = await checkOnce(paths, options, io);
    say(verdictSentence(result));
  } catch (error) {
    // A folder in the midst of being changed: the next save may put it right.
    if (!(error instanceof UsageError)) throw error;
    say(error.message);
  }
}

function clock(time: Date): string {
  return [time.getHours(), time.getMinutes(), time.getSeconds()].map((n) => String(n).padStart(2, '0')).join(':');
}

async function checkOnce(paths: readonly string[], options: CheckOptions, io: Io): Promise<RunResult> {
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
      ? await judge({ ...request, onBytes: (file, bytes, size) => progress.read(file, bytes, size) })
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
  return result;
}

async function judgeInParallel(request: JudgeRequest, workers: number): Promise<Judged> {
  const run = await prepare(request);
  const { judgeInThreads } = await import('./parallel.ts');
  return concluded(run, await judgeInThreads(run, workers));
}
