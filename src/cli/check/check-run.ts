import { resolve } from 'node:path';
import type { RunEnd } from '../../findings/result.ts';
import { RunTally } from '../../findings/run-tally.ts';
import { exitCodeOf } from '../../findings/verdict.ts';
import { NO_REPLY_SETTINGS } from '../../job/settings/reply-settings.ts';
import { kindByName, uncertainReaders } from '../../model/reader-choice.ts';
import { runStart } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { drawsPictures, showsBase } from '../../report/formats.ts';
import { formatCount } from '../../units/format.ts';
import { openOutputs } from '../files/outputs.ts';
import { packageVersion } from '../files/package-files.ts';
import { mustBeNew, openReplyFolder } from '../files/reply-folder.ts';
import { RULES } from '../registered-rules.ts';
import { wantsColour } from '../terminal/colour.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import type { Base } from './against.ts';
import { withBaseline } from './apply-baseline.ts';
import { type CheckOptions, checkOptions, type RawCheckOptions } from './check-options.ts';
import { type JudgeRequest, prepareRun, restOf } from './judge.ts';
import { judgeJobs } from './judge-jobs.ts';
import { Progress } from './progress.ts';
import { readChangedFiles } from './read-changed-files.ts';
import { watchPaths } from './watching.ts';

/** The `check` command: options in, reports out, exit code back. Reports are written only after everything is judged. */
export async function runCheck(paths: readonly string[], typed: RawCheckOptions, io: Io): Promise<number> {
  const options = checkOptions(typed);
  // A variable that a script left unset would otherwise stand for the whole folder.
  if (paths.includes(''))
    throw new UsageError('a path is empty', 'Name a sidecar, a folder or a file; "." is this folder.');
  const unused = whyNoCache(options);
  if (unused !== null) io.stderr.write(`kerflint: --cache is neither read nor written: ${unused}\n`);
  if (options.reply !== null) mustBeNew(resolve(io.cwd, options.reply));
  const result = await checkOnce(paths, options, io);
  if (!options.watch) return exitCodeOf(result, options);
  // stdout had its report; from now on only the files of --format are refreshed.
  const refreshed = { ...options, outputs: options.outputs.filter(({ file }) => file !== null) };
  // A report that is written among the files must not set off the next one.
  const written = new Set(refreshed.outputs.flatMap(({ file }) => (file === null ? [] : resolve(io.cwd, file))));
  const watched = paths.length === 0 ? ['.'] : paths;
  return watchPaths(
    [...watched, ...(options.shop === null ? [] : [options.shop])].map((path) => resolve(io.cwd, path)),
    (path) => matters(path) && !written.has(path),
    (names) => checkAgain(names, paths, refreshed, io),
    () => io.stderr.write('kerflint: watching; Ctrl-C ends.\n'),
  );
}

/** Whether a file may be one of a job, by its name. */
function matters(path: string): boolean {
  const byName = path.toLowerCase().endsWith('.yaml') || kindByName(READERS, path) !== null;
  return byName || uncertainReaders(READERS, path).length > 0;
}

/** One line for each event, whatever came of it. */
async function checkAgain(names: string[], paths: readonly string[], options: CheckOptions, io: Io): Promise<void> {
  const [name = '', ...more] = names;
  const saved = `${name}${more.length === 0 ? '' : ` and ${formatCount(more.length, 'other file')}`} saved`;
  const say = (text: string) => io.stderr.write(`${escapeTerminal(`${clock(new Date())}  ${saved}: ${text}`)}\n`);
  try {
    const result = await checkOnce(paths, options, io);
    say(result.headline);
  } catch (error) {
    // A folder in the midst of being changed: the next save may put it right.
    if (!(error instanceof UsageError)) throw error;
    say(error.message);
  }
}

function clock(time: Date): string {
  return [time.getHours(), time.getMinutes(), time.getSeconds()].map((n) => String(n).padStart(2, '0')).join(':');
}

