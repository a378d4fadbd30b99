import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { FORMAT_NAMES } from '../../src/report/formats.ts';
import { demo, folder, kerflint } from './harness.ts';

const DAY = ['--today', '2026-11-25'];
const SEED_TRAY = ['seed-tray-divider.job.yaml', 'seed-tray-divider.gcode', 'seed-tray-divider.svg'];

async function json(cwd: string, ...argv: string[]): Promise<RunResult & { code: number; stderr: string }> {
  const told = await kerflint(cwd, ['check', '--format', 'json', ...DAY, ...argv]);
  return { ...JSON.parse(told.stdout === '' ? '{}' : told.stdout), code: told.code, stderr: told.stderr };
}

/** The demo with the one job that passes. */
function passing(): string {
  const cwd = demo();
  for (const name of readdirSync(cwd)) if (/^(gate|plant|weather)/.test(name)) rmSync(join(cwd, name));
  return cwd;
}

describe('check on the demo', () => {
  it('finds three jobs that must not run and nothing in the fourth', async () => {
    const result = await json(demo());
    expect(result.code).toBe(1);
    expect(result.jobs.map((job) => [job.name, job.verdict])).toEqual([
      ['gate-sign', 'fail'],
      ['plant-labels', 'fail'],
      ['seed-tray-divider', 'pass'],
      ['weather-vane-hub', 'fail'],
    ]);
  });

  it('gives the same bytes each time, and from a folder above', async () => {
    const cwd = demo();
    const first = await kerflint(cwd, ['check', '--format', 'json', ...DAY]);
    expect(await kerflint(cwd, ['check', '.', '--format', 'json', ...DAY])).toEqual(first);
    expect(await kerflint('/', ['check', cwd, '--format', 'json', ...DAY])).toEqual(first);
  });

  it('runs the sidecar that names a bare file', async () => {
    const result = await json(demo(), 'gate-sign.gcode');
    expect(result.jobs.map((job) => job.sidecar)).toEqual(['gate-sign.job.yaml']);
  });

  it('writes several reports in one run', async () => {
    const cwd = demo();
    const told = await kerflint(cwd, [
      'check',
      '--format',
      'text',
      '--format',
      'json=out/a.json',
      '--format',
      'sarif=out/a.sarif',
    ]);
    expect(told.stdout).toMatch(/^Do not run: 3 of 4 jobs \(/);
    expect(readdirSync(join(cwd, 'out')).sort()).toEqual(['a.json', 'a.sarif']);
    expect(JSON.parse(readFileSync(join(cwd, 'out/a.json'), 'utf8')).verdict).toBe('fail');
  });
});

describe('the exit code', () => {
  const cases: [string, () => string, string[], number][] = [
    ['nothing found', passing, [], 0],
    ['errors', demo, ['plant-labels.job.yaml'], 1],
    ['an unknown material', () => changed('material: birch-plywood', 'material: unknown'), [], 3],
    ['an unknown machine', () => changed('machine: shed-60w', 'machine: nobodys'), ['--untrusted'], 3],
    ['a file that a sidecar names and that is not there', () => without('seed-tray-divider.gcode'), [], 3],
    ['a sidecar that is wrong', () => changed('material: birch-plywood', 'materiel: birch-plywood'), [], 1],
  ];
  for (const format of FORMAT_NAMES) {
    it.each(cases)(`in ${format}: %s`, async (_, make, argv, code) => {
      const told = await kerflint(make(), ['check', '--format', format, ...DAY, ...argv]);
      expect([told.code, told.stderr]).toEqual([code, '']);
      expect(told.stdout).not.toBe('');
    });
  }

  it('rises with --fail-on and --max-warnings, and is the same with --quiet', async () => {
    const cwd = demo();
    for (const name of readdirSync(cwd)) if (/^(gate|plant)/.test(name)) rmSync(join(cwd, name));
    const { summary } = await json(cwd);
    expect(summary.warnings).toBeGreaterThan(0);
    expect((await json(cwd, 'seed-tray-divider.job.yaml', '--fail-on', 'note')).code).toBe(0);
    expect((await json(cwd, '--quiet', '--fail-on', 'warning')).code).toBe(1);
  });

  it.each<[string, string[], RegExp]>([
    ['a path that does not exist', ['check', 'gone.svg'], /gone\.svg does not exist/],
    ['a path in a folder that does not exist', ['check', 'gone/away/a.svg'], /gone\/away\/a\.svg does not exist/],
    ['an empty path', ['check', 'seed-tray-divider.job.yaml', ''], /a path is empty/],
    ['a folder without jobs', ['check', 'empty'], /empty holds no \*\.job\.yaml/],
    ['a file of another kind', ['check', 'notes.txt'], /notes\.txt is neither/],
    ['a shop that is no folder', ['check', '--shop', 'gone'], /--shop gone is not a folder/],
    ['a format that is none', ['check', '--format', 'xml'], /"xml" is not known/],
    ['two formats on stdout', ['check', '--format', 'json', '--format', 'text'], /cannot share stdout/],
    ['a report that cannot be written', ['check', '--format', 'json=empty'], /empty cannot be written: it is a folder/],
    ['a severity that is none', ['check', '--fail-on', 'eror'], /did you mean error\?/],
    ['a number that is none', ['check', '--max-warnings', 'few'], /not a whole number/],
    ['a date that is none', ['check', '--today', '2026-02-30'], /not a date/],
    ['a thickness without unit', ['check', '--thickness', '6'], /--thickness: .*mm/],
    ['a shard that is none', ['check', '--shard', '5/4'], /not a part of a whole/],
    ['a baseline that is not there', ['check', '--baseline', 'gone.json'], /baseline gone\.json cannot be read/],
    ['pruning without a baseline', ['check', '--prune-baseline'], /which file/],
    ['a list of changes that is not there', ['check', '--changed-files', 'gone'], /gone cannot be read/],
  ])('is 2 with a way out and no report for %s', async (_, argv, message) => {
    const cwd = passing();
    mkdirSync(join(cwd, 'empty'));
    writeFileSync(join(cwd, 'notes.txt'), 'x');
    const told = await kerflint(cwd, argv);
    expect([told.code, told.stdout]).toEqual([2, '']);
    expect(told.stderr).toMatch(message);
    expect(told.stderr.trimEnd().split('\n')).toHaveLength(2);
  });

  it('is 2 for settings of the root or the shop that are wrong', async () => {
    const cwd = passing();
    writeFileSync(join(cwd, '.kerflint.yaml'), 'kerflint: 1\nmachines: [nowhere]\n');
    const told = await kerflint(cwd, ['check']);
    expect(told.code).toBe(2);
    expect(told.stderr).toMatch(/\.kerflint\.yaml:2:\d+: machines: there is no folder "nowhere"/);
  });
});

function changed(from: string, to: string): string {
  const cwd = passing();
  const path = join(cwd, 'seed-tray-divider.job.yaml');
  const before = readFileSync(path, 'utf8');
  expect(before).toContain(from);
  writeFileSync(path, before.replace(from, to));
  return cwd;
}

function without(name: string): string {
  const cwd = passing();
  rmSync(join(cwd, name));
  return cwd;
}

describe('bad input', () => {
  it('is a finding with a place, and leaves the other jobs their results', async () => {
    const cwd = changed('material: birch-plywood', 'materiel: birch-plywood');
    const good = demo();
    for (const name of readdirSync(good))
      if (name.startsWith('plant')) writeFileSync(join(cwd, name), readFileSync(join(good, name)));
    const result = await json(cwd);
    expect(result.jobs.map((job) => job.name)).toEqual(['plant-labels', 'seed-tray-divider']);
    const findings = result.jobs[1]?.findings ?? [];
    expect(findings.map((finding) => [finding.rule, finding.location.file])).toEqual([
      ['input/syntax', 'seed-tray-divider.job.yaml'],
    ]);
    expect(findings[0]?.message).toMatch(/did you mean material\?/);
    expect(result.jobs[0]?.findings.map((finding) => finding.rule)).toContain('material/hazardous');
  });

  it.each<[string, (cwd: string) => void]>([
    ['a pipe', (cwd) => execFileSync('mkfifo', [join(cwd, 'x.gcode')])],
    ['a folder', (cwd) => mkdirSync(join(cwd, 'x.gcode'))],
    ['a device by a link', (cwd) => symlinkSync('/dev/zero', join(cwd, 'x.gcode'))],
    ['a link out of the root', (cwd) => symlinkSync('/etc/passwd', join(cwd, 'x.gcode'))],
  ])('of a sidecar that names %s is told and not waited for', async (_, lay) => {
    const cwd = changed('toolpath: seed-tray-divider.gcode', 'toolpath: x.gcode');
    lay(cwd);
    const result = await json(cwd);
    expect([1, 3]).toContain(result.code);
    expect(result.jobs[0]?.findings[0]).toMatchObject({ location: { file: 'seed-tray-divider.job.yaml' } });
    expect(JSON.stringify(result)).not.toContain('root:x:0');
  });

  it('of a sidecar that names a path out of the root opens nothing', async () => {
    const result = await json(changed('toolpath: seed-tray-divider.gcode', 'toolpath: ../../etc/passwd'));
    expect(result.jobs[0]?.findings[0]?.message).toMatch(/outside the root/);
  });

  it.each<[string, string | Uint8Array]>([
    ['nothing', ''],
    ['zeros', new Uint8Array(1000)],
    ['a picture', new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0, 255, 254])],
    ['one long line', 'G1 X1 '.repeat(500_000)],
    ['half a word', 'G21\nG1 X'],
  ])('of %s where a toolpath should be neither throws nor passes in silence', async (_, content) => {
    const cwd = passing();
    writeFileSync(join(cwd, 'seed-tray-divider.gcode'), content);
    const result = await json(cwd);
    expect([1, 3]).toContain(result.code);
    expect(result.jobs[0]?.notChecked.filter((one) => one.kind === 'failed')).toEqual([]);
  });

  it.each<[string, string | Uint8Array]>([
    ['nothing', ''],
    ['no XML', 'hello'],
    [
      'an entity bomb',
      '<!DOCTYPE svg [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>',
    ],
    ['an unclosed element', '<svg xmlns="http://www.w3.org/2000/svg"><g>'],
    ['deep nesting', `<svg xmlns="http://www.w3.org/2000/svg">${'<g>'.repeat(100_000)}`],
  ])('of %s where artwork should be neither throws nor passes in silence', async (_, content) => {
    const cwd = passing();
    writeFileSync(join(cwd, 'seed-tray-divider.svg'), content);
    const result = await json(cwd);
    expect([1, 3]).toContain(result.code);
    expect(result.jobs[0]?.notChecked.filter((one) => one.kind === 'failed')).toEqual([]);
  });
});

