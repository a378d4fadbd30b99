import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { demo } from '../cli/harness.ts';
import { step as runStep } from './runner.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const read = (path: string) => parse(readFileSync(join(root, path), 'utf8'));

interface Step {
  name?: string;
  run?: string;
  uses?: string;
  with?: Record<string, string>;
}

interface Job {
  permissions: Record<string, string>;
  needs?: string;
  steps: Step[];
}

const workflow = read('.github/workflows/release.yml');
const jobs: Record<string, Job> = workflow.jobs;
const steps = (job: string): Step[] => jobs[job]!.steps;
const work = mkdtempSync(join(tmpdir(), 'kerflint-release-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** The workflow itself is not run here; what its steps do is. */
describe('the release workflow', () => {
  it('gives no right to what runs the repository, and runs nothing of it with one', () => {
    expect(workflow.permissions).toEqual({});
    expect(jobs['build']!.permissions).toEqual({ contents: 'read' });
    for (const [name, { permissions, needs, steps }] of Object.entries(jobs)) {
      const writes = Object.values(permissions).includes('write');
      if (!writes) continue;
      expect(needs, name).toBe('build');
      const commands = steps.flatMap(({ run }) => run?.split('\n') ?? []).map((line) => line.trim());
      for (const line of commands) expect(line, name).toMatch(/^(?:git |#|$)/);
    }
    expect(jobs['tag']!.permissions).toEqual({ contents: 'write' });
  });

  it('hands on what it tested, under the names by which it is fetched', () => {
    const artifacts = (job: string, action: string) =>
      steps(job).flatMap(({ uses, with: what }) =>
        uses?.startsWith(`actions/${action}-artifact@`) ? what!['name'] : [],
      );
    const made = artifacts('build', 'upload');
    expect(made).toEqual(['dist', 'package']);
    for (const job of ['tag', 'provenance'])
      for (const name of artifacts(job, 'download')) expect(made).toContain(name);
    const order = steps('build').map(({ run, uses }) => run ?? uses);
    expect(order.indexOf('bash .ci/run')).toBeLessThan(order.findIndex((one) => one?.includes('upload-artifact')));
  });

  it('names each action by its commit, here and in CI', () => {
    for (const file of ['release', 'ci']) {
      const text = readFileSync(join(root, `.github/workflows/${file}.yml`), 'utf8');
      const used = [...text.matchAll(/uses: (\S+)(.*)/g)];
      expect(used.length).toBeGreaterThan(0);
      for (const [, action, remark] of used) {
        expect(action).toMatch(/^[\w-]+\/[\w-]+@[0-9a-f]{40}$/);
        expect(remark).toMatch(/^ # v\d+\.\d+\.\d+$/);
      }
    }
  });

  it('refuses a version that is not the package’s', () => {
    const check = steps('build').find((step) => step.run?.startsWith('test '))!.run!;
    const exitOf = (version: string) => {
      try {
        execFileSync('bash', ['-c', check], { cwd: root, env: { ...process.env, VERSION: version }, stdio: 'ignore' });
        return 0;
      } catch (error) {
        return (error as { status: number }).status;
      }
    };
    expect(exitOf(read('package.json').version)).toBe(0);
    expect(exitOf('99.0.0')).not.toBe(0);
  });

  it('puts the bundle on the tag, off the main branch, and the action runs from there', async () => {
    const git = (cwd: string, ...args: string[]) => execFileSync('git', args, { cwd, encoding: 'utf8' }).trim();
    const remote = join(work, 'remote.git');
    const clone = join(work, 'clone');
    git(work, 'clone', '--quiet', '--bare', root, remote);
    git(work, 'clone', '--quiet', remote, clone);
    // As the artifact of the first job has it.
    cpSync(join(root, 'dist'), join(clone, 'dist'), { recursive: true });
    rmSync(join(clone, 'dist/parts/program.cache'), { force: true });
    const tag = steps('tag').find((step) => step.name === 'tag a commit that holds the bundle')!.run!;
    execFileSync('bash', ['-euo', 'pipefail', '-c', tag], {
      cwd: clone,
      env: { ...process.env, VERSION: '0.0.0-test' },
      stdio: 'ignore',
    });
    const main = read('action.yml').runs.main as string;
    expect(existsSync(join(root, main))).toBe(true);
    const files = (ref: string) => git(remote, 'ls-tree', '-r', '--name-only', ref, 'dist').split('\n');
    expect(files('v0.0.0-test')).toContain(main);
    expect(files('v0.0.0-test')).not.toContain('dist/parts/program.cache');
    expect(files('HEAD')).toEqual(['']);
    // A runner fetches the tag into a folder of its own, with no step that installs anything.
    const fetched = join(work, 'fetched');
    git(work, 'clone', '--quiet', '--branch', 'v0.0.0-test', '--depth', '1', `file://${remote}`, fetched);
    expect(existsSync(join(fetched, 'node_modules'))).toBe(false);
    const workspace = demo();
    mkdirSync(join(workspace, '.git'));
    const done = await runStep(join(fetched, main), workspace, { 'json-file': 'out.json' });
    expect(done).toMatchObject({ code: 1, stderr: '', outputs: { verdict: 'fail', errors: '3' } });
    expect(JSON.parse(readFileSync(join(workspace, 'out.json'), 'utf8')).jobs).toHaveLength(4);
  });

  it('and CI run the one script that also runs here', () => {
    expect(steps('build').some((step) => step.run === 'bash .ci/run')).toBe(true);
    expect(read('.github/workflows/ci.yml').jobs.test.steps.at(-1).run).toBe('bash .ci/run');
  });
});

it('no page says that npx starts kerflint before the registry has it', () => {
  const pages = ['README.md', 'CONTRIBUTING.md', 'SECURITY.md', 'action.yml', '.pre-commit-hooks.yaml'].concat(
    readdirSync(join(root, 'docs'), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.md'))
      .map((name) => join('docs', name)),
  );
  for (const page of pages) expect(readFileSync(join(root, page), 'utf8'), page).not.toMatch(/npx (?:-y )?kerflint/);
});
