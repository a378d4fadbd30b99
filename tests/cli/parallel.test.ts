// Runs in several threads. They are those of the built command: run "npm run build" first.
import { spawn, spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { prepareRun } from '../../src/cli/check/judge.ts';
import { judgeInThreads } from '../../src/cli/threads/parallel.ts';
import { NEVER_ENDING_MS } from '../patience.ts';
import { demo, folder, kerflint, REPOSITORY } from './harness.ts';

const KERFLINT = join(REPOSITORY, 'dist/kerflint.js');
const TODAY = ['--today', '2026-11-25'];

/** The demo with much that can go wrong beside it. */
function mixed(): string {
  const at = demo();
  const sidecar = readFileSync(join(at, 'gate-sign.job.yaml'), 'utf8');
  const wrong: Record<string, string> = {
    'broken.job.yaml': 'kerflint: 1\nmachine: [',
    'nothing.job.yaml': sidecar.replace('gate-sign.gcode', 'gate-sing.gcode'),
    'stranger.job.yaml': sidecar.replace('shed-60w', 'shed-61w'),
    'away.job.yaml': sidecar.replace('gate-sign.gcode', '../../gate-sign.gcode'),
    'bare.gcode': 'G21 G90\nM4 S800 F540\nG1 X10 Y10\n',
    'empty.svg': '',
  };
  for (const [name, text] of Object.entries(wrong)) writeFileSync(join(at, name), text);
  copyFileSync(join(at, 'machines/shed-60w.machine.yaml'), join(at, 'shed-60w.machine.yaml'));
  return at;
}

describe('a run in several threads', () => {
  const BARE = ['--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm'];
  it.each([
    ['as it is', ['--format', 'html=report']],
    ['of bare files too', BARE],
    ['of which only a part is wanted', [...BARE, '--shard', '2/3']],
    ['for strangers', ['--untrusted', '--shop', 'machines', '--shop-in-checkout']],
    ['of changed files', ['--changed-files', 'changed']],
    ['of no changed file', ['--changed-files', 'machines/shed-60w.machine.yaml.orig']],
  ])('gives what one thread gives, %s', async (_, argv) => {
    const at = mixed();
    writeFileSync(join(at, 'changed'), 'gate-sign.gcode\nnothing.job.yaml\nempty.svg\n');
    writeFileSync(join(at, 'machines/shed-60w.machine.yaml.orig'), 'D\tno such file\n');
    const check = async (workers: string) => {
      rmSync(join(at, 'report'), { force: true });
      const told = await kerflint(at, ['check', '.', '--format', 'json', ...argv, ...TODAY, '--workers', workers]);
      return { ...told, report: existsSync(join(at, 'report')) && readFileSync(join(at, 'report'), 'utf8') };
    };
    const one = await check('1');
    expect(one.stderr).toBe('');
    expect(JSON.parse(one.stdout).schemaVersion).toBe(1);
    expect(await check('2')).toEqual(one);
    expect(await check('5')).toEqual(one);
  });

  it('is refused as in one thread when the request is wrong', async () => {
    const at = demo();
    const check = (workers: string) => kerflint(at, ['check', 'gone', '--workers', workers]);
    expect(await check('3')).toEqual(await check('1'));
    expect((await check('3')).code).toBe(2);
  });

  it('ends at once when it is interrupted, and leaves no report', async () => {
    const at = demo();
    const row = Array.from({ length: 400_000 }, (_, i) => `G1 X${10 + (i % 300)} Y${10 + (i % 7)}`).join('\n');
    writeFileSync(join(at, 'gate-sign.gcode'), `G21 G90\nM4 S800 F540\n${row}\n`);
    const child = spawn(process.execPath, [KERFLINT, 'check', '.', '--workers', '2', '--format', 'json=late.json'], {
      cwd: at,
      stdio: 'ignore',
    });
    const ended = new Promise((resolve) => child.once('exit', (code, signal) => resolve(signal ?? code)));
    // In threads or still on the way to them: it may be interrupted anywhere.
    await new Promise((resolve) => setTimeout(resolve, 700));
    child.kill('SIGINT');
    expect(await ended).toBe('SIGINT');
    expect(readdirSync(at).filter((name) => name.includes('late.json'))).toEqual([]);
  });
});

describe('a worker that dies', () => {
  const judging = async (program: string) => {
    const run = await prepareRun({
      cwd: demo(),
      paths: [],
      shop: null,
      untrusted: false,
      bare: {},
      today: '2026-11-25',
      changed: null,
      shard: null,
    });
    const judged = [];
    const way = { workers: 2, cache: null, program: join(folder({ 'worker.mjs': program }), 'worker.mjs') };
    for await (const one of judgeInThreads(run, way)) judged.push(one);
    return judged;
  };

  it.each([
    ['by itself', 'export default () => process.exit(0);', 'ended before its jobs were judged'],
    ['before it has begun', 'process.exit(0);', 'ended before its jobs were judged'],
    [
      'of an error beside its task',
      'export default () => new Promise(() => setTimeout(() => { throw new Error("lost") }));',
      'lost',
    ],
    ['of an error while it loads', 'throw new Error("not to be loaded");', 'not to be loaded'],
    ['of a task that fails', 'export default () => { throw new Error("failed") };', 'failed'],
  ])('%s makes the run fail with what is known of it', async (_, program, told) => {
    await expect(judging(program)).rejects.toThrow(told);
  });

  it('makes the command say so with exit code 3 and no result', () => {
    const dies = folder({
      'dies.mjs': `import { isMainThread } from 'node:worker_threads'; if (!isMainThread) setTimeout(() => process.exit(0), 0);`,
    });
    const done = spawnSync(process.execPath, [KERFLINT, 'check', 'examples', '--workers', '2'], {
      cwd: REPOSITORY,
      encoding: 'utf8',
      env: { ...process.env, NODE_OPTIONS: `--import ${join(dies, 'dies.mjs')}` },
      timeout: NEVER_ENDING_MS,
    });
    expect([done.status, done.stdout]).toEqual([3, '']);
    expect(done.stderr).toContain('a worker ended before its jobs were judged');
    expect(done.stderr).toContain('Nothing was judged.');
  });
});

it('is no cost to a run in one thread: neither the pool nor hashing is loaded for it', () => {
  const at = folder({
    'loaded.cjs': "process.on('exit', () => process.stderr.write(process.moduleLoadList.join('\\n')));",
  });
  const check = (...argv: string[]) =>
    spawnSync(process.execPath, ['--require', join(at, 'loaded.cjs'), KERFLINT, 'check', 'examples', ...argv], {
      cwd: REPOSITORY,
      encoding: 'utf8',
    }).stderr.split('\n');
  const asked = ['NativeModule worker_threads', 'NativeModule crypto'];
  expect(check().filter((name) => asked.includes(name))).toEqual([]);
  expect(check('--workers', '2')).toContain('NativeModule worker_threads');
});
