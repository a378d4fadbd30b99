// The hook for a bare git server, word for word as docs/ci.md has it, before a real bare repository.
import { spawnSync } from 'node:child_process';
import { chmodSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import { demo, folder, REPOSITORY } from './harness.ts';

const page = readFileSync(join(REPOSITORY, 'docs/ci.md'), 'utf8');
const hook = /### A bare git server[\s\S]*?```sh\n([\s\S]*?)```/.exec(page)![1]!;
const COMMAND = join(REPOSITORY, 'dist/kerflint.js');

beforeAll(() => {
  const built = spawnSync(process.execPath, ['build/build.mjs'], { cwd: REPOSITORY, encoding: 'utf8' });
  if (built.status !== 0) throw new Error(built.stderr);
}, 120_000);

function git(cwd: string, ...args: string[]) {
  const who = { GIT_AUTHOR_NAME: 'a', GIT_AUTHOR_EMAIL: 'a@b', GIT_COMMITTER_NAME: 'a', GIT_COMMITTER_EMAIL: 'a@b' };
  const env = {
    ...process.env,
    ...who,
    KERFLINT: `${process.execPath} ${COMMAND}`,
    KERFLINT_SHOP: join(REPOSITORY, 'examples'),
  };
  return spawnSync('git', args, { cwd, env, encoding: 'utf8' });
}

it('refuses a push whose job must not run, and takes one that mends it', () => {
  const bare = folder();
  git(bare, 'init', '-q', '--bare', '-b', 'main');
  writeFileSync(join(bare, 'hooks/pre-receive'), hook);
  chmodSync(join(bare, 'hooks/pre-receive'), 0o755);
  const work = folder();
  git(work, 'init', '-q', '-b', 'main');
  git(work, 'remote', 'add', 'origin', bare);
  const sidecar = readFileSync(join(demo(), 'seed-tray-divider.job.yaml'), 'utf8');
  const commit = (files: Record<string, string>) => {
    for (const [name, text] of Object.entries(files)) writeFileSync(join(work, name), text);
    git(work, 'add', '-A');
    git(work, 'commit', '-qm', 'a divider');
    return git(work, 'push', '-q', 'origin', 'main');
  };
  const toolpath = readFileSync(join(REPOSITORY, 'examples/seed-tray-divider.gcode'), 'utf8');
  const artwork = readFileSync(join(REPOSITORY, 'examples/seed-tray-divider.svg'), 'utf8');
  const good = { 'seed-tray-divider.gcode': toolpath, 'seed-tray-divider.svg': artwork };

  const thick = commit({ ...good, 'seed-tray-divider.job.yaml': sidecar.replace(/thickness: .*/, 'thickness: 30 mm') });
  expect([thick.status, thick.stderr]).toEqual([1, expect.stringContaining('Do not run')]);
  expect(git(bare, 'rev-parse', '-q', '--verify', 'main').status).not.toBe(0);

  const mended = commit({ 'seed-tray-divider.job.yaml': sidecar });
  expect([mended.status, mended.stderr]).toEqual([0, expect.stringContaining('Found no error')]);
  // The next push is judged by what it changes.
  const touched = commit({ 'seed-tray-divider.job.yaml': sidecar.replace(/thickness: .*/, 'thickness: 30 mm') });
  expect([touched.status, touched.stderr]).toEqual([1, expect.stringContaining('Do not run')]);
}, 120_000);
