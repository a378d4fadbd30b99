import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'yaml';
import { buildAction } from '../../build/build.mjs';
import { REPOSITORY } from '../cli/harness.ts';

/** What a step left behind. */
export interface Step {
  code: number | null;
  log: string;
  stderr: string;
  outputs: Record<string, string>;
  summary: string;
}

/** Builds the bundle into the repository (below node_modules, where its data can be found) and gives its path. */
export async function bundle(): Promise<{ file: string; remove: () => void }> {
  const folder = mkdtempSync(join(REPOSITORY, 'node_modules/.action-'));
  const file = join(folder, 'action.mjs');
  await buildAction(file);
  return { file, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Runs the bundle as a runner runs a step: inputs with the defaults of action.yml, command files, and an event. */
export async function step(
  file: string,
  workspace: string,
  inputs: Record<string, string> = {},
  runner: {
    event?: { name: string; payload: unknown };
    env?: Record<string, string | undefined>;
    commandFiles?: boolean;
  } = {},
): Promise<Step> {
  const temp = mkdtempSync(join(tmpdir(), 'kerflint-runner-'));
  try {
    const { inputs: declared } = parse(readFileSync(join(REPOSITORY, 'action.yml'), 'utf8')) as {
      inputs: Record<string, { default?: string }>;
    };
    const env: Record<string, string> = {
      PATH: process.env['PATH'] ?? '',
      CI: 'true',
      GITHUB_ACTIONS: 'true',
      GITHUB_WORKSPACE: workspace,
      GITHUB_REPOSITORY: 'allotment/tools',
      GITHUB_EVENT_NAME: runner.event?.name ?? 'push',
      GITHUB_EVENT_PATH: join(temp, 'event.json'),
      RUNNER_TEMP: temp,
    };
    writeFileSync(join(temp, 'event.json'), JSON.stringify(runner.event?.payload ?? {}));
    const files = { outputs: join(temp, 'output'), summary: join(temp, 'summary') };
    mkdirSync(temp, { recursive: true });
    for (const path of Object.values(files)) writeFileSync(path, '');
    if (runner.commandFiles !== false) {
      env['GITHUB_OUTPUT'] = files.outputs;
      env['GITHUB_STEP_SUMMARY'] = files.summary;
    }
    const all = {
      ...Object.fromEntries(Object.entries(declared).map(([name, one]) => [name, one.default ?? ''])),
      ...inputs,
    };
    for (const [name, value] of Object.entries(all)) env[`INPUT_${name.replaceAll(' ', '_').toUpperCase()}`] = value;
    for (const [name, value] of Object.entries(runner.env ?? {})) {
      if (value === undefined) delete env[name];
      else env[name] = value;
    }
    const done = await run(file, workspace, env);
    return {
      ...done,
      outputs: readOutputs(readFileSync(files.outputs, 'utf8')),
      summary: readFileSync(files.summary, 'utf8'),
    };
  } finally {
    rmSync(temp, { recursive: true, force: true });
  }
}

function run(file: string, cwd: string, env: Record<string, string>): Promise<Pick<Step, 'code' | 'log' | 'stderr'>> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [file], { cwd, env });
    const said = { log: '', stderr: '' };
    child.stdout.on('data', (chunk) => {
      said.log += chunk;
    });
    child.stderr.on('data', (chunk) => {
      said.stderr += chunk;
    });
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, ...said }));
  });
}

/**
 * Reads a file of outputs by the grammar of the runner, written from its description: actions/runner, FileCommandManager.cs. A line is
 * `name=value`, or `name<<delimiter` with the lines of the value and a line that is the delimiter; anything else fails the step.
 */
function readOutputs(text: string): Record<string, string> {
  const outputs: Record<string, string> = {};
  const lines = text.split(/\r\n|\r|\n/);
  for (let line = lines.shift(); line !== undefined; line = lines.shift()) {
    if (line === '') continue;
    const [, name, sign, rest] = /^(.*?)(=|<<)(.*)$/s.exec(line) ?? [];
    if (name === undefined || name === '' || rest === undefined) throw new Error(`invalid format: ${line}`);
    if (sign === '=') {
      outputs[name] = rest;
      continue;
    }
    const end = lines.indexOf(rest);
    if (rest === '' || end < 0) throw new Error(`matching delimiter not found: ${line}`);
    outputs[name] = lines
      .splice(0, end + 1)
      .slice(0, end)
      .join('\n');
  }
  return outputs;
}

/** The lines of a log that a runner looks at for commands: not those between stop-commands and its token. */
export function heeded(log: string): string {
  const kept: string[] = [];
  let token: string | undefined;
  for (const line of log.split('\n')) {
    if (token !== undefined) {
      if (line === `::${token}::`) token = undefined;
      continue;
    }
    token = /^::stop-commands::(.+)$/.exec(line)?.[1];
    if (token === undefined) kept.push(line);
  }
  return kept.join('\n');
}
