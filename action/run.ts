import { randomUUID } from 'node:crypto';
import { relative, resolve, sep } from 'node:path';
import { setOutput, summary } from '@actions/core';
import { againstBase, readBase, refuseOtherBase } from '../src/cli/check/against.ts';
import { withBaseline } from '../src/cli/check/apply-baseline.ts';
import { type PreparedRun, prepareRun, restOf } from '../src/cli/check/judge.ts';
import { judgeInTurn } from '../src/cli/check/judge-in-turn.ts';
import { readChangedFiles } from '../src/cli/check/read-changed-files.ts';
import { EXIT } from '../src/cli/exit-codes.ts';
import { withoutLinks } from '../src/cli/files/links.ts';
import { type MadeText, openReports, type ReportOrder } from '../src/cli/files/outputs.ts';
import { packageVersion } from '../src/cli/files/package-files.ts';
import { writePieces } from '../src/cli/files/write-file.ts';
import { RULES } from '../src/cli/registered-rules.ts';
import { UsageError } from '../src/cli/usage-error.ts';
import type { Comparison } from '../src/findings/comparing/comparison.ts';
import type { RunEnd, RunStart } from '../src/findings/result.ts';
import { RunTally } from '../src/findings/run-tally.ts';
import { exitCodeOf } from '../src/findings/verdict.ts';
import { type JudgedJob, runStart } from '../src/preflight.ts';
import { commandData, escapeTerminal } from '../src/report/escape.ts';
import type { ReportContext } from '../src/report/report-context.ts';
import { addWaste, byCurrency, wasteText } from '../src/report/result-texts.ts';
import { localDate } from '../src/units/date.ts';
import { comesFromRepository } from './event.ts';
import { type Inputs, readInputs } from './inputs.ts';
import { intoRunnerFile, runnerFile } from './runner-files.ts';
import { Workspace } from './workspace.ts';

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
  for (const name of ['GITHUB_OUTPUT', 'GITHUB_STEP_SUMMARY'] as const) runnerFile(env, name);
  const workspace = new Workspace(env['GITHUB_WORKSPACE'] ?? here);
  // By its real path, so that `..` in what is relative to it means the same to us and to the system.
  const cwd = withoutLinks(workspace.resolve('working-directory', workspace.root, inputs.workingDirectory));
  for (const path of inputs.paths) workspace.resolve('paths', cwd, path);
  const files = {
    sarif: inputs.sarifFile === null ? null : workspace.resolve('sarif-file', cwd, inputs.sarifFile),
    json: inputs.jsonFile === null ? null : workspace.resolve('json-file', cwd, inputs.jsonFile),
  };
  const untrusted = inputs.untrusted === 'auto' ? !comesFromRepository(env) : inputs.untrusted;
  const { shop, changedFiles } = inputs;
  const base = inputs.against === null ? null : readBase(inputs.against, { cwd, untrusted, shop });
  const run = await prepareRun({
    cwd,
    paths: inputs.paths,
    shop,
    untrusted,
    shopInCheckout: inputs.shopInCheckout,
    ceiling: workspace.root,
    bare: inputs.bare,
    today: localDate(new Date()),
    // An action is fed by files; nothing comes in by stdin.
    changed: changedFiles === null ? null : await readChangedFiles(resolve(cwd, changedFiles), cwd, []),
    shard: inputs.shard,
    unchecked: inputs.unchecked,
  });
  for (const note of run.notes) tell(note);
  const start = runStart(packageVersion());
  if (base !== null) refuseOtherBase(base, { ...start, judgedBy: run.judgedBy }, tell);
  const judged = judgeInTurn(run);
  const where = { cwd, root: run.root, untrusted, shop, tell };
  const counted =
    inputs.baseline === null ? judged : withBaseline(judged, { file: inputs.baseline, how: 'apply' }, where);
  const compared = base === null ? { jobs: counted } : await againstBase(counted, base, run.root);
  const end = await report({ run, start, ...compared }, inputs, { env, workspace: workspace.root, files, untrusted });
  return exitCodeOf(end, inputs);
}

function tell(line: string): void {
  say(`::notice title=kerflint::${commandData(line)}`);
}

interface Where {
  env: Env;
  /** Absolute, free of links. */
  workspace: string;
  /** Absolute; null for none. */
  files: { sarif: string | null; json: string | null };
  untrusted: boolean;
}

/** A run whose jobs are told one by one. */
interface ToldRun {
  run: PreparedRun;
  start: RunStart;
  jobs: AsyncIterable<JudgedJob> | Iterable<JudgedJob>;
  /** Where it was held against a base. */
  comparison?: Comparison;
}

/** What goes where, once all of it is made. */
async function report(
  { run, start, jobs, ...compared }: ToldRun,
  inputs: Inputs,
  { env, workspace, files, untrusted }: Where,
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
  const toFile = (file: string) => (text: MadeText) =>
    writePieces(file, text.bytes(), untrusted ? 'refuse' : 'replace');
  const orders: ReportOrder[] = [{ format: 'text', context, send: fenced }];
  if (inputs.annotations) orders.push({ format: 'annotations', context, send: print });
  for (const format of ['sarif', 'json'] as const) {
    const file = files[format];
    if (file !== null) orders.push({ format, context, send: toFile(file) });
  }
  const addSummary = (text: MadeText) => void summary.addRaw([...text.pieces()].join(''));
  if (inputs.summary) orders.push({ format: 'summary', context, send: addSummary });
  const reports = await openReports(orders, { ...start, ...compared });
  try {
    const tally = new RunTally();
    const waste = new Map<string, number>();
    for await (const { result, drawing } of jobs) {
      const job = tally.take(result);
      addWaste(waste, job);
      reports.job({ result: job, drawing });
    }
    const end = tally.end(start, { ...restOf(run), ...compared });
    if (untrusted) say('kerflint: sent by a stranger: only the shop folder and the catalogue are trusted.');
    reports.end(end);
    if (inputs.summary) await intoRunnerFile(env, 'GITHUB_STEP_SUMMARY', () => summary.write());
    const sarifFile = files.sarif === null ? '' : slashed(relative(workspace, withoutLinks(files.sarif)));
    const also = { wasteText: wasteText(byCurrency(waste)), sarifFile };
    // Without its file the old form of the command would be printed, which is no longer accepted.
    await intoRunnerFile(env, 'GITHUB_OUTPUT', () => outputs(end, also));
    return end;
  } finally {
    reports.close();
  }
}

function outputs(run: RunEnd, also: { wasteText: string; sarifFile: string }): void {
  setOutput('verdict', run.verdict);
  setOutput('headline', escapeTerminal(run.headline));
  setOutput('errors', run.summary.errors);
  setOutput('warnings', run.summary.warnings);
  setOutput('expected-waste', also.wasteText);
  setOutput('sarif-file', also.sarifFile);
}

/** Text that quotes strangers' files: the runner takes no command in it. The token must not be guessable. */
function fenced(text: MadeText): void {
  const token = randomUUID();
  say(`::stop-commands::${token}`);
  print(text);
  say(`::${token}::`);
}

function print(text: MadeText): void {
  for (const piece of text.pieces()) process.stdout.write(piece);
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
