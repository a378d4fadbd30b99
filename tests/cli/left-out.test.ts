// A run that leaves a toolpath unjudged never reads as clean, whatever keeps it from being judged.
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, rmSync, symlinkSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { readCommands } from '../report/runner-grammar.ts';
import { demo, folder, kerflint } from './harness.ts';

const DAY = ['--today', '2026-11-25'];
const GCODE = 'G21 G90\nM3 S0\nG1 X10 Y0 F600 S500\nM5\nM2\n';
const SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm"/>';

async function json(
  cwd: string,
  argv: string[] = [],
  stdin = '',
): Promise<RunResult & { code: number; stderr: string }> {
  const told = await kerflint(cwd, ['check', '--format', 'json', ...DAY, ...argv], { stdin });
  return { ...JSON.parse(told.stdout === '' ? '{}' : told.stdout), code: told.code, stderr: told.stderr };
}

/** The demo's one job that passes, and other files beside it. */
function shed(files: Record<string, string> = {}): string {
  const cwd = demo();
  for (const name of ['gate-sign', 'plant-labels', 'weather-vane-hub']) {
    for (const end of ['.job.yaml', '.svg', '.gcode']) rmSync(join(cwd, name + end), { force: true });
  }
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(join(cwd, name, '..'), { recursive: true });
    writeFileSync(join(cwd, name), text);
  }
  return cwd;
}

