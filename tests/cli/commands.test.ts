import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { FORMATS } from '../../src/report/formats.ts';
import { textSource } from '../../src/source/source.ts';
import { demo, folder, kerflint, REPOSITORY } from './harness.ts';

describe('kerflint', () => {
  it('helps and tells its version with exit code 0', async () => {
    const help = await kerflint('/', ['--help']);
    expect(help).toMatchObject({ code: 0, stderr: '' });
    for (const command of ['check', 'join', 'explain', 'rules', 'init', 'config', 'schema'])
      expect(help.stdout).toMatch(`  ${command} `);
    expect(help.stdout).toMatch('Exit codes');
    const { version } = JSON.parse(readFileSync(join(REPOSITORY, 'package.json'), 'utf8'));
    expect(await kerflint('/', ['--version'])).toEqual({ code: 0, stdout: `${version}\n`, stderr: '' });
  });

  it('lists every format that --format takes', async () => {
    const { stdout } = await kerflint('/', ['check', '--help']);
    for (const [name, { summary }] of Object.entries(FORMATS))
      expect(stdout).toMatch(`  ${name.padEnd(12)} ${summary}\n`);
  });

  it.each<[string, string[], RegExp]>([
    ['no command', [], /no command was given/],
    ['an unknown command', ['chek'], /unknown command 'chek' \(did you mean check\?\)/i],
    ['an unknown option', ['check', '--fromat', 'json'], /unknown option '--fromat' \(did you mean --format\?\)/i],
    ['an option without its value', ['check', '--format'], /argument missing/],
    ['an unknown rule', ['explain', 'cut/margnal'], /did you mean cut\/marginal\?/],
    ['an unknown schema', ['schema', 'jobb'], /did you mean job\?/],
    ['an unknown colour', ['check', '--color', 'pink'], /Allowed choices are auto, always, never/],
    ['join without results', ['join'], /missing required argument/],
  ])('ends with 2 and a way out for %s', async (_, argv, message) => {
    const told = await kerflint(folder(), argv);
    expect(told.code).toBe(2);
    expect(told.stdout).toBe('');
    expect(told.stderr).toMatch(message);
    expect(told.stderr.trim().split('\n').length).toBeGreaterThan(1);
    expect(told.stderr).not.toMatch(/\n\s+at /);
  });

  it('tells its own fault apart, with a stack and a plea', async () => {
    const broken = {
      argv: ['--version'],
      cwd: '/',
      env: {},
      stdin: [],
      stderr: { write: (text: string) => (said += text) },
    };
    let said = '';
    const { main } = await import('../../src/cli/main.ts');
    const code = await main({
      ...broken,
      stdout: {
        write: () => {
          throw new TypeError('the disk is full');
        },
      },
    });
    expect(code).toBe(3);
    expect(said).toMatch(
      /fault of kerflint[\s\S]*TypeError: the disk is full[\s\S]*Nothing was judged\. Please report it/,
    );
  });
});

describe('explain', () => {
  it('prints the page of every rule as it stands in docs/rules', async () => {
    for (const { id } of RULES) {
      const told = await kerflint('/', ['explain', id]);
      const page = readFileSync(join(REPOSITORY, `docs/rules/${id.replace('/', '-')}.md`), 'utf8');
      expect(told).toEqual({ code: 0, stdout: page, stderr: '' });
    }
  });
});

describe('rules', () => {
  it('lists all, one a line', async () => {
    const { code, stdout } = await kerflint('/', ['rules']);
    expect(code).toBe(0);
    expect(
      stdout
        .trimEnd()
        .split('\n')
        .map((line) => line.split(/\s+/)[0]),
    ).toEqual(RULES.map((rule) => rule.id));
  });

  it('gives all that is known of them as JSON', async () => {
    const { stdout } = await kerflint('/', ['rules', '--json']);
    expect(JSON.parse(stdout)).toMatchObject(RULES.map(({ id, messages, options }) => ({ id, messages, options })));
  });
});

describe('schema', () => {
  it.each(['job', 'machine', 'material', 'settings', 'result'])('prints the JSON Schema of %s', async (name) => {
    const { code, stdout } = await kerflint('/', ['schema', name]);
    expect(code).toBe(0);
    expect(JSON.parse(stdout).title).toMatch(/^kerflint /);
  });

  it('lists them', async () => {
    const { stdout } = await kerflint('/', ['schema']);
    expect(stdout).toMatch(/^job {2}.*schemas\/job\.schema\.json$/m);
  });
});

