// Whole runs of what is built, with everything that would reach out or run text as code written down and refused.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FORMAT_NAMES } from '../../src/report/formats.ts';
import { bundle, step } from '../action/runner.ts';
import { demo, folder, REPOSITORY } from '../cli/harness.ts';
import { actingFiles } from './acting.ts';

const WATCH = fileURLToPath(new URL('watch.cjs', import.meta.url));
const PROGRAM = join(REPOSITORY, 'dist/kerflint.js');
/** What the launcher does: it runs the program from the one script that the build wrote. */
const LAUNCHES = `vm.Script ${join(REPOSITORY, 'dist/parts/program.cjs')}`;

/** The environment of a watched run, and what was written down in it. */
function watch(): { env: Record<string, string>; seen: () => string[] } {
  const file = join(folder(), 'seen');
  const env = {
    NODE_OPTIONS: `--require ${JSON.stringify(WATCH)} --disallow-code-generation-from-strings`,
    KERFLINT_WATCH: file,
  };
  return { env, seen: () => readFileSync(file, 'utf8').trimEnd().split('\n') };
}

function run(cwd: string, ...argv: string[]): { code: number | null; stdout: string; seen: string[] } {
  const { env, seen } = watch();
  const done = spawnSync(process.execPath, argv, { cwd, env: { ...process.env, ...env }, encoding: 'utf8' });
  return { code: done.status, stdout: done.stdout, seen: seen() };
}

/** The demo, and beside it files whose every text means to act. */
function hostile(): string {
  const checkout = demo();
  mkdirSync(join(checkout, '.git'));
  mkdirSync(join(checkout, 'sent'));
  for (const [name, content] of Object.entries(actingFiles())) writeFileSync(join(checkout, 'sent', name), content);
  return checkout;
}

describe('the watch', () => {
  it.each([
    ["require('node:child_process').spawn('true')", 'child_process.spawn'],
    ["import('node:child_process').then(({ execFileSync }) => execFileSync('true'))", 'child_process.execFileSync'],
    ["import('node:net').then(({ connect }) => connect(1))", 'net.connect'],
    ['new (require("node:net").Socket)().connect(1)', 'net.Socket.connect'],
    ["require('node:https').get('https://localhost')", 'https.get'],
    ["fetch('http://localhost')", 'fetch'],
    ["require('node:dns').lookup('localhost', () => {})", 'dns.lookup'],
    ["require('node:vm').runInThisContext('1')", 'vm.runInThisContext'],
    ["new (require('node:vm').Script)('1')", 'vm.Script'],
    ["(0, eval)('1')", 'uncaught'],
    ["[].at.constructor('return 1')()", 'uncaught'],
  ])('sees %s', (code, name) => {
    const file = join(folder({ 'acts.cjs': code }), 'acts.cjs');
    expect(run(REPOSITORY, file).seen.join()).toContain(`watching,${name}`);
  });
});

describe('the built command', () => {
  it.each([
    ['in one process', []],
    ['in several threads', ['--workers', '2']],
  ])('judges good and hostile files in all formats and reaches out to nothing, %s', (_, more) => {
    const checkout = hostile();
    const outputs = FORMAT_NAMES.flatMap((name) => ['--format', `${name}=out/${name}`]);
    const { code, seen } = run(checkout, PROGRAM, 'check', '.', '--today', '2026-11-25', ...outputs, ...more);
    expect(code).toBe(3);
    expect(readdirSync(join(checkout, 'out')).sort()).toEqual([...FORMAT_NAMES].sort());
    expect(new Set(seen)).toEqual(new Set(['watching', LAUNCHES]));
  });

  it.each([
    'rules',
    'explain cut/marginal',
    'schema job',
    'config',
    'page',
    'reach --machine shed-60w --material birch-plywood',
    'diagnose gate-sign.job.yaml',
  ])('does no more to answer %s', (argv) => {
    const { stdout, seen } = run(hostile(), PROGRAM, ...argv.split(' '));
    expect(stdout).not.toBe('');
    expect(new Set(seen)).toEqual(new Set(['watching', LAUNCHES]));
  });
});

describe('the built action', () => {
  let made: Awaited<ReturnType<typeof bundle>>;
  beforeAll(async () => {
    made = await bundle();
  });
  afterAll(() => made.remove());

  it('judges good and hostile files, writes all that it can, and reaches out to nothing', async () => {
    const { env, seen } = watch();
    const inputs = { 'json-file': 'result.json', 'sarif-file': 'result.sarif' };
    const done = await step(made.file, hostile(), inputs, { env });
    expect(done).toMatchObject({ code: 3, stderr: '', outputs: { verdict: 'incomplete' } });
    expect(done.summary).not.toBe('');
    expect(seen()).toEqual(['watching']);
  });
});
