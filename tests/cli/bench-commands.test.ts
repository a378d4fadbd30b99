import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { CAUTION } from '../../src/findings/caution.ts';
import { wordsOfHtml } from '../markdown-reader.ts';
import { demo, folder, kerflint, type Told } from './harness.ts';

const SHEET = ['--material', 'birch-plywood', '--thickness', '4.0 mm ± 0.1 mm'];
const read = (...parts: string[]) => readFileSync(join(...parts), 'utf8');

/** Fills in a results sheet: the first so many tongues parted. */
function fillIn(path: string, parted: number): void {
  const text = readFileSync(path, 'utf8').replace(/tongue: (\d+),(.*)through: \}/g, (_, tongue, rest) => {
    return `tongue: ${tongue},${rest}through: ${Number(tongue) <= parted ? 'yes' : 'no'} }`;
  });
  writeFileSync(path, text);
}

/** The program as at a terminal where a person answers. */
async function atTerminal(cwd: string, argv: readonly string[], answers: string): Promise<Told> {
  const told = { stdout: '', stderr: '' };
  const code = await main({
    argv,
    cwd,
    env: {},
    stdin: Object.assign([answers], { isTTY: true }),
    stdout: { write: (text) => (told.stdout += text) },
    stderr: { write: (text) => (told.stderr += text) },
  });
  return { code, ...told };
}

