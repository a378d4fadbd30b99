import { describe, expect, it } from 'vitest';
import { createLibrary } from '../../src/job/files/library.ts';
import { type Source, textSource } from '../../src/source/source.ts';
import { example, exampleSource, MACHINE } from './examples.ts';

interface Says {
  aliases?: string[];
  name?: string;
  hazard?: 'usual' | 'extract' | 'reconsider' | 'never';
  energy?: number;
  spread?: number;
  diode?: string;
  more?: string;
}

/** A material file of a few lines. */
function material(folder: string, id: string, says: Says = {}): Source {
  const {
    aliases = [],
    name = `sheet of ${id}`,
    hazard = 'usual',
    energy = 3,
    spread = 40,
    diode = 'cuts',
    more = '',
  } = says;
  return textSource(
    `${folder}/${id}.material.yaml`,
    `kerflint: 1
id: ${id}
name: ${name}
aliases: ${JSON.stringify(aliases)}
family: plastic
density: { value: 1.2 g/cm3, source: common practice }
removal-energy: { value: ${energy} J/mm3, spread: ${spread} %, source: common practice }
sources: { co2: cuts, diode: ${diode}, fibre: cuts }
hazard: { class: ${hazard}, reason: "says ${folder}", source: common practice }
thickness: { from: 1 mm, to: 10 mm, source: common practice }
${more}`,
  );
}

const machineAt = (folder: string, from = '', to = ''): Source => {
  const text = from === '' ? example(MACHINE) : example(MACHINE).replace(from, to);
  return textSource(`${folder}/${MACHINE}`, text);
};

const catalogue = [
  material('data', 'pvc', { hazard: 'never', aliases: ['vinyl', 'polyvinyl chloride'], energy: 4 }),
  material('data', 'card', { aliases: ['cardboard'], energy: 2 }),
];
const library = (shop: Source[] = [], untrusted = false) => createLibrary({ catalogue, shop, untrusted });