/** What is told of the run as a whole; the reports are written. */
async function checkOnce(paths: readonly string[], options: CheckOptions, io: Io): Promise<RunEnd> {
  const { untrusted, shop, changedFiles } = options;
  const progress = new Progress(io.stderr);
  const cache = whyNoCache(options) === null ? options.cache : null;
  const held = await heldAgainst(options, io.cwd);
  const request: JudgeRequest = {
    cwd: io.cwd,
    paths,
    shop,
    untrusted,
    shopInCheckout: options.shopInCheckout,
    bare: options.bare,
    today: options.today,
    changed: changedFiles === null ? null : await readChangedFiles(changedFiles, io.cwd, io.stdin),
    shard: options.shard,
    unchecked: options.unchecked,
    draw: draws(options),
    remember: cache !== null,
    onBytes: (file, bytes, size) => progress.read(file, bytes, size),
  };
  const tell = (line: string) => {
    progress.clear();
    io.stderr.write(`kerflint: ${line}\n`);
  };
  const run = await prepareRun(request);
  const start = runStart(packageVersion());
  for (const note of run.notes) tell(note);
  held?.way.refuseOtherBase(held.base, { ...start, judgedBy: run.judgedBy }, tell);
  const { root, rootInRepository } = run;
  const judged = judgeJobs(run, { workers: options.workers, cache, tell });
  const where = { cwd: io.cwd, root, untrusted, shop, tell };
  const counted = options.baseline === null ? judged : withBaseline(judged, options.baseline, where);
  const { jobs, ...compared } =
    held === null ? { jobs: counted } : await held.way.againstBase(counted, held.base, root);
  const shows = held !== null && options.outputs.some(({ format }) => showsBase(format));
  const outputs = await openOutputs(
    options.outputs,
    { ...start, ...compared },
    {
      cwd: io.cwd,
      stdout: io.stdout,
      context: {
        rules: RULES,
        quiet: options.quiet,
        failLevel: options,
        rootInRepository,
        docsUrl: null,
        today: options.today,
        ...(shows && { basePictures: held.way.picturesOfBase(held.base, { cwd: io.cwd, untrusted, shop }, tell) }),
      },
      colour: wantsColour(options.colour, io.stdout, io.env),
      links: untrusted ? 'refuse' : 'replace',
    },
  );
  const reply =
    options.reply === null
      ? null
      : await openReplyFolder(resolve(io.cwd, options.reply), run.judging.settings?.reply ?? NO_REPLY_SETTINGS);
  const all = [outputs, ...(reply === null ? [] : [reply])];
  try {
    const tally = new RunTally();
    for await (const { result, drawing } of jobs) {
      const job = { result: tally.take(result), drawing };
      for (const reports of all) reports.job(job);
    }
    progress.clear();
    const end = tally.end(start, { ...restOf(run), ...compared });
    for (const reports of all) reports.end(end);
    return end;
  } finally {
    for (const reports of all) reports.close();
  }
}

/** The result that the run is held against, if any, and what holds it: that has large schemas, which take time to be set up. */
async function heldAgainst(
  { against, untrusted, shop }: CheckOptions,
  cwd: string,
): Promise<{ way: typeof import('./against.ts'); base: Base } | null> {
  if (against === null) return null;
  const way = await import('./against.ts');
  return { way, base: way.readBase(against, { cwd, untrusted, shop }) };
}

function draws({ outputs, reply }: CheckOptions): boolean {
  return reply !== null || outputs.some(({ format }) => drawsPictures(format));
}

/** Why a cache that was asked for is left alone, as a sentence; null when it is used or none was asked for. */
function whyNoCache(options: CheckOptions): string | null {
  if (options.cache === null) return null;
  if (options.untrusted) return 'what strangers sent is judged anew each time.';
  return draws(options) ? 'a report of this run draws pictures, and they are not kept.' : null;
}
