import { randomUUID } from 'node:crypto';
import { relative, resolve, sep } from 'node:path';
import { setOutput, summary } from '@actions/core';
import { againstBase, readBase, refuseOtherBase } from '../src/cli/check/against.ts';
import { withBaseline } from '../src/cli/check/apply-baseline.ts';
import { type JudgedRun, judgePrepared, prepareRun } from '../src/cli/check/judge.ts';
import { readChangedFiles } from '../src/cli/check/read-changed-files.ts';
import { EXIT } from '../src/cli/exit-codes.ts';
import { withoutLinks } from '../src/cli/files/links.ts';
import { packageVersion } from '../src/cli/files/package-files.ts';
import { writeFile } from '../src/cli/files/write-file.ts';
import { RULES } from '../src/cli/registered-rules.ts';
import { UsageError } from '../src/cli/usage-error.ts';
import type { RunResult } from '../src/findings/result.ts';
import { exitCodeOf } from '../src/findings/verdict.ts';
import { commandData, escapeTerminal } from '../src/report/escape.ts';
import { FORMATS, type FormatName } from '../src/report/formats.ts';
import type { ReportContext } from '../src/report/report-context.ts';
import { wasteByCurrency, wasteText } from '../src/report/result-texts.ts';
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
  if (base !== null)
    refuseOtherBase(base, { tool: { name: 'kerflint', version: packageVersion() }, judgedBy: run.judgedBy }, tell);
  const judged = judgePrepared(run);
  const counted =
    inputs.baseline === null
      ? judged.result
      : withBaseline(
          judged.result,
          { file: inputs.baseline, how: 'apply' },
          { cwd, root: judged.root, untrusted, shop, tell },
        );
  const result = base === null ? counted : againstBase(counted, base, judged.root);
  await report({ ...judged, result }, inputs, { env, workspace: workspace.root, files, untrusted });
  return exitCodeOf(result, inputs);
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

async function report(judged: JudgedRun, inputs: Inputs, { env, workspace, files, untrusted }: Where): Promise<void> {
  const { result } = judged;
  const context: ReportContext = {
    rules: RULES,
    width: 120,
    colour: false,
    quiet: false,
    failLevel: inputs,
    rootInRepository: judged.rootInRepository,
    docsUrl: docsUrl(env),
  };
  const make = async (name: FormatName) => (await FORMATS[name].load())(result, context);

  if (untrusted) say('kerflint: sent by a stranger: only the shop folder and the catalogue are trusted.');
  fenced(await make('text'));
  if (inputs.annotations) process.stdout.write(await make('annotations'));
  for (const format of ['sarif', 'json'] as const) {
    const file = files[format];
    if (file !== null) writeFile(file, await make(format), untrusted ? 'refuse' : 'replace');
  }
  if (inputs.summary) {
    const text = await make('summary');
    await intoRunnerFile(env, 'GITHUB_STEP_SUMMARY', () => summary.addRaw(text).write());
  }
  const sarifFile = files.sarif === null ? '' : slashed(relative(workspace, withoutLinks(files.sarif)));
  // Without its file the old form of the command would be printed, which is no longer accepted.
  await intoRunnerFile(env, 'GITHUB_OUTPUT', () => outputs(result, sarifFile));
}

function outputs(result: RunResult, sarifFile: string): void {
  setOutput('verdict', result.verdict);
  setOutput('headline', escapeTerminal(result.headline));
  setOutput('errors', result.summary.errors);
  setOutput('warnings', result.summary.warnings);
  setOutput('expected-waste', wasteText(wasteByCurrency(result)));
  setOutput('sarif-file', sarifFile);
}

/** Text that quotes strangers' files: the runner takes no command in it. The token must not be guessable. */
function fenced(text: string): void {
  const token = randomUUID();
  say(`::stop-commands::${token}`);
  process.stdout.write(text);
  say(`::${token}::`);
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
