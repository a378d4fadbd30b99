import { describe, expect, it } from 'vitest';
import { kindOfName } from '../../src/job/files/file-kind.ts';
import { createLibrary } from '../../src/job/files/library.ts';
import { collectShop } from '../../src/job/files/shop.ts';
import { readBench } from '../../src/job/machine/bench.ts';
import { READERS } from '../../src/readers.ts';
import { textSource } from '../../src/source/source.ts';
import { memoryAccess } from '../memory-access.ts';
import { BENCH, changed, example, exampleSource, MACHINE, MATERIAL } from './examples.ts';

describe('a bench file', () => {
  it('keeps ramps and coupons by lens, each with what it was cut on', () => {
    const { value, problems } = readBench(exampleSource(BENCH));
    expect(problems).toEqual([]);
    expect(value).toMatchObject({
      id: 'bench-60w',
      ramps: [
        { lens: '2in', offsetMm: -0.4, spreadMm: 0.2, date: '2026-09-01' },
        { lens: '4in', offsetMm: 0.3, spreadMm: 0.4, date: null },
        { lens: '2in', offsetMm: -0.2, spreadMm: 0.15, date: '2026-10-04' },
      ],
      coupons: [
        { machine: 'bench-60w', lens: '2in', material: 'acrylic-cast', through: true, depthMm: null, passes: 1 },
        { focusMm: -1, focusStepMm: -2, passes: 2, through: null, depthMm: 4.1, date: null },
      ],
    });
  });

  it.each<[string, string, string, string]>([
    ['another machine than its name', 'machine: bench-60w', 'machine: bench-80w', 'make them the same'],
    ['a coupon without a lens', 'acrylic-cast, lens: 2in,', 'acrylic-cast,', 'coupon 1, lens is missing'],
    ['a coupon that names a machine', 'acrylic-cast, lens', 'acrylic-cast, machine: x, lens', '"machine" is not known'],
    ['a coupon without an outcome', ', through: true', '', 'state either through'],
    ['a coupon deeper than its sheet', 'depth: 4.1 mm', 'depth: 6.5 mm', 'the depth is more than the thickness'],
    ['a ramp without its unit', 'offset: -0.4 mm', 'offset: -0.4', 'ramp 1, offset'],
    ['a spread below 0', 'spread: 0.2 mm', 'spread: -0.2 mm', 'must not be below 0'],
  ])('is refused with %s, at its place', (_, from, to, says) => {
    const { value, problems } = readBench(changed(BENCH, from, to));
    expect(value).toBeNull();
    expect(problems[0]!.args.text).toContain(says);
    expect(problems[0]!.place.file).toBe(BENCH);
  });
});

