import { cpSync, mkdirSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { demo, folder, kerflint } from './harness.ts';
import { MACHINE } from './tricks.ts';

const HUB = 'weather-vane-hub';
const TRAY = 'seed-tray-divider';
const DAY = ['--today', '2026-11-25'];

/** A checkout of the demo, and the result of it as the base. */
async function judged(...argv: string[]): Promise<{ checkout: string; base: string }> {
  const checkout = demo();
  const base = join(folder(), 'base.json');
  await kerflint(checkout, ['check', '.', '--format', `json=${base}`, ...DAY, ...argv]);
  return { checkout, base };
}

async function against(cwd: string, base: string, ...argv: string[]) {
  const told = await kerflint(cwd, ['check', '--format', 'json', '--against', base, ...DAY, ...argv]);
  const result: RunResult | null = told.stdout === '' ? null : JSON.parse(told.stdout);
  return { ...told, comparison: result?.comparison ?? null };
}

function edit(path: string, change: (text: string) => string): void {
  const before = readFileSync(path, 'utf8');
  const after = change(before);
  if (after === before) throw new Error(`nothing was changed in ${path}`);
  writeFileSync(path, after);
}

/** Makes a good job fall short. */
const spoil = (checkout: string) => edit(join(checkout, `${TRAY}.gcode`), (text) => text.replace(/F\d+/g, 'F9000'));

describe('a change', () => {
  it('that changes nothing says so, and fails only where what stood before does', async () => {
    const { checkout, base } = await judged();
    const all = await against(checkout, base);
    expect(all.comparison).toMatchObject({
      headline: 'Against the base: nothing has changed.',
      jobs: [],
      unchangedJobs: 4,
    });
    expect(all.code).toBe(1);
    expect((await against(checkout, base, '--fail-on-new')).code).toBe(0);
  });

  it('that spoils a job fails, and is told with the job’s numbers before and after', async () => {
    const { checkout, base } = await judged();
    spoil(checkout);
    const { code, comparison } = await against(checkout, base, '--fail-on-new');
    expect(code).toBe(1);
    const [job, ...others] = comparison!.jobs;
    expect(others).toEqual([]);
    expect(job).toMatchObject({ name: TRAY, is: 'same', before: { verdict: 'pass' }, after: { verdict: 'fail' } });
    expect(job!.after!.throughProbability!).toBeLessThan(job!.before!.throughProbability!);
    expect(job!.after!.timeS!).toBeLessThan(job!.before!.timeS!);
    expect(job!.after!.expectedWaste!).toBeGreaterThan(job!.before!.expectedWaste!);
    expect(job!.after!.lengthMm).toBe(job!.before!.lengthMm);
    expect(job!.findings).toContainEqual(expect.objectContaining({ change: 'new', rule: 'cut/short-of-through' }));
  });

  it('that only shifts lines brings nothing', async () => {
    const { checkout, base } = await judged();
    edit(join(checkout, `${HUB}.gcode`), (text) => text.replace(/^/, '(made again)\n(by hand)\n'));
    expect((await against(checkout, base)).comparison!.findings).toMatchObject({ new: 0, risen: 0, gone: 0 });
  });

  it('that renames or deletes a job is told as such', async () => {
    const { checkout, base } = await judged();
    for (const kind of ['svg', 'job.yaml'])
      renameSync(join(checkout, `plant-labels.${kind}`), join(checkout, `herbs.${kind}`));
    edit(join(checkout, 'herbs.job.yaml'), (text) => text.replace('plant-labels.svg', 'herbs.svg'));
    for (const kind of ['svg', 'gcode', 'job.yaml']) rmSync(join(checkout, `gate-sign.${kind}`));
    const { comparison, code } = await against(checkout, base, '--fail-on-new');
    expect(comparison!.jobs.map(({ name, is, baseName }) => [name, is, baseName])).toEqual([
      ['gate-sign', 'gone', 'gate-sign'],
      ['herbs', 'renamed', 'plant-labels'],
    ]);
    expect(comparison!.findings.new).toBe(0);
    expect(code).toBe(0);
  });

  it('that leaves something unjudged is incomplete, whatever is to fail', async () => {
    const { checkout, base } = await judged();
    edit(join(checkout, `${TRAY}.job.yaml`), (text) => text.replace('birch-plywood', 'unknown'));
    expect((await against(checkout, base, '--fail-on-new')).code).toBe(3);
  });

  it('of which only some jobs are judged leaves the others out', async () => {
    const { checkout, base } = await judged();
    spoil(checkout);
    const list = join(folder({ list: `M\0${TRAY}.gcode\0` }), 'list');
    const { comparison } = await against(checkout, base, '--changed-files', list);
    expect(comparison).toMatchObject({ notInRun: 3, jobs: [{ name: TRAY }] });
    expect(comparison!.headline).toContain('3 jobs of the base not part of this run.');
  });

  it('is the same for a divided run that is joined', async () => {
    const { checkout, base } = await judged();
    spoil(checkout);
    const whole = await against(checkout, base);
    const parts = ['1/2', '2/2'].map((shard, i) => [shard, join(checkout, `part-${i}.json`)] as const);
    for (const [shard, file] of parts)
      await kerflint(checkout, ['check', '.', '--shard', shard, '--format', `json=${file}`, ...DAY]);
    const argv = ['join', ...parts.map(([, file]) => file), '--against', base, '--format', 'json'];
    const joined = await kerflint(checkout, argv);
    expect(JSON.parse(joined.stdout)).toEqual(JSON.parse(whole.stdout));
    expect(joined.code).toBe(1);
  });

  it('reads the same in every format that tells it', async () => {
    const { checkout, base } = await judged();
    spoil(checkout);
    const formats = ['text', 'summary', 'annotations', 'html'];
    const argv = formats.flatMap((name) => ['--format', `${name}=out/${name}`]);
    const { code } = await kerflint(checkout, ['check', '.', '--against', base, ...DAY, ...argv]);
    expect(code).toBe(1);
    for (const name of formats) {
      const text = readFileSync(join(checkout, 'out', name), 'utf8')
        .replace(/\s+/g, ' ')
        .replaceAll('\\', '');
      expect(text, name).toContain('Against the base: ');
      expect(text, name).toMatch(name === 'annotations' ? /\(new\)/ : / → (?:under )?\d/);
      expect(text, name).toContain('cut/short-of-through');
    }
  });

  it('is told without a forge, a repository or a network: of two folders', async () => {
    const { checkout, base } = await judged();
    const other = join(folder(), 'elsewhere');
    cpSync(checkout, other, { recursive: true });
    expect((await against(other, base)).comparison!.headline).toBe('Against the base: nothing has changed.');
  });
});

describe('a base', () => {
  const refused = async (cwd: string, base: string, why: RegExp, ...argv: string[]) => {
    const { code, stdout, stderr } = await against(cwd, base, ...argv);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(why);
  };
  const edited = (base: string, change: (result: RunResult) => unknown) => {
    const result = JSON.parse(readFileSync(base, 'utf8'));
    change(result);
    const path = join(folder(), 'edited.json');
    writeFileSync(path, JSON.stringify(result));
    return path;
  };

  it.each<[string, (result: RunResult) => unknown, RegExp]>([
    ['of another version', (one) => Object.assign(one.tool, { version: '9.9.9' }), /comes from kerflint 9\.9\.9/],
    ['of another schema', (one) => Object.assign(one, { schemaVersion: 2 }), /is no result of kerflint \(version 1\)/],
    ['of other settings', (one) => Object.assign(one.judgedBy!, { settings: 'x' }), /other settings were in force/],
    ['of another shop', (one) => Object.assign(one.judgedBy!, { shop: 'x' }), /the shop's files .* were not the same/],
    ['that does not say', (one) => delete one.judgedBy, /does not say by which settings and shop/],
    ['that is a part', (one) => Object.assign(one, { shard: { index: 1, of: 2 } }), /is a part of a divided run/],
  ])('%s is refused', async (_, change, why) => {
    const { checkout, base } = await judged();
    await refused(checkout, edited(base, change), why);
  });

  it('that is not there, or is no result, is refused before anything is judged or written', async () => {
    const { checkout, base } = await judged();
    await refused(checkout, 'nowhere.json', /nowhere\.json cannot be read \(ENOENT\)/);
    await refused(checkout, `${TRAY}.gcode`, /is not JSON/);
    const argv = ['--baseline', 'b.json', '--write-baseline'];
    await refused(
      checkout,
      edited(base, (one) => Object.assign(one.judgedBy!, { shop: 'x' })),
      /shop's files/,
      ...argv,
    );
    await refused(checkout, 'nowhere.json', /ENOENT/, ...argv);
    expect(() => readFileSync(join(checkout, 'b.json'))).toThrow('ENOENT');
  });

  it('is of another shop or other settings once one of their files or an option is', async () => {
    const { checkout, base } = await judged();
    await refused(checkout, base, /other settings/, '--unchecked', 'artwork=incomplete');
    await refused(checkout, base, /other settings/, '--thickness', '6 mm');
    edit(join(checkout, 'machines/shed-60w.machine.yaml'), (text) => text.replace('measured: 54 W', 'measured: 53 W'));
    await refused(checkout, base, /the shop's files/);
    edit(join(checkout, '.kerflint.yaml'), (text) => `${text}budget: 3 EUR\n`);
    await refused(checkout, base, /other settings/);
  });

  it('may have been made with the shop elsewhere, and on another day, which is said', async () => {
    const shops = [folder({ 'shed-60w.machine.yaml': MACHINE }), folder({ 'deep/shed-60w.machine.yaml': MACHINE })];
    const { checkout, base } = await judged('--shop', shops[0]!);
    const told = await against(checkout, base, '--shop', shops[1]!, '--today', '2026-11-30');
    expect(told.comparison!.headline).toBe('Against the base: nothing has changed.');
    expect(told.stderr).toMatch(/base\.json was judged on 2026-11-25, this run on 2026-11-30/);
  });

  it('cannot be brought along by those who are not trusted', async () => {
    const shop = folder({ 'shed-60w.machine.yaml': MACHINE });
    const { checkout, base } = await judged('--shop', shop, '--untrusted');
    mkdirSync(join(checkout, '.git'));
    spoil(checkout);
    const run = ['--shop', shop, '--untrusted', '--fail-on-new'];
    cpSync(base, join(checkout, 'base.json'));
    await refused(checkout, 'base.json', /does not lie inside --shop/, ...run);
    await refused(checkout, base, /does not lie inside --shop/, ...run);
    await refused(checkout, 'base.json', /does not lie inside --shop/, '--untrusted');
    symlinkSync(join(checkout, 'base.json'), join(shop, 'linked.json'));
    await refused(checkout, join(shop, 'linked.json'), /does not lie inside --shop/, ...run);
    cpSync(base, join(shop, 'base.json'));
    const told = await against(checkout, join(shop, 'base.json'), ...run);
    expect(told.code).toBe(1);
    expect(told.comparison!.findings.new).toBeGreaterThan(0);
  });

  it('is needed by --fail-on-new, and is no empty name', async () => {
    const checkout = demo();
    expect(await kerflint(checkout, ['check', '.', '--fail-on-new'])).toMatchObject({ code: 2 });
    await refused(checkout, '', /--against is empty/);
  });

  it('that quotes strangers’ text gives a terminal no command', async () => {
    const { checkout, base } = await judged();
    spoil(checkout);
    const evil = edited(base, (one) => {
      for (const each of one.jobs) for (const found of each.findings) found.message = '\u001b[2J::error::x\n##[error]y';
    });
    const { stdout } = await kerflint(checkout, ['check', '.', '--against', evil, ...DAY]);
    expect(stdout).toContain('Against the base: ');
    expect(stdout).not.toMatch(/[^\n\P{Cc}]|^::|^##\[/mu);
  });
});
