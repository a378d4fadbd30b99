import { randomUUID } from 'node:crypto';
import { relative, resolve, sep } from 'node:path';
import { setOutput, summary } from '@actions/core';
import { withBaseline } from '../src/cli/check/apply-baseline.ts';
import { type JudgedRun, judgeRun } from '../src/cli/check/judge.ts';
import { readChangedFiles } from '../src/cli/check/read-changed-files.ts';
import { EXIT } from '../src/cli/exit-codes.ts';
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
  const judged = await judgeRun({
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
  for (const note of judged.notes) tell(note);
  const result =
    inputs.baseline === null
      ? judged.result
      : withBaseline(
          judged.result,
          { file: inputs.baseline, how: 'apply' },
          { cwd, root: judged.root, untrusted, shop, tell },
        );
  await report({ ...judged, result }, inputs, { env, cwd, workspace, untrusted });
  return exitCodeOf(result, inputs);
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

async function report(judged: JudgedRun, inputs: Inputs, { env, cwd, workspace, untrusted }: Where): Promise<void> {
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
  for (const [format, file] of [
    ['sarif', inputs.sarifFile],
    ['json', inputs.jsonFile],
  ] as const) {
    if (file !== null) writeFile(resolve(cwd, file), await make(format), untrusted ? 'refuse' : 'replace');
  }
  // Without its file the summary throws.
  if (inputs.summary && (env['GITHUB_STEP_SUMMARY'] ?? '') !== '') await summary.addRaw(await make('summary')).write();
  outputs(result, inputs.sarifFile === null ? '' : slashed(relative(workspace, resolve(cwd, inputs.sarifFile))), env);
}

function outputs(result: RunResult, sarifFile: string, env: Env): void {
  // Without its file the old form of the command would be printed, which is no longer accepted.
  if ((env['GITHUB_OUTPUT'] ?? '') === '') return;
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
