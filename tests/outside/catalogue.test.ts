import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readAllEvidence } from '../../fit/rows.ts';
import type { HazardClass, Material } from '../../src/job/model.ts';
import { catalogueFiles, material, readText } from './catalogue-files.ts';

const FILES = catalogueFiles();
const SCHEMA = new URL('../../schemas/material.schema.json', import.meta.url);
const MATERIALS = FILES.flatMap((file) => file.material ?? []);
const EVIDENCE = readAllEvidence();

/** What a source text may begin with: docs/materials.md. */
const PROVENANCE = /^(?:(?:published|fitted|derived|memory|measured here): \S|common practice$|common practice: \S)/;

/** Keys whose value is words or a name, in which a digit is no quantity. */
const WORDS = new Set(['id', 'name', 'aliases', 'source', 'reason', 'traits', 'kerflint']);

/** The paths of all quantities in a material file whose own mapping names no provenance. */
function numbersWithoutProvenance(tree: unknown, path = ''): string[] {
  if (typeof tree !== 'object' || tree === null) return [];
  const told = PROVENANCE.test(String((tree as { source?: unknown }).source ?? ''));
  return Object.entries(tree).flatMap(([key, value]: [string, unknown]) => {
    // A list has no place for a source: it says in a comment where it comes from (below).
    if (WORDS.has(key) || (path === '' && key === 'stock')) return [];
    if (typeof value === 'object') return numbersWithoutProvenance(value, `${path}/${key}`);
    return /\d/.test(String(value)) && !told ? [`${path}/${key}`] : [];
  });
}

describe('the material catalogue', () => {
  it('is read without a problem', () => {
    expect(FILES.filter(({ problems }) => problems.length > 0).map(({ file, problems }) => [file, problems])).toEqual(
      [],
    );
  });

  it('holds at least 45 materials', () => {
    expect(MATERIALS.length).toBeGreaterThanOrEqual(45);
  });

  it('names each file after its material', () => {
    for (const { file, material } of FILES) expect(`${material?.id}.material.yaml`).toBe(file);
  });

  it('gives no id or alias to two materials', () => {
    const owners = new Map<string, string[]>();
    for (const { id, aliases } of MATERIALS) {
      for (const word of new Set([id, ...aliases].map((each) => each.toLowerCase()))) {
        owners.set(word, [...(owners.get(word) ?? []), id]);
      }
    }
    expect([...owners].filter(([, ids]) => ids.length > 1)).toEqual([]);
  });

  it('lets editors check every file against the schema', () => {
    for (const { file, text } of FILES) {
      expect(text.split('\n')[0], file).toBe('# yaml-language-server: $schema=../../schemas/material.schema.json');
    }
  });

  // Ajv is a JSON Schema validator of its own: it sees what an editor sees.
  it('has no fault in an editor', () => {
    const valid = new Ajv({ strict: false }).compile(JSON.parse(readFileSync(SCHEMA, 'utf8')));
    for (const { file, text } of FILES) expect(valid(parse(text)) ? null : valid.errors, file).toBeNull();
  });

  it('promises nothing: no file calls a material safe', () => {
    expect(FILES.filter(({ text }) => /\bsafe/i.test(text)).map(({ file }) => file)).toEqual([]);
  });

  it('does not know what an undeclared sheet is', () => {
    for (const word of ['unknown', 'acrylic', 'plywood', 'foam', 'leather', 'felt']) {
      expect(MATERIALS.filter(({ id, aliases }) => id === word || aliases.includes(word))).toEqual([]);
    }
  });
});