describe('a machine', () => {
  const shop = [machineAt('shop')];

  it('of the shop is trusted', () => {
    const { value, trusted, notes, problems } = library(shop, true).machine('bench-60w');
    expect([value?.file, trusted, notes, problems]).toEqual([`shop/${MACHINE}`, true, [], []]);
  });

  it.each<[string, string, string]>([
    ['more rated power', 'rated: 60 W', 'rated: 600 W'],
    ['more measured power', 'measured: 54 W', 'measured: 90 W'],
    ['a curve', 'measured: 54 W', 'curve: { 10 %: 30 W, 100 %: 54 W }'],
    ['a longer travel', 'x: 600 mm, y: 400 mm', 'x: 6000 mm, y: 4000 mm'],
    ['a higher ceiling', 'ceiling: 85 %', 'ceiling: 100 %'],
    ['a lower floor', 'floor: 12 %', 'floor: 1 %'],
    ['a gated beam', 'beam-off-on-rapid: true', 'beam-off-on-rapid: unknown'],
    ['a code that it calls harmless', 'z-zero:', 'harmless: { M42: air valve }\n  z-zero:'],
    ['lines that are skipped', 'z-zero:', 'block-delete: skipped\n  z-zero:'],
    ['faster rapids', 'rapid: 600 mm/s', 'rapid: 6000 mm/s'],
    ['another lens', 'focal: 1.5 in', 'focal: 9 in'],
    [
      'another kind of source',
      'co2                       # co2 | diode | fibre\n  wavelength: 10.6 um',
      'fibre\n  wavelength: 1.06 um',
    ],
    ['a dearer hour', 'machine: 18 EUR/h', 'machine: 0.01 EUR/h'],
  ])('does not gain %s from beside a job', (_, from, to) => {
    const beside = [textSource(`job/${MACHINE}`, example(MACHINE).replace(from, to))];
    expect(example(MACHINE)).toContain(from);
    for (const path of [null, `job/${MACHINE}`]) {
      const { value, notes } = library(shop).machine('bench-60w', beside, path);
      expect({ ...value, placeOf: null }).toEqual({ ...library(shop).machine('bench-60w').value, placeOf: null });
      expect(notes.map((note) => note.text)).toEqual([
        `the shop's profile of "bench-60w" (shop/${MACHINE}) stands over job/${MACHINE}: nothing in it is stricter, so it is left aside`,
      ]);
    }
  });

  it('is weakened from beside a job, and a note says in what', () => {
    const weak = textSource(
      `job/${MACHINE}`,
      example(MACHINE).replace('measured: 54 W', 'measured: 40 W').replace('x: 600 mm', 'x: 300 mm'),
    );
    const { value, notes } = library(shop).machine('bench-60w', [weak]);
    expect(value).toMatchObject({
      source: { measuredW: 40, ratedW: 60, ceiling: 0.85 },
      travel: { xMm: 300, yMm: 400 },
    });
    expect(notes[0]!.text).toContain('it counts only where it is stricter: measured power, travel along X');
    expect(notes[0]!.place).toMatchObject({ file: `job/${MACHINE}`, line: 2 });
  });

  it('is not tightened by what a profile beside a job leaves open', () => {
    const open = ['ceiling: 85 %', 'floor: 12 %', 'speed: 500 mm/s, ', 'rapid: 600 mm/s, '];
    const loose = example(MACHINE)
      .replace('ceiling: 85 %', 'ceiling: 95 %')
      .replace('floor: 12 %', 'floor: 2 %')
      .replace('speed: 500 mm/s, rapid: 600 mm/s', 'speed: 900 mm/s, rapid: 900 mm/s');
    const owner = [textSource(`shop/${MACHINE}`, loose)];
    const beside = textSource(
      `job/${MACHINE}`,
      open.reduce((text, line) => text.replace(line, ''), example(MACHINE)),
    );
    const { value, notes } = library(owner).machine('bench-60w', [beside]);
    expect(value).toMatchObject({
      source: { ceiling: 0.95, floor: 0.02 },
      motion: { speedMmPerS: 900, rapidMmPerS: 900 },
      assumed: [],
    });
    expect(notes[0]!.text).toContain('nothing in it is stricter');
  });

  it('whose limit was assumed takes a stricter one from beside the job, and it is assumed no more', () => {
    const open = [machineAt('shop', 'ceiling: 85 %', '')];
    const { value } = library(open).machine('bench-60w', [machineAt('job', 'ceiling: 85 %', 'ceiling: 70 %')]);
    expect(value?.source.ceiling).toBe(0.7);
    expect(value?.assumed).toEqual([]);
  });

  it('loses its whole power curve in proportion', () => {
    const curved = [machineAt('shop', 'measured: 54 W', 'curve: { 50 %: 30 W, 100 %: 54 W }')];
    const { value } = library(curved).machine('bench-60w', [machineAt('job', 'measured: 54 W', 'measured: 27 W')]);
    expect(value?.source.curve).toEqual([
      { fraction: 0.5, watts: 15 },
      { fraction: 1, watts: 27 },
    ]);
  });

  it('that only stands beside a job serves, but lets nothing pass under --untrusted', () => {
    for (const untrusted of [false, true]) {
      const { value, trusted } = library([], untrusted).machine('bench-60w', [machineAt('job')]);
      expect([value?.rank, trusted]).toEqual(['beside-job', !untrusted]);
    }
  });

  it('of the catalogue is an example and no hardware of the shop', () => {
    const examples = { catalogue: [machineAt('data')], shop: [] };
    expect(createLibrary({ ...examples, untrusted: false }).machine('bench-60w').trusted).toBe(true);
    expect(createLibrary({ ...examples, untrusted: true }).machine('bench-60w').trusted).toBe(false);
    const mine = createLibrary({ ...examples, untrusted: false }).machine('bench-60w', [
      machineAt('job', 'measured: 54 W', 'measured: 58 W'),
    ]);
    expect(mine.value?.source.measuredW).toBe(58);
  });

  it('is one file when the shop keeps it beside the job', () => {
    const { notes, value } = library(shop).machine('bench-60w', shop);
    expect([notes, value?.rank]).toEqual([[], 'shop']);
  });

  it('of the shop that cannot be read is not replaced by another', () => {
    const broken = [textSource(`shop/${MACHINE}`, 'kerflint: 1\n')];
    const { value, problems } = createLibrary({
      catalogue: [machineAt('data')],
      shop: broken,
      untrusted: false,
    }).machine('bench-60w', [machineAt('job')]);
    expect(value).toBeNull();
    expect(problems.every((problem) => problem.rank === 'shop')).toBe(true);
  });

  it('claimed by two shop files is an error, whatever the case of their names', () => {
    const twice = [
      machineAt('shop/a'),
      textSource('shop/b/Bench-60W.machine.yaml', example(MACHINE).replace('id: bench-60w', 'id: Bench-60W')),
    ];
    expect(library(twice).machine('bench-60w').value).toBeNull();
    expect(library(twice).shopProblems()).toMatchObject([
      { code: 'duplicate-id', place: { file: 'shop/b/Bench-60W.machine.yaml' } },
    ]);
  });

  it('that nobody knows is named with what was meant', () => {
    expect(library(shop).machine('bench-60')).toMatchObject({ value: null, near: 'bench-60w' });
    expect(library(shop).machine('mill')).toMatchObject({ value: null, near: null });
  });
});