describe('a toolpath left unjudged makes the run incomplete', () => {
  it.each<[string, (cwd: string) => void]>([
    ['beside a job that passes', (cwd) => writeFileSync(join(cwd, 'left.tap'), GCODE)],
    ['without an extension', (cwd) => writeFileSync(join(cwd, 'left'), GCODE)],
    ['in a hidden folder', (cwd) => [mkdirSync(join(cwd, '.old')), writeFileSync(join(cwd, '.old/left.nc'), GCODE)]],
    ['behind a link', (cwd) => symlinkSync('seed-tray-divider.gcode', join(cwd, 'left'))],
    ['behind a link that leads nowhere', (cwd) => symlinkSync('nowhere', join(cwd, 'left.gcode'))],
    ['in a folder behind a link', (cwd) => symlinkSync(folder({ 'left.nc': GCODE }), join(cwd, 'left'))],
    ['that is a pipe', (cwd) => execFileSync('mkfifo', [join(cwd, 'left.gcode')])],
    ['whose name is not UTF-8', (cwd) => writeFileSync(Buffer.from(`${cwd}/left\u00ff.nc`, 'latin1'), GCODE)],
    ['in a folder whose name is not', (cwd) => mkdirSync(Buffer.from(`${cwd}/left\u00ff`, 'latin1'))],
    [
      'of a sidecar with another extension',
      (cwd) => copyFileSync(join(cwd, 'seed-tray-divider.job.yaml'), join(cwd, 'left.job.yml')),
    ],
  ])('%s', async (_, put) => {
    const cwd = shed();
    expect((await json(cwd)).code).toBe(0);
    put(cwd);
    const result = await json(cwd);
    expect(result).toMatchObject({ code: 3, verdict: 'incomplete' });
    expect(result.jobs.map(({ verdict }) => verdict)).toEqual(['pass']);
    const [only, ...others] = result.leftOut;
    expect(others).toEqual([]);
    expect(only).toMatchObject({ path: expect.stringMatching(/^\.?(left|old)/), incomplete: true });
    expect(result.notCheckedFiles).toEqual([{ file: only!.path, reason: only!.reason }]);
    for (const quiet of [[], ['--quiet']]) {
      const { stdout, code } = await kerflint(cwd, ['check', ...DAY, ...quiet]);
      expect(code).toBe(3);
      expect(stdout).toMatch(/^Not judged: /);
      expect(stdout).toContain('Not judged, so the run is incomplete (1): ');
    }
  });

  it('but not what the settings exclude, and not in .git or node_modules', async () => {
    const cwd = shed({ 'old/a.nc': GCODE, '.git/a.nc': GCODE, 'x/node_modules/a.nc': GCODE });
    writeFileSync(join(cwd, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\nexclude: [old]\n');
    const result = await json(cwd);
    expect(result).toMatchObject({ code: 0, leftOut: [], passedBy: { excluded: 1, git: 1, nodeModules: 1 } });
    const { stdout } = await kerflint(cwd, ['check', ...DAY]);
    expect(stdout).toContain('\nPassed by: 1 that the settings exclude, .git and node_modules.\n');
  });
});

describe('a run with no job', () => {
  it('is incomplete where a toolpath was left out', async () => {
    const cwd = folder({ 'gate.cnc': GCODE });
    expect(await json(cwd)).toMatchObject({ code: 3, verdict: 'incomplete', jobs: [], summary: { jobs: 0 } });
    expect((await kerflint(cwd, ['check'])).stdout).toMatch(/^Not judged: gate\.cnc \(no sidecar names it/);
  });

  it('else passes, and says that nothing was judged', async () => {
    const cwd = folder({ 'gate.svg': SVG });
    expect(await json(cwd)).toMatchObject({ code: 0, verdict: 'pass', summary: { jobs: 0, notChecked: 1 } });
    for (const argv of [[], ['--quiet']]) {
      const { stdout } = await kerflint(cwd, ['check', ...argv]);
      expect(stdout).toMatch(/^Nothing was judged: /);
      expect(stdout).toContain('\n  gate.svg\n');
    }
  });
});

describe('what an unjudged file means', () => {
  const files = { 'left.nc': GCODE, 'left.svg': SVG };
  const settings = (cwd: string, line: string) =>
    writeFileSync(join(cwd, '.kerflint.yaml'), `kerflint: 1\nmachines: [machines]\n${line}\n`);

  it('is for the settings to say, and before them for the command line', async () => {
    const cwd = shed(files);
    const codes = async (...argv: string[]) => (await json(cwd, argv)).code;
    expect(await codes()).toBe(3);
    expect(await codes('--unchecked', 'toolpath=note')).toBe(0);
    expect(await codes('--unchecked', 'toolpath=note', '--unchecked', 'artwork=incomplete')).toBe(3);
    settings(cwd, 'unchecked: { toolpath: note }');
    expect(await codes()).toBe(0);
    expect(await codes('--unchecked', 'toolpath=incomplete')).toBe(3);
    settings(cwd, 'unchecked: { toolpath: note, artwork: incomplete }');
    expect(await codes()).toBe(3);
    const { stdout } = await kerflint(cwd, ['config']);
    expect(stdout).toMatch(/artwork left unjudged +incomplete {2}\(\.kerflint\.yaml:3\)/);
  });

  it('is not for a stranger to say', async () => {
    const cwd = shed(files);
    settings(cwd, 'unchecked: { toolpath: note }\nexclude: [left.nc]');
    const shop = folder({ '.kerflint.yaml': 'kerflint: 1\n' });
    copyFileSync(join(cwd, 'machines/shed-60w.machine.yaml'), join(shop, 'shed-60w.machine.yaml'));
    expect((await json(cwd)).code).toBe(0);
    expect((await json(cwd, ['--untrusted', '--shop', shop])).code).toBe(3);
    writeFileSync(join(shop, '.kerflint.yaml'), 'kerflint: 1\nunchecked: { toolpath: note }\n');
    expect((await json(cwd, ['--untrusted', '--shop', shop])).code).toBe(0);
  });

  it.each(['toolpath', 'toolpath=', 'toolpath=off', 'sidecar=note', ''])('cannot be %j', async (typed) => {
    const told = await kerflint(shed(), ['check', '--unchecked', typed]);
    expect(told.code).toBe(2);
    expect(told.stderr).toContain('--unchecked toolpath=note');
  });
});

describe('of a list of changed files', () => {
  const LIST = ['--changed-files', '-'];

  it('only what was changed counts', async () => {
    const cwd = shed({ 'left.nc': GCODE, '.old/a.nc': GCODE, 'left.svg': SVG });
    expect(await json(cwd, LIST, 'M\0seed-tray-divider.svg\0')).toMatchObject({ code: 0, leftOut: [] });
    const changed = await json(cwd, LIST, 'A\0left.nc\0A\0left.svg\0');
    expect(changed).toMatchObject({ code: 3, jobs: [] });
    expect(changed.leftOut).toMatchObject([
      { path: 'left.nc', incomplete: true, changed: true },
      { path: 'left.svg', incomplete: false, changed: true },
    ]);
    expect((await json(cwd, LIST, 'A\0.old/a.nc\0')).leftOut).toMatchObject([{ path: '.old', incomplete: true }]);
  });

  it('changed artwork that nobody judged is an annotation', async () => {
    const cwd = shed({ 'left.svg': SVG, 'other.svg': SVG });
    const told = (argv: string[], stdin = '') =>
      kerflint(cwd, ['check', '--format', 'annotations', ...DAY, ...argv], { stdin });
    expect(readCommands((await told([])).stdout).filter(({ command }) => command !== 'notice')).toEqual([]);
    const { code, stdout } = await told(LIST, 'A\tleft.svg\n');
    expect(code).toBe(0);
    expect(readCommands(stdout)).toMatchObject([{ command: 'warning', properties: { file: 'left.svg', line: '1' } }]);
    writeFileSync(join(cwd, 'left.nc'), GCODE);
    expect(readCommands((await told(LIST, 'A\tleft.nc\n')).stdout)).toMatchObject([
      { command: 'error', properties: { file: 'left.nc' } },
    ]);
  });

  it('a job is touched by a rename of its file, and by a file that is gone', async () => {
    const cwd = shed();
    const names = async (list: string) => (await json(cwd, LIST, list)).jobs.map(({ name }) => name);
    expect(await names('R100\told.svg\tseed-tray-divider.svg\n')).toEqual(['seed-tray-divider']);
    expect(await names('.\\seed-tray-divider.svg\r\n')).toEqual(['seed-tray-divider']);
    expect(await names(`${cwd}/seed-tray-divider.svg\n`)).toEqual(['seed-tray-divider']);
    unlinkSync(join(cwd, 'seed-tray-divider.svg'));
    expect(await names('D\tseed-tray-divider.svg\n')).toEqual(['seed-tray-divider']);
    const told = await json(cwd, LIST, 'seed-tray-divider.svg\nmachines/shed-60w.machine.yaml\n');
    expect(told.jobs.map(({ name }) => name)).toEqual(['seed-tray-divider']);
    expect(told.stderr).toContain('1 of 2 listed files is not there and counts as deleted.');
  });

  it.each([
    ['an error of git', "fatal: ambiguous argument 'main...'\n", /an error message/],
    ['files of another place', 'M\telsewhere/a.nc\n', /none is there: elsewhere\/a\.nc/],
  ])('that is %s, the run ends with 2', async (_, list, message) => {
    expect(await json(shed(), LIST, list)).toMatchObject({ code: 2, stderr: expect.stringMatching(message) });
  });
});

it('parts of a divided run, joined, tell of the same files', async () => {
  const cwd = shed({ 'a.nc': GCODE, 'b.nc': GCODE, 'c.svg': SVG, '.d/README.md': '' });
  const whole = await kerflint(cwd, ['check', '--format', 'json', ...DAY]);
  const parts = ['1', '2'].map((n) => join(folder(), `part-${n}.json`));
  for (const [i, part] of parts.entries())
    await kerflint(cwd, ['check', '--format', `json=${part}`, ...DAY, '--shard', `${i + 1}/2`]);
  const joined = await kerflint(cwd, ['join', ...parts, '--format', 'json']);
  expect(JSON.parse(joined.stdout)).toEqual(JSON.parse(whole.stdout));
  expect(joined.code).toBe(3);
});
