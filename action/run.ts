import { randomUUID } from 'node:crypto';
import { relative, resolve, sep } from 'node:path';
import { setOutput, summary } from '@actions/core';
import { withBaseline } from '../src/cli/check/apply-baseline.ts';
import { type PreparedRun, prepareRun, restOf } from '../src/cli/check/judge.ts';
import { judgeJobs } from '../src/cli/check/judge-jobs.ts';
import { readChangedFiles } from '../src/cli/check/read-changed-files.ts';
import { EXIT } from '../src/cli/exit-codes.ts';
import { openReports, type ReportOrder } from '../src/cli/files/outputs.ts';
import { packageVersion } from '../src/cli/files/package-files.ts';
import { writePieces } from '../src/cli/files/write-file.ts';
import { RULES } from '../src/cli/registered-rules.ts';
import { UsageError } from '../src/cli/usage-error.ts';
import type { RunEnd } from '../src/findings/result.ts';
import { RunTally } from '../src/findings/run-tally.ts';
import { exitCodeOf } from '../src/findings/verdict.ts';
import { type JudgedJob, runStart } from '../src/preflight.ts';
import { commandData, escapeTerminal } from '../src/report/escape.ts';
import type { ReportContext } from '../src/report/report-context.ts';
import { addWaste, byCurrency, wasteText } from '../src/report/result-texts.ts';
import { localDate } from '../src/units/date.ts';
import { comesFromFork } from './event.ts';
import { type Inputs, readInputs } from './inputs.ts';

type Env = Readonly<Record<string, string | undefined>>;

/** Runs the check as a step of a workflow and gives the exit code, by the same rule as the command line. */
export async function runAction(env: Env, here: string): Promise<number> {
  try {
    return await run(env, here);
  } catch (error) {
    if (error instanceof UsageError) {
      say(`::error title=kerflint: usage::${commandData(`${error.message}\n${error.wayOut}`)}`);
      return EXIT.usage;
    }
    const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
    say(
      `::error title=kerflint failed::${commandData(`kerflint ${packageVersion()} failed; this is its own fault. Nothing was judged.\n${stack}`)}`,
    );
    return EXIT.incomplete;
  }
}

async function run(env: Env, here: string): Promise<number> {
  const inputs = readInputs();
  const workspace = env['GITHUB_WORKSPACE'] ?? here;
  const cwd = resolve(workspace, inputs.workingDirectory);
  const untrusted = inputs.untrusted === 'auto' ? comesFromFork(env) : inputs.untrusted;
  const { shop, changedFiles } = inputs;
  const run = await prepareRun({
    cwd,
    paths: inputs.paths,
    shop,
    untrusted,
    bare: inputs.bare,
    today: localDate(new Date()),
    // An action is fed by files; nothing comes in by stdin.
    changed: changedFiles === null ? null : await readChangedFiles(resolve(cwd, changedFiles), cwd, []),
    shard: inputs.shard,
    unchecked: inputs.unchecked,
  });
  for (const note of run.notes) tell(note);
  const judged = judgeJobs(run, { workers: 1, cache: null, tell });
  const marked =
    inputs.baseline === null
      ? judged
      : withBaseline(judged, { file: inputs.baseline, how: 'apply' }, { cwd, root: run.root, untrusted, shop, tell });
  return exitCodeOf(await report(run, marked, inputs, { env, cwd, workspace, untrusted }), inputs);
}

function tell(line: string): void {
  say(`::notice title=kerflint::${commandData(line)}`);
}

interface Where {
  env: Env;
  cwd: string;
  workspace: string;
  untrusted: boolean;
}

/** What goes where, once all of it is made. */
async function report(
  run: PreparedRun,
  judged: AsyncIterable<JudgedJob>,
  inputs: Inputs,
  { env, cwd, workspace, untrusted }: Where,
): Promise<RunEnd> {
  const context: ReportContext = {
    rules: RULES,
    width: 120,
    colour: false,
    quiet: false,
    failLevel: inputs,
    rootInRepository: run.rootInRepository,
    docsUrl: docsUrl(env),
  };
  const toFile = (file: string) => (pieces: Iterable<string>) =>
    writePieces(resolve(cwd, file), pieces, untrusted ? 'refuse' : 'replace');
  const orders: ReportOrder[] = [{ format: 'text', context, send: fenced }];
  if (inputs.annotations) orders.push({ format: 'annotations', context, send: print });
  if (inputs.sarifFile !== null) orders.push({ format: 'sarif', context, send: toFile(inputs.sarifFile) });
  if (inputs.jsonFile !== null) orders.push({ format: 'json', context, send: toFile(inputs.jsonFile) });
  // Without its file the summary throws.
  const summarised = inputs.summary && (env['GITHUB_STEP_SUMMARY'] ?? '') !== '';
  const addSummary = (pieces: Iterable<string>) => void summary.addRaw([...pieces].join(''));
  if (summarised) orders.push({ format: 'summary', context, send: addSummary });
  const start = runStart(packageVersion());
  const reports = await openReports(orders, start);
  try {
    const tally = new RunTally();
    const waste = new Map<string, number>();
    for await (const { result, drawing } of judged) {
      const job = tally.take(result);
      addWaste(waste, job);
      reports.job({ result: job, drawing });
    }
    const end = tally.end(start, restOf(run));
    if (untrusted) say('kerflint: sent by a stranger: only the shop folder and the catalogue are trusted.');
    reports.end(end);
    if (summarised) await summary.write();
    const sarifFile = inputs.sarifFile === null ? '' : slashed(relative(workspace, resolve(cwd, inputs.sarifFile)));
    outputs(end, { wasteText: wasteText(byCurrency(waste)), sarifFile }, env);
    return end;
  } finally {
    reports.close();
  }
}

function outputs(run: RunEnd, also: { wasteText: string; sarifFile: string }, env: Env): void {
  // Without its file the old form of the command would be printed, which is no longer accepted.
  if ((env['GITHUB_OUTPUT'] ?? '') === '') return;
  setOutput('verdict', run.verdict);
  setOutput('headline', escapeTerminal(run.headline));
  setOutput('errors', run.summary.errors);
  setOutput('warnings', run.summary.warnings);
  setOutput('expected-waste', also.wasteText);
  setOutput('sarif-file', also.sarifFile);
}

/** Text that quotes strangers' files: the runner takes no command in it. The token must not be guessable. */
function fenced(pieces: Iterable<string>): void {
  const token = randomUUID();
  say(`::stop-commands::${token}`);
  print(pieces);
  say(`::${token}::`);
}

function print(pieces: Iterable<string>): void {
  for (const piece of pieces) process.stdout.write(piece);
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

/** The rules' pages at the very commit or tag that the workflow uses. */
function docsUrl(env: Env): string | null {
  const { GITHUB_ACTION_REPOSITORY: repository, GITHUB_ACTION_REF: ref, GITHUB_SERVER_URL: server } = env;
  if (!repository || !ref) return null;
  return `${server ?? 'https://github.com'}/${repository}/blob/${encodeURIComponent(ref)}/`;
}

function slashed(path: string): string {
  return path.split(sep).join('/');
}
