import { existsSync, mkdirSync, readFileSync, realpathSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { PassThrough } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { schemasFrom } from '../../src/cli/files/schema-reference.ts';
import { main } from '../../src/cli/main.ts';
import { readMachine } from '../../src/job/machine/machine.ts';
import { textSource } from '../../src/source/source.ts';
import { demo, folder, kerflint } from './harness.ts';

const FACTS = ['--source', 'co2', '--rated', '40 W', '--lens', '2 in', '--bed', '500 x 300 mm'];
const WHOLE = ['init', '--machine', 'bench-40w', ...FACTS];
const PROFILE = 'machines/bench-40w.machine.yaml';

const text = (cwd: string, file: string) => readFileSync(join(cwd, file), 'utf8');
const profileIn = (cwd: string, file = PROFILE) => readMachine(textSource(file, text(cwd, file)), 'shop');

/** The title of the schema that the first line of a file leads an editor to: relative to the file, or an address. */
function schemaOf(file: string): string {
  const [, reference = ''] = /^# yaml-language-server: \$schema=(\S+)$/m.exec(readFileSync(file, 'utf8')) ?? [];
  const path = reference.startsWith('file:') ? fileURLToPath(reference) : resolve(dirname(file), reference);
  return JSON.parse(readFileSync(path, 'utf8')).title;
}

describe('init without a file', () => {
  it('writes a profile, settings and folders that survive a clone, and a check finds them', async () => {
    const cwd = folder();
    const told = await kerflint(cwd, [...WHOLE, '--power-word', 'S 1000']);
    expect(told).toMatchObject({ code: 0, stdout: '' });
    expect(told.stderr).toMatch(`wrote ${PROFILE}, .kerflint.yaml and materials/README.md.`);
    expect(profileIn(cwd)).toMatchObject({
      problems: [],
      value: { id: 'bench-40w', lenses: [{ id: '2in' }], controller: { power: { word: 'S', full: 1000 } } },
    });
    expect((await kerflint(cwd, ['config'])).stdout).toMatch(/^machines of the shop +bench-40w /m);
    expect((await kerflint(cwd, ['reach', '--thickness', '3 mm', '--material', 'birch-plywood'])).code).toBe(0);
  });

  it('takes several lenses, and prints instead of writing', async () => {
    const cwd = folder();
    const told = await kerflint(cwd, [...WHOLE, '--lens', '4 in', '--stdout']);
    expect(told.code).toBe(0);
    const { value } = readMachine(textSource('bench-40w.machine.yaml', told.stdout), 'shop');
    expect(value?.lenses.map(({ id }) => id)).toEqual(['2in', '4in']);
    expect(existsSync(join(cwd, 'machines'))).toBe(false);
  });

  it('never writes over a profile, and then nothing at all', async () => {
    const cwd = folder({ [PROFILE]: 'mine' });
    const told = await kerflint(cwd, WHOLE);
    expect(told.code).toBe(2);
    expect(told.stderr).toMatch(`${PROFILE} is there already`);
    expect(text(cwd, PROFILE)).toBe('mine');
    expect([existsSync(join(cwd, '.kerflint.yaml')), existsSync(join(cwd, 'materials'))]).toEqual([false, false]);
  });

  it('sees the machine where the shop has it in another of its folders', async () => {
    const cwd = folder({
      '.kerflint.yaml': 'kerflint: 1\nmachines: [machines, old]\n',
      'old/bench-40w.machine.yaml': 'mine',
    });
    mkdirSync(join(cwd, 'machines'));
    const told = await kerflint(cwd, WHOLE);
    expect([told.code, existsSync(join(cwd, PROFILE))]).toEqual([2, false]);
    expect(told.stderr).toMatch('old/bench-40w.machine.yaml is there already');
  });

  it('keeps to the settings that hold here, also from a folder below, and mends folders that a clone lost', async () => {
    const settings = 'kerflint: 1\nmachines: [shop/lasers]\nmaterials: [shop/sheets]\n';
    const cwd = folder({ '.kerflint.yaml': settings, 'signs/note.txt': '' });
    const told = await kerflint(join(cwd, 'signs'), WHOLE);
    expect(told.code).toBe(0);
    expect(profileIn(cwd, 'shop/lasers/bench-40w.machine.yaml').problems).toEqual([]);
    expect(text(cwd, 'shop/sheets/README.md')).toMatch(/^# Materials of this shop/);
    expect(text(cwd, '.kerflint.yaml')).toBe(settings);
    expect((await kerflint(join(cwd, 'signs'), ['config'])).stdout).toMatch(/^machines of the shop +bench-40w /m);
  });

  it('says so where the settings hide the profile', async () => {
    const cwd = folder({ '.kerflint.yaml': 'kerflint: 1\n' });
    const told = await kerflint(cwd, WHOLE);
    expect(told.code).toBe(0);
    expect(told.stderr).toMatch(/names no folder of machines: add "machines: \[machines\]"/);
  });

  it('writes into the folder of --shop, which need not be there', async () => {
    const cwd = folder();
    const told = await kerflint(cwd, [...WHOLE, '--shop', 'our shop']);
    expect(told.code).toBe(0);
    expect(profileIn(cwd, `our shop/${PROFILE}`).problems).toEqual([]);
    const argv = ['reach', '--machine', 'bench-40w', '--shop', 'our shop', '--material', 'birch-plywood'];
    expect((await kerflint(cwd, argv)).code).toBe(0);
  });

  it('lists all that is missing and all that is wrong, each with an example', async () => {
    const cwd = folder();
    const none = await kerflint(cwd, ['init']);
    expect(none.code).toBe(2);
    for (const option of [
      '--machine bench-40w',
      '--source co2',
      '--rated "40 W"',
      '--lens "2 in"',
      '--bed "500 x 300 mm"',
    ])
      expect(none.stderr).toContain(`is missing; for instance ${option}`);
    const some = await kerflint(cwd, ['init', '--machine', 'a b', '--rated', '40', '--lens', '2 in']);
    expect(some.code).toBe(2);
    expect(some.stderr).toMatch(/--machine <id>: "a b" is not an id.*\n.*did you mean 40 W\?.*\n.*--source.*\n.*--bed/);
    expect(existsSync(join(cwd, 'machines'))).toBe(false);
  });

  it('writes nothing that would not be read', async () => {
    const cwd = folder();
    const told = await kerflint(cwd, ['init', '--machine', 'x', ...FACTS.slice(0, 3), '400 kW', ...FACTS.slice(4)]);
    expect([told.code, existsSync(join(cwd, 'machines'))]).toEqual([2, false]);
    expect(told.stderr).toMatch(/more than 100 kW/);
  });

  it.each([
    ['a sheet without a file', [...WHOLE, '--material', 'card'], /--material belongs to a sidecar/],
    ['a power with a file', ['init', 'gate-sign.svg', '--rated', '40 W'], /--rated belongs to the profile/],
    [
      'a power word with a file',
      ['init', 'gate-sign.svg', '--power-word', 'S 1'],
      /--power-word belongs to the profile/,
    ],
    ['two lenses with a file', ['init', 'gate-sign.svg', '--lens', 'a', '--lens', 'b'], /--lens is given twice/],
  ])('ends with 2 for %s', async (_, argv, problem) => {
    const told = await kerflint(demo(), argv);
    expect(told.code).toBe(2);
    expect(told.stderr).toMatch(problem);
  });
});

describe('the schema that an editor is led to', () => {
  it('is there, for every file that init and the bench write', async () => {
    const cwd = folder({ 'label.svg': '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"/>' });
    await kerflint(cwd, WHOLE);
    await kerflint(cwd, ['init', 'label.svg']);
    const coupon = [
      'coupon',
      '--machine',
      'bench-60w',
      '--material',
      'birch-plywood',
      '--thickness',
      '3 mm',
      '--out',
      'a/b',
      '--name',
      'c',
    ];
    await kerflint(cwd, coupon);
    expect(schemaOf(join(cwd, PROFILE))).toBe('kerflint machine');
    expect(schemaOf(join(cwd, '.kerflint.yaml'))).toBe('kerflint settings');
    expect(schemaOf(join(cwd, 'label.job.yaml'))).toBe('kerflint job');
    expect(schemaOf(join(cwd, 'a/b/c.job.yaml'))).toBe('kerflint job');
    expect(schemaOf(join(cwd, 'a/b/c.results.yaml'))).toBe('kerflint test results');
  });

  it('is there behind a link to a folder elsewhere', async () => {
    const cwd = folder({ 'deep/er/shop/x.txt': '' });
    symlinkSync(join(cwd, 'deep/er/shop'), join(cwd, 'shop'));
    await kerflint(cwd, [...WHOLE, '--shop', 'shop']);
    expect(schemaOf(join(cwd, 'deep/er/shop', PROFILE))).toBe('kerflint machine');
  });
});

describe('the folder of the schemas', () => {
  it.each(['packages/kerflint', 'my packages/kerflint', 'päckchen/#1/100%'])(
    'in %s is found from a folder that is not there yet',
    (place) => {
      const home = realpathSync(folder({ [`${place}/job.schema.json`]: '{"title": "kerflint job"}' }));
      const reference = schemasFrom(join(home, 'shop/new/machines'), join(home, place));
      expect(reference).not.toMatch(/\s/);
      const file = join(home, 'shop.yaml');
      writeFileSync(file, `# yaml-language-server: $schema=${schemasFrom(home, join(home, place))}/job.schema.json\n`);
      expect(schemaOf(file)).toBe('kerflint job');
    },
  );
});

describe('on a terminal', () => {
  /** A person who answers question after question. @param answers each with the key that ends it */
  async function answering(cwd: string, argv: string[], answers: string[]) {
    const told = { stdout: '', stderr: '' };
    const stdin = Object.assign(new PassThrough(), { isTTY: true, setRawMode: () => undefined });
    const stderr = Object.assign(new PassThrough(), { isTTY: true, columns: 100, rows: 30 });
    const left = [...answers];
    let waiting = false;
    stderr.on('data', (chunk: Buffer) => {
      told.stderr += chunk;
      // Each question, and each answer that is not taken, ends in a new drawing of the prompt.
      if (waiting || left.length === 0) return;
      waiting = true;
      setImmediate(() => {
        waiting = false;
        stdin.write(left.shift() ?? '');
      });
    });
    const stdout = { write: (some: string) => (told.stdout += some) };
    const code = await main({ argv, cwd, env: {}, stdin, stdout, stderr });
    return { code, ...told };
  }

  it('asks for what is missing and for the power word', async () => {
    const cwd = folder();
    const told = await answering(
      cwd,
      ['init', '--machine', 'bench-40w', '--rated', '40 W', '--lens', '2 in'],
      ['co2', '\r', '500 x 300 mm', '\r', 'S 1000', '\r'],
    );
    expect(told.stderr).toMatch(/What kind of source/);
    expect(told.code).toBe(0);
    expect(profileIn(cwd)).toMatchObject({ value: { source: { kind: 'co2' }, controller: { power: { full: 1000 } } } });
  });

  it('asks again where an answer is none, and leaves the power word open', async () => {
    const cwd = folder();
    const told = await answering(
      cwd,
      ['init', '--machine', 'bench-40w', ...FACTS.slice(0, 6)],
      ['500 x 300', '\r', ' mm', '\r', '\r'],
    );
    expect(told.stderr).toMatch(/no unit: did you mean 500 x 300 mm/);
    expect(told.code).toBe(0);
    expect(profileIn(cwd)).toMatchObject({ value: { travel: { xMm: 500 }, controller: { power: null } } });
  });

  it('writes nothing when it is broken off', async () => {
    const cwd = folder();
    const told = await answering(cwd, ['init'], ['bench-40w', '\r', '\u0003']);
    expect([told.code, existsSync(join(cwd, 'machines'))]).toEqual([2, false]);
    expect(told.stderr).toMatch(/broken off: nothing was written/);
  });

  it('asks nothing for a machine that is there already', async () => {
    const told = await answering(folder({ [PROFILE]: 'mine' }), ['init', '--machine', 'bench-40w'], []);
    expect([told.code, told.stderr]).toEqual([2, expect.stringMatching(/^kerflint: \S+ is there already/)]);
  });

  it('asks nothing when all is said', async () => {
    const told = await answering(folder(), WHOLE, []);
    expect([told.code, /\?/.test(told.stderr)]).toEqual([0, false]);
  });
});
