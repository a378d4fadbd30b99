import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCore } from '../../build/build.mjs';
import { RULES } from '../../src/cli/registered-rules.ts';
import { FORMAT_NAMES } from '../../src/report/formats.ts';
import { REPOSITORY } from './harness.ts';

/** npm works in folders of its own, so that no setting of the person who runs the tests has a say. */
function npm(cwd: string, ...argv: string[]): string {
  return execFileSync('npm', argv, {
    cwd,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, NO_UPDATE_NOTIFIER: '1', npm_config_audit: 'false', npm_config_fund: 'false' },
  });
}

/**
 * Asks for the tarball and for the dependencies that this repository has locked. npm finds those in its cache by what they hold, as it put
 * them there to install the repository; by their names alone it would have to ask the registry.
 */
function lockTo(home: string, tarball: string): void {
  const { packages, ...lock } = JSON.parse(readFileSync(join(REPOSITORY, 'package-lock.json'), 'utf8'));
  const { '': own, ...locked } = packages as Record<
    string,
    { dev?: boolean; version: string } & Record<string, unknown>
  >;
  const dependencies = { kerflint: `file:${tarball}` };
  const { version, dependencies: needed, bin } = own!;
  const installed = {
    '': { dependencies },
    'node_modules/kerflint': { version, resolved: `file:${tarball}`, dependencies: needed, bin },
    ...Object.fromEntries(Object.entries(locked).filter(([, each]) => !each.dev)),
  };
  writeFileSync(join(home, 'package.json'), JSON.stringify({ private: true, dependencies }));
  writeFileSync(join(home, 'package-lock.json'), JSON.stringify({ ...lock, packages: installed }));
}

describe('the package', () => {
  let home: string;
  let installed: string;
  beforeAll(() => {
    home = mkdtempSync(join(tmpdir(), 'kerflint-package-'));
    // Without its scripts: a build of its own would take dist/ away from tests beside this one.
    expect(readdirSync(REPOSITORY), 'dist/ is there: run "npm run build" first').toContain('dist');
    npm(REPOSITORY, 'pack', '--ignore-scripts', '--pack-destination', home, '--silent');
    const [tarball = ''] = readdirSync(home);
    lockTo(home, tarball);
    npm(home, 'ci', '--offline', '--ignore-scripts', '--omit=dev');
    installed = join(home, 'node_modules/kerflint');
  });
  afterAll(() => rmSync(home, { recursive: true, force: true }));

  const run = (...argv: string[]) =>
    spawnSync(join(home, 'node_modules/.bin/kerflint'), argv, { cwd: home, encoding: 'utf8' });

  it('runs the main job on the demo it ships with', () => {
    const done = run('check', join(installed, 'examples'));
    expect([done.status, done.stderr]).toEqual([1, '']);
    expect(done.stdout).toMatch(/^Do not run: 3 of 4 jobs \(/);
  });

  it('explains, knows its schemas and writes every format', () => {
    expect(run('explain', 'cut/marginal').stdout).toMatch(/^# cut\/marginal/);
    expect(JSON.parse(run('schema', 'result').stdout).title).toBe('kerflint result');
    const done = run(
      'check',
      join(installed, 'examples'),
      ...FORMAT_NAMES.flatMap((name) => ['--format', `${name}=out/${name}`]),
    );
    expect(done.status).toBe(1);
    expect(readdirSync(join(home, 'out')).sort()).toEqual([...FORMAT_NAMES].sort());
  });

  it('holds what it needs and no sources or tests', () => {
    expect(readdirSync(installed).sort()).toEqual(
      expect.arrayContaining(['data', 'dist', 'docs', 'examples', 'schemas', 'LICENSE', 'README.md']),
    );
    for (const folder of ['src', 'tests', 'fixtures', 'action']) expect(readdirSync(installed)).not.toContain(folder);
    for (const { id } of RULES)
      expect(statSync(join(installed, `docs/rules/${id.replace('/', '-')}.md`)).isFile()).toBe(true);
  });

  it('finds the same with several workers as with one', () => {
    const check = (...argv: string[]) =>
      run('check', join(installed, 'examples'), '--format', 'json', '--today', '2026-11-25', ...argv);
    const one = check();
    expect(one.status).toBe(1);
    for (const n of ['2', '3', '7'])
      expect(check('--workers', n)).toMatchObject({ status: 1, stdout: one.stdout, stderr: '' });
    expect(check('--workers', '2', '--shard', '2/3').stdout).toBe(check('--shard', '2/3').stdout);
  });

  it('says what is wrong with a request once, however many workers there are', () => {
    const done = run('check', join(installed, 'docs/rules'), '--workers', '3');
    expect([done.status, done.stdout]).toEqual([2, '']);
    expect(done.stderr.trimEnd().split('\n')).toHaveLength(2);
  });

  it('is not cut short by a pipe that is slow', () => {
    const rules = `"${join(home, 'node_modules/.bin/kerflint')}" rules --json`;
    const all = spawnSync('sh', ['-c', `${rules} | (sleep 1; wc -c)`], { encoding: 'utf8' });
    expect(Number(all.stdout)).toBe(Buffer.byteLength(run('rules', '--json').stdout));
    expect(Number(all.stdout)).toBeGreaterThan(65_536);
  });

  it('does not mind a pipe that closes early', () => {
    const rules = `"${join(home, 'node_modules/.bin/kerflint')}" rules --json`;
    const first = spawnSync('sh', ['-c', `${rules} | head -c 10`], { encoding: 'utf8' });
    expect([first.stdout.length, first.stderr]).toEqual([10, '']);
  });

  it('ends by the signal when interrupted, as shells report by 130, and leaves no file', async () => {
    const argv = ['check', join(installed, 'examples'), '--changed-files', '-', '--format', 'json=late.json'];
    const child = spawn(join(home, 'node_modules/.bin/kerflint'), argv, {
      cwd: home,
      stdio: ['pipe', 'ignore', 'ignore'],
    });
    const ended = new Promise((resolve) => child.on('close', (code, signal) => resolve(signal ?? code)));
    // It waits for the list on stdin once it has read what it is handed.
    await new Promise((resolve) => child.stdin.write('seed-tray-divider.svg\0', resolve));
    child.kill('SIGINT');
    expect(await ended).toBe('SIGINT');
    expect(readdirSync(home).filter((name) => name.includes('late.json'))).toEqual([]);
  });
});

describe('the core', () => {
  it('bundles for a browser and asks for nothing of Node', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'kerflint-core-'));
    try {
      await buildCore(join(folder, 'core.js'));
      const text = readFileSync(join(folder, 'core.js'), 'utf8');
      expect(text).not.toMatch(/from\s*["']node:|require\(["']|\bprocess\.(?:env|exit|cwd|stdout)/);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