describe('what was measured on a machine', () => {
  const catalogue = [textSource(`data/${MATERIAL}`, example(MATERIAL))];
  const shopFile = (name: string, text = example(name)) => textSource(`shop/${name}`, text);
  const library = (bench: string | null, untrusted = false) =>
    createLibrary({
      catalogue,
      shop: [shopFile(MACHINE), ...(bench === null ? [] : [shopFile(BENCH, bench)])],
      untrusted,
    });

  it.each([false, true])('comes with the machine from the shop (untrusted: %s)', (untrusted) => {
    const { value, notes } = library(example(BENCH), untrusted).machine('bench-60w');
    expect(value!.bench).toMatchObject({ file: `shop/${BENCH}`, ramps: [{}, {}, {}] });
    expect(notes).toEqual([]);
    expect(library(null).machine('bench-60w').value!.bench).toBeNull();
  });

  it('does not come from beside a job, and a note says so', () => {
    const beside = [textSource(`job/${BENCH}`, example(BENCH))];
    for (const untrusted of [false, true]) {
      const { value, notes } = library(null, untrusted).machine('bench-60w', beside);
      expect(value!.bench).toBeNull();
      expect(notes.map(({ text, place }) => [text, place.file])).toEqual([
        [
          `job/${BENCH} lies beside the job and is not read: what was measured on bench-60w counts from the shop's folder alone`,
          `job/${BENCH}`,
        ],
      ]);
    }
    const own = library(example(BENCH)).machine('bench-60w', [shopFile(BENCH)]);
    expect([own.value!.bench!.file, own.notes]).toEqual([`shop/${BENCH}`, []]);
  });

  it('does not come with a profile that only stands beside a job', () => {
    const beside = [textSource(`job/${MACHINE}`, example(MACHINE))];
    const alone = createLibrary({ catalogue, shop: [shopFile(BENCH)], untrusted: false });
    expect(alone.machine('bench-60w', beside).value).toMatchObject({ rank: 'beside-job', bench: null });
  });

  it('stays with the machine when a profile beside the job tightens it', () => {
    const weak = textSource(`job/${MACHINE}`, example(MACHINE).replace('measured: 54 W', 'measured: 40 W'));
    const { value } = library(example(BENCH)).machine('bench-60w', [weak]);
    expect(value).toMatchObject({ source: { measuredW: 40 }, bench: { id: 'bench-60w' } });
  });

  it('names the rows of a lens that the profile does not have', () => {
    const { notes } = library(example(BENCH).replace('lens: 4in', 'lens: 7in')).machine('bench-60w');
    expect(notes.map(({ text }) => text)).toEqual([
      `shop/${BENCH} has 1 row of a lens that the profile of bench-60w does not have ("7in"): they do not count`,
    ]);
  });

  it.each<[string, string, string, string]>([
    ['a machine', 'machine: bench-60w', 'machine: bench-61w', 'there is no machine "bench-61w"'],
    ['a material', 'material: acrylic-cast', 'material: acrylic-casst', 'there is no material "acrylic-casst"'],
  ])('is configuration: %s that nobody knows ends a run', (_, from, to, says) => {
    const text = example(BENCH).replaceAll(from, to);
    const name = to.startsWith('machine') ? 'bench-61w.bench.yaml' : BENCH;
    const problems = createLibrary({
      catalogue,
      shop: [shopFile(MACHINE), shopFile(name, text)],
      untrusted: false,
    }).shopProblems();
    expect(problems).toHaveLength(1);
    expect(problems[0]!.args.text).toContain(says);
    expect(problems[0]!.args.text).toContain('did you mean');
  });

  it('is configuration: a file that cannot be read, or two of one machine, end a run', () => {
    expect(library('kerflint: 1\n').shopProblems()[0]!.args.text).toBe('machine is missing');
    const twice = createLibrary({
      catalogue,
      shop: [shopFile(MACHINE), shopFile(BENCH), textSource(`shop/more/${BENCH}`, example(BENCH))],
      untrusted: false,
    });
    expect(twice.shopProblems()[0]!.args.text).toContain('is claimed by');
    expect(library(example(BENCH)).shopProblems()).toEqual([]);
  });

  it('is told from a file whose name is not quite right', () => {
    const kind = (name: string) => kindOfName(READERS, name);
    expect(kind(BENCH)).toEqual({ is: 'profile' });
    expect(kind('bench-60w.Bench.yml')).toEqual({
      is: 'odd-profile',
      reason: "looks like a machine's bench file, whose name ends in .bench.yaml, and is not read: rename it",
    });
  });

  it('is read from the folders of machines that settings name, and from a whole shop folder', () => {
    const files = { [`m/${MACHINE}`]: 'x', [`m/${BENCH}`]: 'x', [`more/${BENCH}`]: 'x' };
    const named = collectShop(memoryAccess({ ...files, '.kerflint.yaml': 'kerflint: 1\nmachines: [m]\n' }), false);
    expect(named.sources.map(({ name }) => name)).toEqual([`m/${BENCH}`, `m/${MACHINE}`]);
    expect(collectShop(memoryAccess(files), true).sources).toHaveLength(3);
    expect(collectShop(memoryAccess(files), false).sources).toEqual([]);
  });

  it('is asked for where a material lists it: each coupon counts for the machine that it names, a focus for none', () => {
    const text = example(MATERIAL);
    const coupons = `coupons:
  - { machine: bench-60w, lens: 2in, thickness: 6 mm, power: 48 W, speed: 8 mm/s, through: true }
  - { machine: bench-60w, lens: 2in, thickness: 6 mm, power: 48 W, speed: 11 mm/s, through: false }
  - { thickness: 6 mm, power: 48 W, speed: 9 mm/s, through: false }
`;
    const bare = text.replace(/^(coupons|focus):.*\n( .*\n)*/gm, '');
    const focus = 'focus: { offset: -0.4 mm, spread: 0.1 mm, source: "measured here: ramp" }\n';
    const notesOf = (own: string) =>
      createLibrary({ catalogue: [], shop: [textSource(`shop/${MATERIAL}`, own)], untrusted: false }).material(
        'acrylic-cast',
      ).notes;
    expect(notesOf(bare)).toEqual([]);
    expect(notesOf(bare + coupons).map(({ text: says }) => says)).toEqual([
      `shop/${MATERIAL} lists 3 coupons, and each counts only for the machine that it names (bench-60w: 2; none: 1): move them into <machine>.bench.yaml beside the machine's profile in the shop, each with its lens and "material: acrylic-cast"; kerflint calibrate --write takes those of a machine and a lens along`,
    ]);
    const [note] = notesOf(bare + focus);
    expect(note!.text).toContain('states a focus offset, which names no machine and no lens and counts for none');
    expect(note!.place.line).toBe(bare.split('\n').length);
  });
});
