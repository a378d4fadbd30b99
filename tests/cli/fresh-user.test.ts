import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folder, REPOSITORY } from './harness.ts';

const PROGRAM = join(REPOSITORY, 'dist/kerflint.js');

/** A drawing as a person's own program writes it: a plant label with a hole for its string. */
const LABEL = `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="30mm" viewBox="0 0 80 30">
  <g fill="none" stroke="#7a4f9a" stroke-width="0.1">
    <path d="M4 2 H76 A2 2 0 0 1 78 4 V26 A2 2 0 0 1 76 28 H4 A2 2 0 0 1 2 26 V4 A2 2 0 0 1 4 2 Z"/>
    <circle cx="8" cy="15" r="2.5"/>
  </g>
</svg>
`;

/** From an empty folder to a verdict, with the program that is built and nothing else: as somebody does on the first evening. */
describe('a fresh user', () => {
  const run = (cwd: string, ...argv: string[]) => {
    expect(existsSync(PROGRAM), 'dist/ is there: run "npm run build" first').toBe(true);
    const { status, stdout, stderr } = spawnSync(process.execPath, [PROGRAM, ...argv], {
      cwd,
      encoding: 'utf8',
      input: '',
    });
    return { status, stdout, stderr };
  };
  const SHEET = ['--material', 'birch-plywood', '--thickness', '3.0 mm ± 0.1 mm'];

  it.each([
    ['co2', '40 W', '2 in', '500 x 300 mm'],
    ['diode', '10 W', '20 mm', '16 x 15 in'],
  ])('with a %s source of %s gets a verdict in three commands, with what was assumed', (source, rated, lens, bed) => {
    const cwd = folder({ 'label.svg': LABEL });
    const first = run(
      cwd,
      'init',
      '--machine',
      'mine',
      '--source',
      source,
      '--rated',
      rated,
      '--lens',
      lens,
      '--bed',
      bed,
    );
    expect(first.status, first.stderr).toBe(0);
    const then = /^Then: kerflint (.*)$/m.exec(first.stderr)?.[1] ?? '';
    const second = run(cwd, ...then.split(' '));
    expect([second.status, second.stderr]).toEqual([0, '']);
    expect(second.stdout).toMatch(/birch plywood/);
    const third = run(
      cwd,
      'check',
      'label.svg',
      '--machine',
      'mine',
      ...SHEET,
      '--format',
      'text',
      '--format',
      'json=out.json',
    );
    expect([0, 1], third.stderr).toContain(third.status);
    expect(third.stdout).toMatch(/^(?:Found no error in what was checked|Do not run): /);
    expect(third.stdout).toMatch(/^ {2}Assumed, as the profile does not say: /m);
    const [job] = JSON.parse(readFileSync(join(cwd, 'out.json'), 'utf8')).jobs;
    expect(job.assumed.map(({ key }: { key: string }) => key)).toContain('beam.diameter');
    expect(job).toMatchObject({ machine: 'mine', incomplete: [] });
  });

  it('is led on by a sidecar whose schema is where it says', () => {
    const cwd = folder({ 'label.svg': LABEL });
    run(
      cwd,
      'init',
      '--machine',
      'mine',
      '--source',
      'co2',
      '--rated',
      '40 W',
      '--lens',
      '2 in',
      '--bed',
      '500 x 300 mm',
    );
    const told = run(cwd, 'init', 'label.svg', ...SHEET);
    expect(told.status, told.stderr).toBe(0);
    const text = readFileSync(join(cwd, 'label.job.yaml'), 'utf8');
    expect(text).toMatch(/^machine: mine$/m);
    for (const file of ['label.job.yaml', 'machines/mine.machine.yaml', '.kerflint.yaml']) {
      const [, to = ''] = /\$schema=(\S+)/.exec(readFileSync(join(cwd, file), 'utf8')) ?? [];
      expect(existsSync(resolve(dirname(join(cwd, file)), to)), `${file} leads to ${to}`).toBe(true);
    }
    const check = run(cwd, 'check');
    expect(check.status, check.stderr).toBe(0);
    expect(check.stdout).toMatch(/cut\/proposed/);
  });

  it('with a toolpath is told that the power scale is missing, until the profile states it', () => {
    const cwd = folder({
      'label.gcode': 'G21\nG90\nM4 S0\nG0 X2 Y2\nG1 X78 F600 S800\nG1 Y28\nG1 X2\nG1 Y2\nM5\nM2\n',
    });
    const init = [
      'init',
      '--machine',
      'mine',
      '--source',
      'co2',
      '--rated',
      '40 W',
      '--lens',
      '2 in',
      '--bed',
      '500 x 300 mm',
    ];
    run(cwd, ...init);
    const check = ['check', 'label.gcode', '--machine', 'machines/mine.machine.yaml', ...SHEET];
    const open = run(cwd, ...check);
    expect(open.status).toBe(3);
    expect(open.stdout).toMatch(/controller\.power/);
    const { stdout } = run(cwd, ...init, '--power-word', 'S 1000', '--stdout');
    writeFileSync(join(cwd, 'machines/mine.machine.yaml'), stdout);
    expect(run(cwd, ...check).stdout).not.toMatch(/controller\.power/);
  });

  it('can name files for jobs that several threads judge', () => {
    const drawings = Object.fromEntries(Array.from({ length: 6 }, (_, i) => [`label-${i}.svg`, LABEL]));
    const cwd = folder(drawings);
    const to = [
      'init',
      '--machine',
      'far',
      '--source',
      'co2',
      '--rated',
      '40 W',
      '--lens',
      '2 in',
      '--bed',
      '500 x 300 mm',
    ];
    run(cwd, ...to, '--shop', 'elsewhere');
    const named = ['check', '.', '--machine', 'elsewhere/machines/far.machine.yaml', ...SHEET, '--format', 'json'];
    const one = run(cwd, ...named);
    expect(JSON.parse(one.stdout).jobs.map(({ machine }: { machine: string }) => machine)).toEqual(
      Array(6).fill('far'),
    );
    expect(run(cwd, ...named, '--workers', '2')).toEqual(one);
  });
});