describe('the bench loop', () => {
  it('goes round: a test piece, the check, the calibration, and a check that rests on it', async () => {
    const shop = demo();
    writeFileSync(join(shop, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\n');
    const written = await kerflint(shop, ['coupon', ...SHEET, '--name', 'comb', '--out', 'tests']);
    expect(written).toMatchObject({ code: 0, stderr: '' });
    expect(readdirSync(join(shop, 'tests')).sort()).toEqual([
      'comb.gcode',
      'comb.job.yaml',
      'comb.results.yaml',
      'comb.svg',
    ]);
    expect(written.stdout).toMatch(/^1\. Birch plywood under the beam: .*\n2\. Lay a flat scrap/m);
    expect((await kerflint(shop, ['check', 'tests/comb.job.yaml'])).code).toBe(0);

    fillIn(join(shop, 'tests/comb.results.yaml'), 7);
    const printed = await kerflint(shop, ['calibrate', 'tests/comb.results.yaml']);
    expect(printed.code).toBe(0);
    expect(printed.stdout).toMatch(/^machine: shed-60w$/m);
    expect(printed.stderr).toMatch(/12 coupons:/);
    expect(existsSync(join(shop, 'machines/shed-60w.bench.yaml'))).toBe(false);

    const kept = await kerflint(shop, ['calibrate', 'tests/comb.results.yaml', '--write']);
    expect(kept.code).toBe(0);
    expect(read(shop, 'machines/shed-60w.bench.yaml')).toBe(printed.stdout);
    const checked = await kerflint(shop, ['check', 'seed-tray-divider.job.yaml', '--format', 'json']);
    const { basis } = JSON.parse(checked.stdout).jobs[0].cuts.find((cut: { aim: string }) => cut.aim === 'through');
    expect(basis).toBe('calibrated, 12 coupons');
  });

  it('writes a focus ramp, driven or tilted', async () => {
    const shop = demo();
    expect((await kerflint(shop, ['ramp', ...SHEET])).stdout).toMatch(/wrote ramp-birch-plywood-2in\.gcode/);
    expect(read(shop, 'ramp-birch-plywood-2in.gcode')).toMatch(/Z-\d/);
    await kerflint(shop, ['ramp', ...SHEET, '--tilted', '--overwrite']);
    expect(read(shop, 'ramp-birch-plywood-2in.gcode')).not.toMatch(/Z-\d/);
    expect((await kerflint(shop, ['check', 'ramp-birch-plywood-2in.job.yaml'])).code).toBe(0);
  });

  it('adds to the bench file where the shop keeps it, a ramp as well: then coupons are weighed anew, and it says so', async () => {
    const shop = demo();
    const own = join(shop, 'more', 'shed-60w.bench.yaml');
    mkdirSync(join(shop, 'more'));
    writeFileSync(own, '# of the shed\nkerflint: 1\nmachine: shed-60w\n');
    writeFileSync(join(shop, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines, more]\n');
    await kerflint(shop, ['coupon', ...SHEET, '--name', 'comb']);
    fillIn(join(shop, 'comb.results.yaml'), 6);
    expect((await kerflint(shop, ['calibrate', 'comb.results.yaml', '--write'])).code).toBe(0);
    expect(read(own)).toMatch(/^# of the shed$/m);
    expect(read(own).match(/material: birch-plywood/g)).toHaveLength(12);
    await kerflint(shop, ['ramp', ...SHEET, '--name', 'ramp']);
    const sheet = join(shop, 'ramp.results.yaml');
    writeFileSync(
      sheet,
      read(sheet)
        .replace(/from:.*/, 'from: 55 mm')
        .replace(/to:.*/, 'to: 65 mm'),
    );
    const told = await kerflint(shop, ['calibrate', 'ramp.results.yaml', '--write']);
    expect(told.stdout).toMatch(/^The 12 coupons of birch plywood under this lens were weighed anew: before, /m);
    expect(read(own).match(/offset: -?[\d.]+ mm/g)).toHaveLength(1);
    expect(existsSync(join(shop, 'machines/shed-60w.bench.yaml'))).toBe(false);
  });

  it('never writes over a file unless told to', async () => {
    const shop = demo();
    await kerflint(shop, ['coupon', ...SHEET, '--name', 'comb']);
    fillIn(join(shop, 'comb.results.yaml'), 5);
    const before = read(shop, 'comb.results.yaml');
    const again = await kerflint(shop, ['coupon', ...SHEET, '--name', 'comb']);
    expect(again).toMatchObject({ code: 2, stdout: '' });
    expect(again.stderr).toMatch(/is there already/);
    expect(read(shop, 'comb.results.yaml')).toBe(before);
  });
});

describe('kerflint reach', () => {
  it('prints a table, and writes JSON and a picture of the same', async () => {
    const shop = demo();
    const told = await kerflint(shop, [
      'reach',
      '--material',
      'mdf',
      '--format',
      'text',
      '--format',
      'json=r.json',
      '--format',
      'svg=r.svg',
    ]);
    expect(told).toMatchObject({ code: 0, stderr: '' });
    expect(told.stdout).toMatch(/^MDF on shed-60w/);
    expect(JSON.parse(read(shop, 'r.json'))).toMatchObject({ machine: 'shed-60w', material: 'MDF', passes: 1 });
    expect(read(shop, 'r.svg')).toMatch(/^<svg .*MDF on shed-60w/s);
  });

  it('answers for the very sheet that is asked about', async () => {
    const told = await kerflint(demo(), ['reach', '--material', 'poplar-plywood', '--thickness', '1/4 in']);
    expect(told.stdout).toMatch(/^6\.35 mm {2}(?:2in|1\.5in|4in) +/m);
    expect((await kerflint(demo(), ['reach', '--thickness', '6 mm'])).stderr).toMatch(
      /says nothing without a material/,
    );
  });

  it('lists all materials when none is named', async () => {
    const told = await kerflint(demo(), ['reach', '--passes', '2']);
    expect(told.code).toBe(0);
    expect(told.stdout).toMatch(/^birch plywood +usual +\d/m);
    expect(told.stdout).not.toMatch(/^PVC/m);
  });
});

describe('kerflint evidence', () => {
  it('lists what others published near a recipe, with what is predicted of it', async () => {
    const shop = demo();
    const told = await kerflint(shop, [
      'evidence',
      ...['--material', 'birch-plywood', '--thickness', '3 mm', '--machine', 'shed-60w'],
      ...['--speed', '38 mm/s', '--format', 'text', '--format', 'json=e.json'],
    ]);
    expect(told).toMatchObject({ code: 0, stderr: '' });
    expect(told.stdout).toMatch(/^Predicted on shed-60w, 2in lens, 1 pass at 44\.8 W, 38 mm\/s/m);
    expect(told.stdout).toMatch(/^3 mm +50 % of 60 W +20 mm\/s +1 +parted +daily setting .*swindon-makerspace r024$/m);
    const { asked, cuts } = JSON.parse(read(shop, 'e.json'));
    expect(asked).toEqual({
      kind: 'co2',
      material: 'birch-plywood',
      thicknessMm: 3,
      powerW: 44.75,
      speedMmPerS: 38,
      passes: null,
    });
    for (const { citation, throughProbability } of cuts) {
      expect(citation).not.toBe('');
      expect(throughProbability).toBeGreaterThan(0);
    }
  });

  it('asks for no shop and no machine', async () => {
    const told = await kerflint(folder(), ['evidence', '--power', '30 W']);
    expect(told).toMatchObject({ code: 0, stderr: '' });
    expect(told.stdout).toMatch(/^Cuts that others published near 30 W at the work\n/);
    const { stdout } = await kerflint(folder(), ['evidence']);
    expect(stdout).toMatch(/^xythobuz: /m);
  });
});

describe('kerflint diagnose', () => {
  it('ranks causes, and asks nothing where no terminal is', async () => {
    const told = await kerflint(demo(), ['diagnose', 'gate-sign.job.yaml', '--depth', '3 mm', '--where', 'patches']);
    expect(told).toMatchObject({ code: 0, stderr: '' });
    expect(told.stdout).toMatch(/^First \(\d+ min\): /);
    expect(told.stdout).toMatch(/cheap and likely first .*:\n +\d+ % /);
  });

  it('asks a person at a terminal for what was left out, and again for an answer that is none', async () => {
    const told = await atTerminal(
      demo(),
      ['diagnose', 'gate-sign.job.yaml', '--where', 'patches'],
      '3\n3 mm\n\nthis-shet\nthis-sheet\n\n',
    );
    expect(told.code).toBe(0);
    expect(told.stderr).toMatch(/did you mean 3 mm\?/);
    expect(told.stderr).not.toMatch(/Where did it fail/);
    expect(told.stderr).toMatch(/Answer always, gradually, suddenly, this-sheet/);
    expect(told.stdout.replaceAll('\n', ' ')).toMatch(/seen: 3\.0 mm deep, patches, only in this sheet\./);
  });

  it('gives JSON', async () => {
    const told = await kerflint(demo(), ['diagnose', 'gate-sign.job.yaml', '--depth', '3 mm', '--json']);
    const { causes, seen } = JSON.parse(told.stdout);
    expect(seen.depthMm).toBe(3);
    expect(causes[0].share).toBeGreaterThan(0);
  });
});

describe('the caution', () => {
  it.each<[string, string[]]>([
    ['the table of reach', ['reach', '--material', 'birch-plywood']],
    ['the list of all materials', ['reach']],
    ['the list of published cuts', ['evidence', '--material', 'birch-plywood']],
    ['what to do with a test piece', ['coupon', ...SHEET]],
    ['what to do with a focus ramp', ['ramp', ...SHEET]],
    ['a diagnosis', ['diagnose', 'gate-sign.job.yaml', '--depth', '3 mm']],
  ])('closes %s', async (_, argv) => {
    const told = await kerflint(demo(), argv);
    expect(told.code).toBe(0);
    expect(told.stdout.trimEnd().split('\n').at(-1)).toBe(CAUTION);
  });

  it('stands last on the wall chart, on its page, with and without a word on the material', async () => {
    const shop = demo();
    for (const material of ['birch-plywood', 'foam-core-board']) {
      await kerflint(shop, ['reach', '--material', material, '--format', 'svg=chart.svg']);
      const texts = [...read(shop, 'chart.svg').matchAll(/<text x="[\d.]+" y="([\d.]+)"[^>]*>([^<]*)</g)];
      const [, y, words] = texts.at(-1)!;
      expect(words!.replaceAll('&#39;', "'")).toBe(CAUTION);
      expect(Number(y)).toBeLessThan(210 - 5);
      expect(texts.some(([, , text]) => text!.startsWith('Reconsider'))).toBe(material === 'foam-core-board');
    }
  });

  it('stands on each set-up card', async () => {
    const { stdout } = await kerflint(demo(), ['check', '.', '--format', 'html']);
    const cards = stdout.split('<section class="card"').slice(1);
    expect(cards).toHaveLength(4);
    for (const card of cards) expect(wordsOfHtml(card.slice(0, card.indexOf('</section>')))).toContain(CAUTION);
  });
});

describe('the bench commands end with 2 and a way out', () => {
  it.each<[string, string[], RegExp]>([
    ['an unknown machine', ['reach', '--machine', 'shed-60'], /no machine "shed-60".*Did you mean shed-60w/],
    [
      'an unknown material',
      ['coupon', '--material', 'birch-plywod', '--thickness', '4 mm'],
      /Did you mean birch-plywood/,
    ],
    [
      'a word for several materials',
      ['reach', '--material', 'plywood'],
      /does not say which plywood.*poplar-plywood \(/,
    ],
    ['a name like a hazardous one', ['evidence', '--material', 'pvc tarp'], /PVC must not be laser-cut: gives off/],
    [
      'an unknown lens',
      ['coupon', ...SHEET, '--lens', '3in'],
      /shed-60w has no lens "3in"[\s\S]*It has 2in, 1.5in, 4in/,
    ],
    ['no material', ['coupon', '--thickness', '4 mm'], /no material is named/],
    ['no thickness', ['coupon', '--material', 'mdf'], /no thickness is given/],
    ['a thickness of 0', ['coupon', '--material', 'mdf', '--thickness', '0 mm'], /must be above 0/],
    ['a thickness without a unit', ['ramp', '--material', 'mdf', '--thickness', '4'], /did you mean 4 mm/],
    ['too many tongues', ['coupon', ...SHEET, '--tongues', '999'], /4 to 60 tongues, not 999/],
    ['a sheet out of reach', ['coupon', '--material', 'cast-acrylic', '--thickness', '25 mm'], /out of reach/],
    ['PVC', ['coupon', '--material', 'pvc', '--thickness', '3 mm'], /never cut/],
    ['a name that is a path', ['coupon', ...SHEET, '--name', '../comb'], /is no name for files/],
    ['an unknown format', ['reach', '--format', 'sgv'], /did you mean svg/],
    ['a picture of everything', ['reach', '--format', 'svg'], /a picture is of one material/],
    [
      'two formats on stdout',
      ['reach', '--material', 'mdf', '--format', 'json', '--format', 'svg'],
      /cannot share stdout/,
    ],
    ['no power', ['reach', '--power', '0 %'], /not above 0/],
    ['no passes', ['reach', '--passes', '0'], /not a number from 1 to 100/],
    ['a share of no machine', ['evidence', '--power', '80 %'], /share of no machine's power/],
    ['a power without a unit', ['evidence', '--power', '80'], /did you mean 80 % or 80 W/],
    ['a power above full', ['evidence', '--machine', 'shed-60w', '--power', '180 %'], /at most 100 %/],
    ['a lens of no machine', ['evidence', '--lens', '2in'], /says nothing without a machine/],
    ['no speed', ['evidence', '--speed', '0 mm/s'], /not above 0/],
    [
      'a recipe for what is never cut',
      ['evidence', '--material', 'pvc', '--thickness', '3 mm', '--machine', 'shed-60w', '--speed', '9 mm/s'],
      /never cut/,
    ],
    ['results that do not exist', ['calibrate', 'none.results.yaml'], /does not exist/],
    ['a job that does not exist', ['diagnose', 'none.job.yaml'], /does not exist/],
    ['a folder in place of one job', ['diagnose', '.'], /is not one job/],
    ['a word that is none', ['diagnose', 'gate-sign.job.yaml', '--where', 'patchs'], /did you mean patches/],
    ['a depth without a unit', ['diagnose', 'gate-sign.job.yaml', '--depth', '3'], /did you mean 3 mm/],
    ['a depth that parted', ['diagnose', 'gate-sign.job.yaml', '--depth', '4 mm'], /then it parted/],
  ])('for %s', async (_, argv, message) => {
    const told = await kerflint(demo(), argv);
    expect(told).toMatchObject({ code: 2, stdout: '' });
    expect(told.stderr).toMatch(message);
    expect(told.stderr.trim().split('\n').length).toBeGreaterThan(1);
    expect(told.stderr).not.toMatch(/\n\s+at |NaN|undefined/);
  });

  it.each<[string, string, string, RegExp]>([
    ['M² below 1', 'm2: 1.2', 'm2: 0.8', /must be at least 1/],
    ['a spot of 0', 'standoff: 6 mm', 'standoff: 6 mm, spot: 0 mm', /must be above 0/],
    ['a beam of 0', 'diameter: 6 mm', 'diameter: 0 mm', /must be above 0/],
    ['no power', 'rated: 60 W', 'rated: 0 W', /must be above 0/],
    ['a power in the wrong unit', 'rated: 60 W', 'rated: 60 mm', /is a length where a power belongs/],
    [
      'a curve that falls',
      'measured: 54 W ',
      'curve: { 10 %: 8 W, 50 %: 30 W, 100 %: 20 W } ',
      /the curve falls at 100 %/,
    ],
  ])('for a profile with %s, and its place', async (_, from, to, message) => {
    const shop = demo();
    const path = join(shop, 'machines/shed-60w.machine.yaml');
    const text = read(path);
    expect(text).toContain(from);
    writeFileSync(path, text.replace(from, to));
    const line = text.slice(0, text.indexOf(from)).split('\n').length;
    for (const argv of [
      ['reach', '--material', 'mdf'],
      ['coupon', ...SHEET],
    ]) {
      const told = await kerflint(shop, argv);
      expect(told).toMatchObject({ code: 2, stdout: '' });
      expect(told.stderr).toMatch(`machines/shed-60w.machine.yaml:${line}:`);
      expect(told.stderr).toMatch(message);
    }
  });

  it('for a results sheet that is wrong, with the place of each fault', async () => {
    const shop = demo();
    await kerflint(shop, ['coupon', ...SHEET, '--name', 'comb', '--out', 'tests']);
    const path = join(shop, 'tests/comb.results.yaml');
    writeFileSync(path, read(path).replace('through:  }', 'through: perhaps }'));
    const told = await kerflint(shop, ['calibrate', 'tests/comb.results.yaml']);
    expect(told).toMatchObject({ code: 2, stdout: '' });
    expect(told.stderr).toMatch(/tests\/comb\.results\.yaml:\d+:\d+: .*write yes or no/);
  });

  it('where no shop has a folder for machines', async () => {
    const shop = folder();
    await kerflint(shop, ['coupon', ...SHEET, '--machine', 'bench-60w', '--name', 'comb']);
    fillIn(join(shop, 'comb.results.yaml'), 7);
    writeFileSync(join(shop, '.kerflint.yaml'), 'kerflint: 1\n');
    const told = await kerflint(shop, ['calibrate', 'comb.results.yaml', '--write']);
    expect(told).toMatchObject({ code: 2, stdout: '' });
    expect(told.stderr).toMatch(/no folder of the shop to write to/);
    expect(existsSync(join(shop, 'bench-60w.bench.yaml'))).toBe(false);
  });

  it('where there is no shop at all', async () => {
    expect((await kerflint(folder(), ['reach'])).stderr).toMatch(/no machine is named/);
  });
});
