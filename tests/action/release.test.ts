import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';

const root = fileURLToPath(new URL('../../', import.meta.url));
const read = (path: string) => parse(readFileSync(join(root, path), 'utf8'));

interface Step {
  name?: string;
  run?: string;
  uses?: string;
}

const workflow = read('.github/workflows/release.yml');
const steps: Step[] = workflow.jobs.release.steps;
const work = mkdtempSync(join(tmpdir(), 'kerflint-release-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** The workflow itself is not run here; what its steps do is. */
describe('the release workflow', () => {
  it('has no permission but to write the tag', () => {
    expect(workflow.permissions).toEqual({});
    expect(workflow.jobs.release.permissions).toEqual({ contents: 'write' });
  });

  it('refuses a version that is not the package’s', () => {
    const check = steps.find((step) => step.run?.startsWith('test '))!.run!;
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

  it('puts the bundle on the tag and leaves it off the main branch', () => {
    const git = (cwd: string, ...args: string[]) => execFileSync('git', args, { cwd, encoding: 'utf8' }).trim();
    const remote = join(work, 'remote.git');
    const clone = join(work, 'clone');
    git(work, 'clone', '--quiet', '--bare', root, remote);
    git(work, 'clone', '--quiet', remote, clone);
    cpSync(join(root, 'dist'), join(clone, 'dist'), { recursive: true });
    const tag = steps.find((step) => step.name === 'tag a commit that holds the bundle')!.run!;
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
  });

  it('and CI run the one script that also runs here', () => {
    expect(steps.some((step) => step.run === 'bash .ci/run')).toBe(true);
    expect(read('.github/workflows/ci.yml').jobs.test.steps.at(-1).run).toBe('bash .ci/run');
  });
});