describe('bare files', () => {
  const OPTIONS = ['--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm'];

  it('are judged by the options', async () => {
    const cwd = passing();
    rmSync(join(cwd, 'seed-tray-divider.job.yaml'));
    const result = await json(cwd, ...OPTIONS);
    expect(result.jobs.map((job) => [job.name, job.machine, job.material, job.thicknessMm])).toEqual([
      ['seed-tray-divider.gcode', 'shed-60w', 'birch-plywood', 3],
      ['seed-tray-divider.svg', 'shed-60w', 'birch-plywood', 3],
    ]);
  });

  it('in a folder without the options are told to be unchecked', async () => {
    const cwd = demo();
    rmSync(join(cwd, 'gate-sign.job.yaml'));
    const result = await json(cwd);
    expect(result.notCheckedFiles.map((one) => one.file)).toEqual(['gate-sign.gcode', 'gate-sign.svg']);
  });
});

describe('--changed-files', () => {
  const touched = async (cwd: string, ...files: string[]) => {
    const told = await kerflint(cwd, ['check', '--format', 'json', ...DAY, '--changed-files', '-'], {
      stdin: `${files.join('\0')}\0`,
    });
    return [told.code, ...JSON.parse(told.stdout).jobs.map((job: { name: string }) => job.name)];
  };

  it('judges the jobs whose files changed, were deleted, or whose machine changed', async () => {
    const cwd = demo();
    expect(await touched(cwd)).toEqual([0]);
    expect(await touched(cwd, 'README.md')).toEqual([0]);
    expect(await touched(cwd, 'seed-tray-divider.svg')).toEqual([0, 'seed-tray-divider']);
    expect(await touched(cwd, 'seed-tray-divider.svg', 'gate-sign.gcode')).toEqual([
      1,
      'gate-sign',
      'seed-tray-divider',
    ]);
    const all = [1, 'gate-sign', 'plant-labels', 'seed-tray-divider', 'weather-vane-hub'];
    expect(await touched(cwd, 'machines/shed-60w.machine.yaml')).toEqual(all);
    expect(await touched(cwd, 'machines/shed-60w.bench.yaml')).toEqual(all);
    expect(await touched(cwd, '.kerflint.yaml')).toEqual(all);
    rmSync(join(cwd, 'gate-sign.gcode'));
    expect(await touched(cwd, 'gate-sign.gcode')).toEqual([3, 'gate-sign']);
  });

  it('takes a list with line ends, and paths from the top of the repository', async () => {
    const cwd = folder();
    mkdirSync(join(cwd, '.git'));
    const below = join(cwd, 'garden');
    mkdirSync(below);
    for (const name of ['.kerflint.yaml', ...SEED_TRAY])
      writeFileSync(join(below, name), readFileSync(join(demo(), name)));
    mkdirSync(join(below, 'machines'));
    writeFileSync(
      join(below, 'machines/shed-60w.machine.yaml'),
      readFileSync(join(demo(), 'machines/shed-60w.machine.yaml')),
    );
    writeFileSync(join(cwd, 'list'), 'garden/seed-tray-divider.svg\nother\n');
    const result = await json(below, '--changed-files', '../list');
    expect(result.jobs.map((job) => job.name)).toEqual(['seed-tray-divider']);
  });
});

