import { copyFileSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { textSource } from '../../src/source/source.ts';
import { folder, kerflint, REPOSITORY } from './harness.ts';

const SHED = readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml'), 'utf8');
const BIRCH = readFileSync(join(REPOSITORY, 'data/materials/birch-plywood.material.yaml'), 'utf8');
const SVG = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">
<rect x="1" y="1" width="38" height="18" fill="none" stroke="#0b7285"/></svg>\n`;

/** The shed's machine and the catalogue's birch under other ids, so that only the files can be what was taken. */
const MACHINE = SHED.replace('id: shed-60w', 'id: attic');
const MATERIAL = BIRCH.replace('id: birch-plywood', 'id: attic-ply')
  .replace(/^name: .*$/m, 'name: Attic ply')
  .replace(/^aliases:.*\n(?: .*\n)*/m, '');

const attic = () =>
  folder({ 'attic/attic.machine.yaml': MACHINE, 'attic/attic-ply.material.yaml': MATERIAL, 'label.svg': SVG });
const FILES = ['--machine', 'attic/attic.machine.yaml', '--material', 'attic/attic-ply.material.yaml'];
const SHEET = ['--thickness', '3 mm'];

const jobOf = (stdout: string) => JSON.parse(stdout).jobs[0];

describe('--machine and --material as files', () => {
  it('serve a check of bare files, with and without a cache', async () => {
    const cwd = attic();
    writeFileSync(join(cwd, 'second.svg'), SVG);
    const cache = folder();
    const argv = ['check', 'label.svg', 'second.svg', ...FILES, ...SHEET, '--format', 'json'];
    const plain = await kerflint(cwd, argv);
    expect(jobOf(plain.stdout)).toMatchObject({ machine: 'attic', material: 'attic-ply' });
    expect(plain.code).toBe(0);
    expect(await kerflint(cwd, [...argv, '--cache', cache])).toEqual(plain);
    expect(await kerflint(cwd, [...argv, '--cache', cache])).toEqual(plain);
    // A file that changed is another machine, whatever the cache holds.
    writeFileSync(join(cwd, 'attic/attic.machine.yaml'), MACHINE.replace('measured: 54 W', 'measured: 9 W'));
    const weaker = await kerflint(cwd, [...argv, '--cache', cache]);
    expect(weaker.stdout).not.toBe(plain.stdout);
    expect(weaker).toEqual(await kerflint(cwd, argv));
  });

  it.each([
    ['reach', []],
    ['evidence', SHEET],
    ['coupon', [...SHEET, '--name', 'c', '--out', 'out']],
    ['ramp', [...SHEET, '--name', 'r', '--out', 'out']],
  ])('serve %s', async (command, more) => {
    const told = await kerflint(attic(), [command, ...FILES, ...more]);
    expect([told.code, told.stderr]).toEqual([0, '']);
  });

  it('go before what the shop has under that id', async () => {
    const cwd = attic();
    mkdirSync(join(cwd, 'machines'));
    writeFileSync(join(cwd, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\n');
    writeFileSync(
      join(cwd, 'machines/attic.machine.yaml'),
      MACHINE.replace('rated: 60 W', 'rated: 5 W').replace('measured: 54 W', 'measured: 4 W'),
    );
    const argv = ['check', 'label.svg', ...SHEET, '--material', 'birch-plywood', '--format', 'json', '--machine'];
    const named = jobOf((await kerflint(cwd, [...argv, './attic/attic.machine.yaml'])).stdout);
    const byId = jobOf((await kerflint(cwd, [...argv, 'attic'])).stdout);
    expect(byId.machine).toBe(named.machine);
    expect(byId.findings).not.toEqual(named.findings);
  });

  it('are known by the id in their name, or refused', async () => {
    const cwd = attic();
    copyFileSync(join(cwd, 'attic/attic.machine.yaml'), join(cwd, 'plain.yaml'));
    const plain = await kerflint(cwd, ['reach', '--machine', 'plain.yaml']);
    expect(plain.code).toBe(2);
    expect(plain.stderr).toMatch(/--machine plain\.yaml is no \*\.machine\.yaml/);
    copyFileSync(join(cwd, 'attic/attic.machine.yaml'), join(cwd, 'other.machine.yaml'));
    const other = await kerflint(cwd, ['reach', '--machine', 'other.machine.yaml']);
    expect(other.code).toBe(2);
    expect(other.stderr).toMatch(/other\.machine\.yaml:\d+:\d+: the id is "attic"/);
    const none = await kerflint(cwd, [
      'check',
      'label.svg',
      '--machine',
      'no/such.machine.yaml',
      '--material',
      'x.yml',
    ]);
    expect(none.code).toBe(2);
    expect(none.stderr).toMatch(/such\.machine\.yaml is no file[\s\S]*--material x\.yml is no file/);
  });

  it('are written into a sidecar so that its check finds them', async () => {
    const cwd = attic();
    const outside = await kerflint(cwd, ['init', 'label.svg', ...FILES, '--stdout']);
    expect(outside.code).toBe(2);
    expect(outside.stderr).toMatch(/attic-ply\.material\.yaml lies where a check of the sidecar does not look/);
    writeFileSync(join(cwd, '.kerflint.yaml'), 'kerflint: 1\nmaterials: [attic]\n');
    const { stdout } = await kerflint(cwd, ['init', 'label.svg', ...FILES, ...SHEET, '--stdout']);
    const { value } = readSidecar(textSource('label.job.yaml', stdout));
    expect(value).toMatchObject({ machine: 'attic/attic.machine.yaml', material: 'attic-ply', lens: '2in' });
    writeFileSync(join(cwd, 'label.job.yaml'), stdout);
    const told = await kerflint(cwd, ['check', 'label.job.yaml', '--format', 'json']);
    expect(jobOf(told.stdout)).toMatchObject({ machine: 'attic', material: 'attic-ply' });
  });
});

describe('under --untrusted', () => {
  const argv = (...named: string[]) => ['check', 'label.svg', '--untrusted', ...SHEET, ...named, '--format', 'json'];

  it('files count only from inside --shop', async () => {
    const cwd = attic();
    const without = await kerflint(cwd, argv(...FILES));
    expect(without.code).toBe(2);
    expect(without.stderr).toMatch(
      /attic\.machine\.yaml does not lie inside --shop[\s\S]*attic-ply\.material\.yaml does not/,
    );
    const shop = folder({ 'attic.machine.yaml': MACHINE, 'attic-ply.material.yaml': MATERIAL });
    const beside = await kerflint(cwd, [...argv(...FILES), '--shop', shop]);
    expect(beside.code).toBe(2);
    const inside = ['--machine', join(shop, 'attic.machine.yaml'), '--material', join(shop, 'attic-ply.material.yaml')];
    const told = await kerflint(cwd, [...argv(...inside), '--shop', shop]);
    expect([told.code, jobOf(told.stdout).machine]).toEqual([0, 'attic']);
  });

  it('a link out of the shop, and a way around it, are outside', async () => {
    const cwd = attic();
    const shop = folder({ 'sub/x.txt': '' });
    symlinkSync(join(cwd, 'attic/attic.machine.yaml'), join(shop, 'attic.machine.yaml'));
    const around = join(shop, 'sub/../../', cwd.split('/').at(-1)!, 'attic/attic.machine.yaml');
    for (const file of [join(shop, 'attic.machine.yaml'), around]) {
      const told = await kerflint(cwd, [...argv('--machine', file, '--material', 'card'), '--shop', shop]);
      expect(told.code).toBe(2);
      expect(told.stderr).toMatch(/does not lie inside --shop/);
    }
  });
});

describe('what is wrong with machine and material', () => {
  it('is told at once, with what there is and where it was looked for', async () => {
    const cwd = attic();
    writeFileSync(join(cwd, '.kerflint.yaml'), 'kerflint: 1\nmachines: [attic]\nmaterials: [attic]\n');
    const told = await kerflint(cwd, ['coupon', '--machine', 'atic', '--material', 'birch-plywod', '--thickness', '3']);
    expect(told.code).toBe(2);
    expect(told.stderr).toMatch(/there is no machine "atic"\. Did you mean attic\?/);
    expect(told.stderr).toMatch(/^ {2}the shop \(in attic\): attic$/m);
    expect(told.stderr).toMatch(/^ {2}the catalogue: .*bench-60w/m);
    expect(told.stderr).toMatch(/there is no material "birch-plywod"\. Did you mean birch-plywood\?/);
    expect(told.stderr).toMatch(/^ {2}the shop \(in attic\), usual: attic-ply$/m);
    expect(told.stderr).toMatch(/^ {2}the catalogue, never cut: .*\bpvc\b/m);
    expect(told.stderr).toMatch(/^ {2}the catalogue, usual: (?!.*\bpvc\b)/m);
    expect(told.stderr).toMatch(/did you mean 3 mm\?/);
  });

  it.each([
    ['no shop', {}, [], /the shop \(which nobody names: no --shop, and no \.kerflint\.yaml here or above\): none/],
    ['a folder', {}, ['--shop', '.'], /the shop \(in \. and below\): none/],
    [
      'settings without folders',
      { '.kerflint.yaml': 'kerflint: 1\n' },
      [],
      /\.kerflint\.yaml names no folder of machines\): none/,
    ],
  ])('says where it was looked for: %s', async (_, files, more, where) => {
    const told = await kerflint(folder(files), ['reach', '--machine', 'x', ...more]);
    expect(told.code).toBe(2);
    expect(told.stderr).toMatch(where);
  });

  it('is told of every file, each with what usually stands there', async () => {
    const cwd = folder({
      '.kerflint.yaml': 'kerflint: 1\nmachines: [m]\nmaterials: [m]\n',
      'm/a.machine.yaml': MACHINE.replace('id: attic', 'id: a')
        .replace(/^ {2}rated:.*\n/m, '')
        .replace('kind: co2', 'kind: tube'),
      'm/b.machine.yaml': MACHINE.replace('id: attic', 'id: b').replace('x: 600 mm', 'x: 600'),
      'm/c.material.yaml': MATERIAL.replace('id: attic-ply', 'id: c').replace(/^density:(?:.*\n(?: .*\n)*)/m, ''),
      'label.svg': SVG,
    });
    for (const argv of [['check', 'label.svg'], ['reach'], ['config']]) {
      const told = await kerflint(cwd, argv);
      expect(told.code).toBe(2);
      expect(told.stderr).toMatch(/m\/a\.machine\.yaml:\d+:\d+: source, kind: "tube" is not one of co2, diode, fibre/);
      expect(told.stderr).toMatch(/m\/a\.machine\.yaml:\d+:\d+: source, rated is missing \(such as 48 W\)/);
      expect(told.stderr).toMatch(/m\/b\.machine\.yaml:\d+:\d+: travel, x: .*did you mean 600 mm\?/);
      expect(told.stderr).toMatch(/m\/c\.material\.yaml:\d+:\d+: density is missing/);
    }
  });
});