describe('config', () => {
  it('names each setting with its value and where it comes from', async () => {
    const { code, stdout } = await kerflint(demo(), ['config', 'gate-sign.job.yaml']);
    expect(code).toBe(0);
    expect(stdout).toMatch(/^machine folders +machines {2}\(\.kerflint\.yaml:\d+\)$/m);
    expect(stdout).toMatch(/^machines of the shop +shed-60w {2}\(\.kerflint\.yaml\)$/m);
    expect(stdout).toMatch(/^budget +.*\(.+\)$/m);
  });

  it("shows that nothing of the checkout is trusted when it is a stranger's", async () => {
    const { stdout } = await kerflint(demo(), ['config', '--untrusted']);
    expect(stdout).toMatch(/^settings +none {2}\(--untrusted\)$/m);
    expect(stdout).toMatch(/^machines of the shop +none/m);
  });

  it('ends with 2 and the place for settings that are wrong', async () => {
    const told = await kerflint(folder({ '.kerflint.yaml': 'kerflint: 1\nmachine: [x]\n' }), ['config']);
    expect(told.code).toBe(2);
    expect(told.stderr).toMatch(/\.kerflint\.yaml:2:1: .*did you mean machines\?/);
  });
});

describe('init', () => {
  const SVG = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">
<rect x="1" y="1" width="38" height="18" fill="none" stroke="#0b7285"/><path d="M5 5h3" stroke="#c00"/></svg>\n`;

  const filledIn = (draft: string) =>
    draft.replaceAll(/power: .*/g, 'power: 80 %').replaceAll(/speed: .*/g, 'speed: 9 mm/s');

  it('writes a sidecar that reads, with a task for each stroke colour', async () => {
    const cwd = folder({ 'label.svg': SVG });
    const told = await kerflint(cwd, [
      'init',
      'label.svg',
      '--machine',
      'bench-60w',
      '--material',
      'card',
      '--thickness',
      '1.0 mm ± 0.1 mm',
    ]);
    expect(told).toMatchObject({ code: 0, stdout: '' });
    expect(told.stderr).toMatch(/wrote label\.job\.yaml/);
    const draft = readFileSync(join(cwd, 'label.job.yaml'), 'utf8');
    const form = readSidecar(textSource('label.job.yaml', draft));
    expect(form.problems).toEqual([]);
    expect(form.value?.unfilled.map(({ key }) => key)).toEqual([
      'task 1, power',
      'task 1, speed',
      'task 2, power',
      'task 2, speed',
    ]);
    const { value, problems } = readSidecar(textSource('label.job.yaml', filledIn(draft)));
    expect(problems).toEqual([]);
    expect(value).toMatchObject({
      machine: 'bench-60w',
      material: 'card',
      artwork: 'label.svg',
      toolpath: null,
      thickness: { mm: 1 },
    });
    expect(value?.tasks.map((task) => [task.aim, task.strokes?.stroke])).toEqual([
      ['through', '#0b7285'],
      ['through', '#cc0000'],
    ]);
  });

  it('takes the partner of the same name and the only machine of the shop, and names what is left to fill in', async () => {
    const cwd = demo();
    const { stdout } = await kerflint(cwd, ['init', 'gate-sign.gcode', '--stdout']);
    expect(stdout).toMatch(/^machine: shed-60w$/m);
    expect(stdout).toMatch(/^toolpath: gate-sign\.gcode$/m);
    expect(stdout).toMatch(/^artwork: gate-sign\.svg$/m);
    const { value, problems } = readSidecar(textSource('x.job.yaml', stdout));
    expect(problems).toEqual([]);
    expect(value?.unfilled.map(({ key }) => key)).toEqual(['thickness']);
  });

  it('quotes what a file name or comment may hide', async () => {
    const cwd = folder({ 'it is #1 "b".svg': SVG });
    const { stdout } = await kerflint(cwd, [
      'init',
      'it is #1 "b".svg',
      '--stdout',
      '--machine',
      'x',
      '--thickness',
      '1 mm',
    ]);
    expect(readSidecar(textSource('x.job.yaml', filledIn(stdout)))).toMatchObject({
      problems: [],
      value: { artwork: 'it is #1 "b".svg' },
    });
  });

  it('never writes over a sidecar', async () => {
    const cwd = folder({ 'label.svg': SVG, 'label.job.yaml': 'mine' });
    expect((await kerflint(cwd, ['init', 'label.svg'])).code).toBe(2);
    expect(readFileSync(join(cwd, 'label.job.yaml'), 'utf8')).toBe('mine');
  });

  it.each(['nothing.svg', '.', 'notes.txt'])('ends with 2 for %s and writes nothing', async (file) => {
    const cwd = folder({ 'notes.txt': 'x' });
    expect((await kerflint(cwd, ['init', file])).code).toBe(2);
    expect(existsSync(join(cwd, 'notes.job.yaml'))).toBe(false);
  });
});