describe('a material', () => {
  it('is found by id, alias and name, without regard to case, spaces and dashes', () => {
    for (const name of [
      'pvc',
      'PVC',
      'Vinyl',
      'polyvinyl-chloride',
      'Polyvinyl  Chloride',
      'ＰＶＣ',
      'p\u200bvc',
      'sheet of PVC',
    ]) {
      expect(library().material(name).value?.id).toBe('pvc');
    }
    expect(library().material('unknown')).toMatchObject({ value: null, near: null });
    expect(library().material('crad')).toMatchObject({ value: null, near: 'card' });
    const more = library([material('shop', 'grey-card'), material('shop', 'white-card'), material('shop', 'felt')]);
    expect(more.material('thick white card').near).toBe('white-card');
    expect(more.material('post card stock').near).toBe('card');
  });

  it.each<[string, string, Source[]]>([
    ['a harmless pvc of its own', 'pvc', [material('job', 'pvc')]],
    ['a harmless pvc, asked for by an alias', 'vinyl', [material('job', 'pvc')]],
    ['a material whose id is an alias of it', 'vinyl', [material('job', 'vinyl')]],
    ['a material that takes its alias', 'white-sheet', [material('job', 'white-sheet', { aliases: ['PVC'] })]],
    ['a material that takes its name', 'white-sheet', [material('job', 'white-sheet', { name: 'polyvinyl chloride' })]],
    ['an alias with invisible letters', 'white-sheet', [material('job', 'white-sheet', { aliases: ['v\u200binyl'] })]],
  ])('stays hazardous against %s', (_, asked, beside) => {
    for (const untrusted of [false, true]) {
      const { value, notes } = library([], untrusted).material(asked, beside);
      expect(value?.hazard).toMatchObject({ class: 'never', reason: 'says data' });
      expect(notes.length).toBeGreaterThan(0);
    }
  });

  it.each<[string, string, Source[]]>([
    ['its own pvc', 'pvc', [material('shop', 'pvc')]],
    ['its own pvc, asked for by the catalogue alias', 'vinyl', [material('shop', 'pvc')]],
    ['an id that is an alias', 'vinyl', [material('shop', 'vinyl')]],
    [
      'an alias spelt with escapes',
      'foil',
      [
        textSource(
          'shop/foil.material.yaml',
          String.raw`kerflint: 1
id: foil
name: foil
aliases: ["\u0070vc"]
family: plastic
density: { value: 1.2 g/cm3, source: common practice }
removal-energy: { value: 3 J/mm3, spread: 40 %, source: common practice }
sources: { co2: cuts, diode: cuts, fibre: cuts }
hazard: { class: usual, reason: "says shop", source: common practice }
thickness: { from: 1 mm, to: 10 mm, source: common practice }
`,
        ),
      ],
    ],
  ])('stays hazardous when the shop writes %s, whose other numbers win', (_, asked, shop) => {
    const { value, notes, trusted } = library(shop, true).material(asked);
    expect([value?.rank, value?.removal?.jPerMm3, trusted]).toEqual(['shop', 3, true]);
    expect(value?.hazard.class).toBe('never');
    expect(notes[0]!.text).toContain('a hazard only rises');
  });

  it('of the shop can be more hazardous than the catalogue says', () => {
    const { value, notes } = library([material('shop', 'card', { hazard: 'reconsider' })]).material('card');
    expect([value?.hazard.class, notes]).toEqual(['reconsider', []]);
  });

  it('takes from beside a job only what is stricter, and a note says what', () => {
    const verdict = '{ verdict: marks-only, reason: tried, source: "measured here: 12 strips" }';
    const beside = material('job', 'card', { hazard: 'extract', energy: 9, spread: 1, diode: verdict });
    const { value, notes, trusted } = library([], true).material('cardboard', [beside]);
    expect(value).toMatchObject({
      rank: 'catalogue',
      hazard: { class: 'extract' },
      removal: { jPerMm3: 9, spread: 0.4 },
      sources: { co2: 'cuts', diode: 'marks-only' },
    });
    expect(trusted).toBe(true);
    expect(notes[0]!.text).toContain('it counts only where it is stricter: hazard, verdict for diode, removal energy');
  });

  it('does not cut more easily because a file beside a job says so', () => {
    const easy = material('job', 'card', {
      energy: 0.1,
      more: 'traits: [soft-foam, clear]\nclean-speed: { source: common practice }\n',
    });
    const { value, notes } = library().material('card', [easy]);
    expect({ ...value, placeOf: null }).toEqual({ ...library().material('card').value, placeOf: null });
    expect(notes[0]!.text).toContain('nothing in it is stricter');
  });

  it('that only stands beside a job serves, but lets nothing pass under --untrusted', () => {
    for (const untrusted of [false, true]) {
      const { value, trusted } = library([], untrusted).material('my-board', [material('job', 'my-board')]);
      expect([value?.rank, trusted]).toEqual(['beside-job', !untrusted]);
    }
  });

  it('claimed by two files of one rank is an error', () => {
    const beside = [material('job', 'mine', { aliases: ['board'] }), material('job', 'yours', { aliases: ['Board'] })];
    expect(library().material('board', beside)).toMatchObject({
      value: null,
      problems: [{ code: 'duplicate-id', rank: 'beside-job' }],
    });
    const shop = [material('shop', 'mine', { aliases: ['board'] }), material('shop', 'board')];
    expect(library(shop).shopProblems()).toMatchObject([{ code: 'duplicate-id' }]);
  });

  it('stands against a broken file beside the job, which is told of', () => {
    const { value, problems } = library().material('pvc', [
      textSource('job/pvc.material.yaml', 'kerflint: 1\nid: pvc\n'),
    ]);
    expect(value?.hazard.class).toBe('never');
    expect(problems[0]).toMatchObject({ rank: 'beside-job', place: { file: 'job/pvc.material.yaml' } });
  });

  it('of the shop that cannot be read is not replaced by the catalogue', () => {
    const { value, problems } = library([textSource('shop/card.material.yaml', 'kerflint: 1\n')]).material('card');
    expect(value).toBeNull();
    expect(problems[0]!.rank).toBe('shop');
  });

  it('is read only when it is asked for', () => {
    let opened = 0;
    const counted = catalogue.map(
      (source): Source => ({
        ...source,
        chunks() {
          opened++;
          return source.chunks();
        },
      }),
    );
    const one = createLibrary({ catalogue: counted, shop: [], untrusted: false });
    one.machine('bench-60w', [exampleSource(MACHINE)]);
    one.ids();
    expect(opened).toBe(0);
    one.material('card');
    expect(opened).toBe(1);
  });

  it('is listed with all others, in order', () => {
    expect(library([material('shop', 'board')]).ids()).toEqual({ machines: [], materials: ['board', 'card', 'pvc'] });
  });
});
