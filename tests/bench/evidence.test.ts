import { describe, expect, it } from 'vitest';
import { type PublishedRequest, publishedList } from '../../src/bench/evidence/published-list.ts';
import { publishedTable } from '../../src/bench/evidence/published-table.ts';
import { CAUTION } from '../../src/findings/caution.ts';
import { citedCut } from '../cited-cuts.ts';
import { libraryOf, run, shed } from '../memory-shop.ts';
import { material, SHED } from './on-bench.ts';

const LIBRARY = libraryOf({});
const ALL = LIBRARY.citedCuts();
const HAZARDS = new Map(LIBRARY.ids().materials.map((id) => [id, LIBRARY.material(id).value!.hazard.class] as const));

function listOf(more: Partial<PublishedRequest>, all = ALL) {
  const { value, problem } = publishedList(all, {
    material: null,
    thickness: null,
    machine: null,
    lens: null,
    power: null,
    speedMmPerS: null,
    passes: null,
    focusMm: 0,
    hazards: HAZARDS,
    ...more,
  });
  if (value === null) throw new Error(problem);
  return value;
}

const sheet = (mm: number) => ({ mm, plusMinusMm: null, nominal: true });
const RECIPE = {
  material: material('birch-plywood'),
  thickness: sheet(3),
  machine: SHED,
  lens: SHED.lenses[0]!,
  speedMmPerS: 38,
};

describe('the list of published cuts', () => {
  it('has all of them where nothing is asked, by material and thickness', () => {
    const { cuts, others, predicted } = listOf({});
    expect(cuts.length).toBe(ALL.length);
    expect([others, predicted]).toEqual([0, null]);
    const keys = cuts.map((cut) => `${cut.material} ${String(cut.thicknessMm).padStart(9, '0')}`);
    expect(keys.map((key) => key.split(' ')[0])).toEqual(keys.map((key) => key.split(' ')[0]).sort());
  });

  it('has those near a sheet, the nearest first, and says how many others there are', () => {
    const all = [
      citedCut({ id: 'far', thicknessMm: 20 }),
      citedCut({ id: 'b', thicknessMm: 4 }),
      citedCut({ id: 'a', thicknessMm: 3 }),
    ];
    const { cuts, others } = listOf({ material: material('birch-plywood'), thickness: sheet(3) }, all);
    expect(cuts.map(({ id }) => id)).toEqual(['a', 'b']);
    expect(others).toBe(1);
  });

  it('has those of the machine’s kind of source and about its power', () => {
    const weak = citedCut({ id: 'weak', powerW: 5 });
    const diode = citedCut({ id: 'diode', kind: 'diode' });
    const of = (more: Partial<PublishedRequest>) => listOf(more, [citedCut({}), weak, diode]).cuts.map(({ id }) => id);
    expect(of({ machine: SHED, lens: SHED.lenses[0]! })).toEqual(['r1']);
    expect(of({ machine: SHED, lens: SHED.lenses[0]!, power: { fraction: 0.12 } })).toEqual(['weak']);
    expect(of({ power: { watts: 6 } })).toEqual(['weak']);
  });

  it('predicts the recipe as a check does', () => {
    const { predicted, asked } = listOf({ ...RECIPE, power: { fraction: 0.8 } });
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="400mm" viewBox="0 0 600 400"><path d="M290 195H310" fill="none" stroke="#9c36b5"/></svg>';
    const checked = run({
      ...shed(),
      'a.svg': svg,
      'a.job.yaml':
        'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: nominal 3 mm\nartwork: a.svg\ntasks:\n  - { name: a, aim: through, power: 80 %, speed: 38 mm/s }\n',
    });
    const [cut] = checked.jobs[0]!.cuts;
    // The check counts on the power at the far end of the line, and on the speed that is reached along it.
    expect(predicted!.throughProbability).toBeCloseTo(cut!.throughProbability!, 1);
    expect(asked.powerW).toBeCloseTo(cut!.passes[0]!.powerW, 0);
    expect(predicted).toMatchObject({ limit: 0.9, lens: '2in', basis: cut!.basis });
  });

  it('says why a recipe cannot be predicted', () => {
    const { value, problem } = publishedList(ALL, {
      ...RECIPE,
      material: material('pvc'),
      power: null,
      passes: 1,
      focusMm: 0,
      hazards: HAZARDS,
    });
    expect(value).toBeNull();
    expect(problem).toContain('PVC');
  });
});

describe('the table of published cuts', () => {
  it('names who published each, what came of it and what the catalogue gives it', () => {
    const cuts = [
      citedCut(),
      citedCut({ id: 'r2', source: 'b-shop', citation: 'B shop, log', outcome: 'not', worn: true, use: 'test' }),
    ];
    const text = publishedTable(listOf({ material: material('birch-plywood'), thickness: sheet(6) }, cuts));
    expect(text).toMatch(/^6 mm +50 % of 60 W +15 mm\/s +1 +parted +daily setting +A +71 % +a-shop r1$/m);
    expect(text).toMatch(/^6 mm .* did not part +single cut +A, worn +71 % +b-shop r2$/m);
    expect(text).toMatch(/^a-shop: A shop, wiki\nb-shop: B shop, log$/m);
    expect(text).toContain('Cuts of birch plywood that others published near 6 mm, the nearest first\n');
    expect(text.trimEnd().split('\n').at(-1)).toBe(CAUTION);
  });

  it('puts what is predicted of the recipe ahead of them', () => {
    const text = publishedTable(listOf(RECIPE));
    expect(text).toMatch(
      /^Predicted on shed-60w, 2in lens, 1 pass at 44\.8 W, 38 mm\/s, the focus on the face: \d\.\d mm \(\d\.\d–\d\.\d\) deep, \d+ % likely to part \(basis: catalogue, .*; a recipe is held to 90 %\)$/m,
    );
  });

  it('names the material of each where none is asked for, and says so where there are none', () => {
    expect(publishedTable(listOf({}))).toMatch(/^birch-plywood +usual +3 mm /m);
    expect(publishedTable(listOf({ hazards: new Map() }))).toMatch(/^birch-plywood +not known +3 mm /m);
    expect(publishedTable(listOf({}))).toMatch(/^mdf +extract +/m);
    expect(publishedTable(listOf({ material: material('mdf') }))).toMatch(/^Hazard class: extract$/m);
    const none = publishedTable(listOf({ material: material('pvc') }));
    expect(none).toMatch(/^none$/m);
    expect(none).toMatch(/^PVC must not be cut: .*hydrogen chloride/m);
    expect(publishedTable(listOf({ material: material('foam-core-board') }))).toMatch(/^Reconsider this material: /m);
    expect(publishedTable(listOf({ material: material('pine'), thickness: sheet(1) }))).toMatch(
      /^5 others are farther off/m,
    );
  });
});