describe('--shard and join', () => {
  it('give the undivided run', async () => {
    const cwd = demo();
    const whole = await kerflint(cwd, ['check', '--format', 'json', ...DAY]);
    for (const n of [1, 2, 3])
      await kerflint(cwd, ['check', '--format', `json=part-${n}.json`, ...DAY, '--shard', `${n}/3`]);
    const joined = await kerflint(cwd, ['join', 'part-3.json', 'part-1.json', 'part-2.json', '--format', 'json']);
    expect(joined).toEqual(whole);
  });

  it('refuse a run with a part missing', async () => {
    const cwd = demo();
    await kerflint(cwd, ['check', '--format', 'json=part-1.json', '--shard', '1/2']);
    const told = await kerflint(cwd, ['join', 'part-1.json']);
    expect(told.code).toBe(2);
    expect(told.stderr).toMatch(/Part 2 of 2 is missing/);
  });

  it.each(['{', '{}', '[]', '{"schemaVersion":1}'])('refuse %s', async (text) => {
    const told = await kerflint(folder({ 'a.json': text }), ['join', 'a.json']);
    expect(told.code).toBe(2);
  });
});

describe('--baseline', () => {
  it('is written, bears what was there, and is pruned', async () => {
    const cwd = demo();
    rmSync(join(cwd, 'plant-labels.job.yaml'));
    rmSync(join(cwd, 'gate-sign.job.yaml'));
    rmSync(join(cwd, 'gate-sign.gcode'));
    expect((await json(cwd, '--baseline', 'base.json', '--write-baseline')).code).toBe(0);
    const again = await json(cwd, '--baseline', 'base.json');
    expect(again).toMatchObject({ code: 0, verdict: 'pass', stderr: '' });
    expect(again.summary.baselined).toBeGreaterThan(0);
    const counts = JSON.parse(readFileSync(join(cwd, 'base.json'), 'utf8'));
    counts.findings['weather-vane-hub.gcode']['cut/marginal'] = 7;
    writeFileSync(join(cwd, 'base.json'), JSON.stringify(counts));
    expect((await json(cwd, '--baseline', 'base.json')).stderr).toMatch(/counts 7 more than there is/);
    await json(cwd, '--baseline', 'base.json', '--prune-baseline');
    expect(readFileSync(join(cwd, 'base.json'), 'utf8')).not.toContain('cut/marginal');
  });

  it('does not bear a hazardous material', async () => {
    const cwd = demo();
    const argv = ['plant-labels.job.yaml', '--baseline', 'base.json'];
    expect((await json(cwd, ...argv, '--write-baseline')).code).toBe(1);
    expect((await json(cwd, ...argv)).code).toBe(1);
  });
});