describe('where the numbers come from', () => {
  it('is told beside every number', () => {
    const bare = FILES.map(({ file, text }) => [file, numbersWithoutProvenance(parse(text))] as const);
    expect(bare.filter(([, paths]) => paths.length > 0)).toEqual([]);
  });

  it('is told in a comment beside the thicknesses that can be bought', () => {
    const lists = FILES.flatMap(({ text }) => text.split('\n').filter((line) => line.startsWith('stock:')));
    expect(lists.length).toBeGreaterThan(20);
    expect(lists.filter((line) => !line.endsWith('] # memory'))).toEqual([]);
  });

  it('is asked for by this test and by the reader alike', () => {
    const { text } = FILES.find(({ file }) => file === 'cast-acrylic.material.yaml')!;
    const lines = text.split('\n').filter((line) => !line.startsWith('  source: "fitted: '));
    expect(numbersWithoutProvenance(parse(lines.join('\n')))).toEqual([
      '/removal-energy/value',
      '/removal-energy/spread',
    ]);
    expect(readText('cast-acrylic.material.yaml', lines.join('\n')).problems.join()).toContain('source');
  });

  /** What a removal energy was taken for before published cuts were weighed; the stated one where none were. */
  const earlier = (removal: NonNullable<Material['removal']>) => removal.before ?? removal;

  // [COZZENS-1978]: 3.5 kJ/g removed, at 1.19 g/cm³. No other energy in the catalogue was measured.
  it('is a publication for the removal energy of PMMA alone, before any cut was weighed', () => {
    const published = MATERIALS.filter(({ removal }) => removal && earlier(removal).provenance.kind === 'published');
    expect(published.map(({ id }) => id).sort()).toEqual([
      'cast-acrylic',
      'clear-acrylic',
      'extruded-acrylic',
      'mirrored-acrylic',
    ]);
    for (const { removal } of published) expect(earlier(removal!).jPerMm3).toBeCloseTo(3.5 * 1.19, 2);
  });

  it('re-computes: a removal energy derived from grams is density times energy, over the share absorbed', () => {
    let checked = 0;
    for (const { id, densityGPerCm3, removal } of MATERIALS) {
      if (!removal) continue;
      const { jPerMm3, provenance } = earlier(removal);
      const said = /^(?:derived: )?([\d.]+) g\/cm³ × ([\d.]+) kJ\/g/.exec(provenance.source);
      if (!said) continue;
      const absorbed = Number(/absorbed share of ([\d.]+)/.exec(provenance.source)?.[1] ?? 1);
      expect(Number(said[1]), id).toBeCloseTo(densityGPerCm3, 6);
      const energy = (Number(said[1]) * Number(said[2])) / absorbed;
      expect(Math.abs(jPerMm3 / energy - 1), id).toBeLessThan(0.02);
      checked++;
    }
    expect(checked).toBe(MATERIALS.filter(({ removal }) => removal !== null).length - 4 - 1);
  });

  it('shows in the spread: what was not measured is in doubt by 25 % or more', () => {
    for (const { id, removal } of MATERIALS) {
      if (removal && removal.provenance.kind !== 'published') expect(removal.spread, id).toBeGreaterThanOrEqual(0.25);
    }
  });

  it('is the published cuts for whatever a CO₂ source cuts, and the file says where the value stood before', () => {
    for (const { id, removal, sources } of MATERIALS) {
      if (sources.co2 !== 'cuts') expect(removal?.provenance.kind, id).not.toBe('fitted');
      else expect([removal?.provenance.kind, removal?.before === null], id).toEqual(['fitted', false]);
    }
  });

  // Counted anew from data/evidence; what the values are, `npm run check:fit` holds against a fit.
  it('counts right the rows and the sources that a fitted value rests on', () => {
    const cuts = EVIDENCE.flatMap(({ id, machine, cuts: rows }) =>
      machine?.kind === 'co2' ? rows.map((row) => ({ source: id, material: row.material })) : [],
    );
    for (const { id, removal } of MATERIALS) {
      if (removal?.provenance.kind !== 'fitted') continue;
      const own = cuts.filter((cut) => cut.material === id);
      const sources = new Set(own.map((cut) => cut.source)).size;
      const said = /^(no|\d+) rows? of (?:its own|(\d+) sources?)/.exec(removal.provenance.source);
      const counted = own.length === 0 ? ['no', undefined] : [String(own.length), String(sources)];
      expect([said?.[1], said?.[2]], id).toEqual(counted);
    }
  });

  it('leaves those in wider doubt that no published cut speaks of', () => {
    const spreads = (known: boolean) =>
      MATERIALS.flatMap(({ removal, family }) =>
        removal?.provenance.kind === 'fitted' &&
        family !== 'acrylic' &&
        removal.provenance.source.startsWith('no row') !== known
          ? [removal.spread]
          : [],
      );
    expect(Math.min(...spreads(false))).toBeGreaterThan(0.45);
    expect(Math.max(...spreads(true))).toBeLessThan(0.55);
  });
});

/**
 * Who says so, by the keys of docs/sources.md; "memory": no source at hand.
 */
const HAZARDS: [HazardClass, string[], string][] = [
  ['never', ['pvc', 'vinyl'], '[UIC]; [TEXAS]; [NIOSH-1976]'],
  ['never', ['neoprene'], '[UIC]; [TEXAS], on anything chlorinated; polychloroprene by its name'],
  ['never', ['imitation-leather'], 'as PVC, which it mostly is: memory'],
  ['never', ['ptfe'], '[TEXAS]'],
  ['never', ['fibreglass', 'carbon-fibre'], '[TEXAS]; [K-STATE], under a CO₂ or diode source'],
  ['reconsider', ['abs', 'polyurethane', 'polyurethane-foam', 'nylon', 'wool-felt'], '[TEXAS]; [K-STATE]'],
  ['reconsider', ['acrylic-felt'], 'derived from ABS and nylon: polyacrylonitrile holds the same nitrogen'],
  ['reconsider', ['polycarbonate'], '[UIC]; [K-STATE]'],
  [
    'reconsider',
    ['hdpe', 'polyethylene-foam', 'polypropylene-foam', 'polystyrene-foam', 'foam-core-board'],
    '[UIC]; [K-STATE]',
  ],
  ['reconsider', ['chrome-tanned-leather'], '[UIC]: only vegetable-tanned'],
  ['reconsider', ['linoleum'], 'memory: what is sold as lino floor may be PVC'],
  ['extract', ['osb', 'marble', 'granite'], 'memory'],
  ['extract', ['acetal'], '[TEXAS]'],
  ['extract', ['galvanised-steel'], 'memory'],
  ['extract', ['mdf', 'hardboard', 'chipboard', 'construction-plywood'], 'memory'],
  ['usual', ['birch-plywood', 'poplar-plywood', 'pine', 'cast-acrylic', 'card', 'cotton'], 'no alarm: common practice'],
];

