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

  describe('with a drawing beside the base', () => {
    /** The demo with its base, a drawing beside that, and a divider that was spoilt since. */
    const drawn = async () => {
      const checkout = demo();
      const base = join(folder(), 'base.json');
      const drawing = base.replace('.json', '.drawing.json');
      await kerflint(checkout, ['check', '.', ...DAY, '--format', `json=${base}`, '--format', `drawing=${drawing}`]);
      spoil(checkout);
      return { checkout, base, drawing };
    };
    const page = (checkout: string, base: string, ...argv: string[]) =>
      kerflint(checkout, ['check', '.', '--against', base, ...DAY, '--format', 'html', ...argv]);
    const headings = (text: string) => [...text.matchAll(/<h4>([^<]*)<\/h4>/g)].map((one) => one[1]);
    const BOTH = ['sheet map', 'section through the least sure cut'].flatMap((what) =>
      ['In the base', 'Now'].map((when) => `${when}: ${what}`),
    );

    it('the page shows both maps and sections side by side, each as the report of its own run does', async () => {
      const { checkout, base } = await drawn();
      const { stdout, stderr } = await page(checkout, base);
      expect(stderr).toBe('');
      expect(headings(stdout)).toEqual(BOTH);
      const [was = '', is = ''] = stdout.split('<h4>Now: section')[0]!.split('<h4>Now: sheet map');
      const chances = (text: string) =>
        [...text.matchAll(/<title>Cut 3, [^<]*; ([^;]* likely to part);/g)].map((one) => one[1]);
      expect(chances(was.slice(was.indexOf('<h4>In the base')))).toEqual(['over 99 % likely to part']);
      expect(chances(is)).toEqual(['under 1 % likely to part']);
      const ids = [...stdout.matchAll(/ id="([^"]*)"/g)].map((one) => one[1]);
      expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
    });

    it('what looks the same is not drawn twice', async () => {
      const { checkout, base } = await drawn();
      cpSync(join(demo(), `${TRAY}.gcode`), join(checkout, `${TRAY}.gcode`));
      edit(join(checkout, `${TRAY}.job.yaml`), (text) => text.replace('price: 4.20 EUR', 'price: 9 EUR'));
      const { stdout } = await page(checkout, base);
      const said = /<p class="aside">As in the base: [^<]*/.exec(stdout)?.[0];
      expect(said).toBe('<p class="aside">As in the base: sheet map, section through the least sure cut.');
      expect(headings(stdout)).toEqual([]);
    });

    it('the page of a joined run shows them too', async () => {
      const { checkout, base } = await drawn();
      const made = ['json=part.json', 'drawing=part.drawing.json'].flatMap((one) => ['--format', one]);
      await kerflint(checkout, ['check', '.', ...DAY, ...made]);
      const { stdout } = await kerflint(checkout, ['join', 'part.json', '--against', base, '--format', 'html']);
      expect(headings(stdout)).toEqual(BOTH);
    });

    it('one that is no drawing, or of another run, is told and left out', async () => {
      const { checkout, base, drawing } = await drawn();
      const whole = readFileSync(drawing, 'utf8');
      for (const text of ['{', whole.replaceAll(`"job":"${TRAY}"`, '"job":"else"')]) {
        writeFileSync(drawing, text);
        const { code, stdout, stderr } = await page(checkout, base);
        expect([code, headings(stdout)]).toEqual([1, []]);
        expect(stderr).toMatch(/base\.drawing\.json .*: its pictures are left out\.\n$/);
      }
      rmSync(drawing);
      expect(await page(checkout, base)).toMatchObject({ code: 1, stderr: '' });
    });

    it('what it brings along stays text', async () => {
      const { checkout, base, drawing } = await drawn();
      const bad = '"><img src=x onerror=alert(1)><script>alert(2)</script>';
      const made = JSON.parse(readFileSync(drawing, 'utf8'));
      for (const { drawing: one } of made.jobs) {
        if (one.section) one.section.action = one.section.material = one.section.lenses[0].id = bad;
        for (const cut of one.cuts) cut.recipe = cut.file = bad;
      }
      writeFileSync(drawing, JSON.stringify(made));
      const { stdout, stderr } = await page(checkout, base);
      expect([stderr, headings(stdout)]).toEqual(['', BOTH]);
      // Not held against the page itself: a failed test would print all of it.
      expect(['&lt;img src=x', '<img', '<script>alert'].map((text) => stdout.includes(text))).toEqual([
        true,
        false,
        false,
      ]);
    });

    it('a stranger’s drawing is not shown: it has to lie inside the shop, by its path without links', async () => {
      const shop = folder({ 'shed-60w.machine.yaml': MACHINE });
      const checkout = demo();
      mkdirSync(join(checkout, '.git'));
      const [base, drawing] = ['base.json', 'base.drawing.json'].map((name) => join(shop, name)) as [string, string];
      const trusted = ['--shop', shop, '--untrusted'];
      const made = ['--format', `json=${join(checkout, 'made.json')}`, '--format', `drawing=${drawing}`];
      await kerflint(checkout, ['check', '.', ...DAY, ...trusted, ...made]);
      renameSync(join(checkout, 'made.json'), base);
      spoil(checkout);
      expect(headings((await page(checkout, base, ...trusted)).stdout)).toEqual(BOTH);
      renameSync(drawing, join(checkout, 'base.drawing.json'));
      symlinkSync(join(checkout, 'base.drawing.json'), drawing);
      const told = await page(checkout, base, ...trusted);
      expect([told.code, headings(told.stdout)]).toEqual([1, []]);
      expect(told.stderr).toContain('does not lie inside --shop: its pictures are left out');
    });
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