describe('--untrusted', () => {
  it('takes a machine from the shop folder only, and says that the job is incomplete without', async () => {
    const cwd = passing();
    const shop = folder({ 'shed-60w.machine.yaml': readFileSync(join(cwd, 'machines/shed-60w.machine.yaml'), 'utf8') });
    expect((await json(cwd, '--untrusted')).code).toBe(3);
    expect((await json(cwd, '--untrusted', '--shop', shop)).code).toBe(0);
  });

  it('does not use a baseline of the checkout', async () => {
    const cwd = demo();
    const shop = folder({ 'shed-60w.machine.yaml': readFileSync(join(cwd, 'machines/shed-60w.machine.yaml'), 'utf8') });
    const argv = ['weather-vane-hub.job.yaml', '--baseline', 'base.json', '--shop', shop];
    expect((await json(cwd, ...argv, '--write-baseline')).code).toBe(0);
    const told = await json(cwd, ...argv, '--untrusted');
    expect(told.code).toBe(1);
    expect(told.stderr).toMatch(/base\.json is not used/);
    writeFileSync(join(shop, 'base.json'), readFileSync(join(cwd, 'base.json')));
    expect(
      (
        await json(
          cwd,
          'weather-vane-hub.job.yaml',
          '--shop',
          shop,
          '--baseline',
          join(shop, 'base.json'),
          '--untrusted',
        )
      ).code,
    ).toBe(0);
    symlinkSync(join(cwd, 'base.json'), join(shop, 'link.json'));
    expect(
      (
        await json(
          cwd,
          'weather-vane-hub.job.yaml',
          '--shop',
          shop,
          '--baseline',
          join(shop, 'link.json'),
          '--untrusted',
        )
      ).code,
    ).toBe(1);
  });
});