describe('the hazard of a material', () => {
  for (const [hazard, ids, says] of HAZARDS) {
    it.each(ids)(`is "${hazard}" for %s (${says})`, (id) => {
      expect(material(id).hazard.class).toBe(hazard);
    });
  }

  it('is "never" for nothing else', () => {
    const listed = HAZARDS.filter(([hazard]) => hazard === 'never').flatMap(([, ids]) => ids);
    const never = MATERIALS.filter(({ hazard }) => hazard.class === 'never').map(({ id }) => id);
    expect(never.sort()).toEqual(listed.sort());
  });

  // Two published claims that chemistry does not bear out: there is no chlorine in polycarbonate and no fluorine in acetal.
  it('repeats no doubtful claim', () => {
    expect(material('polycarbonate').hazard.reason).not.toMatch(/chlor/i);
    expect(material('acetal').hazard.reason).not.toMatch(/fluor|\bHF\b/i);
  });

  it('names formaldehyde where the trait says so', () => {
    for (const { id, traits, hazard } of MATERIALS) {
      expect(/formaldehyde/.test(hazard.reason), id).toBe(traits.formaldehyde);
    }
  });
});

describe('what a source does to a material', () => {
  const bare = MATERIALS.filter(({ traits }) => traits.bareMetal);

  // Common practice, no source; the reflectances below say why.
  it('marks bare metal and does not cut it, by CO₂ and by diode', () => {
    expect(bare.length).toBeGreaterThanOrEqual(7);
    for (const { id, sources } of bare)
      expect([id, sources.co2, sources.diode]).toEqual([id, 'marks-only', 'marks-only']);
  });

  // Reflectance at normal incidence from n and k of [REFRACTIVEINDEX], at 10.6 µm and at 450 nm.
  it.each([
    ['aluminium', '0.99', '0.92'],
    ['copper', '0.99', '0.54'],
    ['mild-steel', '0.97', '0.56'],
    ['galvanised-steel', '0.98', '0.77'],
    ['stainless-steel', '0.97', '0.60'],
    ['titanium', '0.96', ''],
  ])('gives the reflectance of %s as the reason', (id, co2, diode) => {
    const { sourceReasons } = material(id);
    expect(sourceReasons.co2).toContain(co2);
    expect(sourceReasons.diode).toContain(diode);
  });

  // Common practice, no source: a diode does nothing to clear stock.
  it('is nothing for a diode on clear stock', () => {
    const clear = MATERIALS.filter(({ traits }) => traits.clear);
    expect(clear.map(({ id }) => id)).toContain('clear-acrylic');
    for (const { id, sources } of clear) expect([id, sources.diode]).toEqual([id, 'does-not-absorb']);
  });

  // 1/e depths at 450 nm from [REFRACTIVEINDEX]: PMMA 160-206 mm, polycarbonate 136 mm, soda-lime glass 186 mm; what two
  // faces reflect, 2 ((n−1)/(n+1))², from indices of 1.50, 1.61 and 1.52 (memory).
  it.each([
    ['clear-acrylic', 183, 1.5],
    ['polycarbonate', 136, 1.61],
    ['glass', 186, 1.52],
  ])('lets through 3 mm of %s what absorption and two faces leave', (id, depthMm, index) => {
    const expected = Math.exp(-3 / depthMm) * (1 - ((index - 1) / (index + 1)) ** 2) ** 2;
    expect(material(id).transmits.diode).toBeCloseTo(expected, 1.7);
  });

  it('is explained wherever it is not a cut', () => {
    for (const { id, sources, sourceReasons } of MATERIALS) {
      for (const kind of ['co2', 'diode', 'fibre'] as const) {
        if (sources[kind] !== 'cuts') expect(sourceReasons[kind]?.length, `${id} ${kind}`).toBeGreaterThan(10);
      }
    }
  });

  it('knows which sheets have a mirror and which hide their glue', () => {
    expect(MATERIALS.filter(({ traits }) => traits.mirrored).map(({ id }) => id)).toEqual(['mirrored-acrylic']);
    expect(MATERIALS.filter(({ traits }) => traits.hiddenGlue).map(({ id }) => id)).toEqual(['construction-plywood']);
  });
});
