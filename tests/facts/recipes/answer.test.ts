// What `recipe` answers: for whom, on what, with which choices beside it, and when it is refused.
import { describe, expect, it } from 'vitest';
import { setUp } from '../../../src/facts/bench/set-up.ts';
import { NOTHING_STATED } from '../../../src/facts/recipes/best-recipe.ts';
import { type RecipeRequest, recipeAnswer } from '../../../src/facts/recipes/recipe-answer.ts';
import { isFound, type RecipeFound } from '../../../src/facts/recipes/recipe-answer-model.ts';
import type { StatedSettings } from '../../../src/facts/recipes/recipe-fact.ts';
import { depthOfFocusMm, diameterAtMm } from '../../../src/physics/beam/focused-beam.ts';
import { bench, material, SHED } from '../../bench/on-bench.ts';

type More = Partial<Omit<RecipeRequest, 'stated'>> & { stated?: Partial<StatedSettings> };
const PLYWOOD = material('birch-plywood');
const ask = (mm: number, { stated = {}, ...more }: More = {}) =>
  recipeAnswer({
    machine: SHED,
    lenses: SHED.lenses,
    material: PLYWOOD,
    thickness: { mm, plusMinusMm: 0.2, nominal: false },
    bowMm: 0,
    stated: { ...NOTHING_STATED, ...stated },
    at: null,
    ...more,
  });
function found(mm: number, more: More = {}): RecipeFound {
  const { value, problem } = ask(mm, more);
  if (value === null || !isFound(value)) throw new Error(problem ?? value?.standing);
  return value;
}
const [two] = SHED.lenses;
const broken = { ...two!, id: 'broken', focalMm: 0 };

describe('a recipe is asked for', () => {
  it('of a machine, a material with its hazard and a sheet, and all of them stand in the answer', () => {
    expect(found(6)).toMatchObject({
      machine: 'shed-60w',
      material: 'birch plywood',
      materialId: 'birch-plywood',
      hazard: { class: PLYWOOD.hazard.class, reason: PLYWOOD.hazard.reason },
      thicknessMm: 6,
      // 54 W at full setting, of which 2.5 % are lost in the middle of the bed.
      source: 'CO₂, 52.7 W at the work',
      basis: 'catalogue, ± 54 %',
      limit: 0.9,
      errorLimit: 0.14,
      airBar: 1,
      inventedMachine: true,
      instead: null,
    });
    expect(found(6, { machine: { ...SHED, invented: false } }).inventedMachine).toBe(false);
  });

  it('with what was assumed of the machine, and what would tell most', () => {
    expect(found(6)).toMatchObject({ assumed: [], narrows: null });
    const rated = { ...SHED, source: { ...SHED.source, measuredW: null } };
    const { assumed, narrows } = found(6, { machine: rated, lenses: rated.lenses });
    expect(assumed.map(({ key, inDoubt }) => [key, inDoubt])).toEqual([['source.measured', true]]);
    expect(narrows?.key).toBe('source.measured');
  });

  it('and is surer of a flat sheet than of a bowed one', () => {
    expect(found(15, { bowMm: 6 }).surest.throughProbability).toBeLessThan(found(15).surest.throughProbability);
  });
});

describe('no recipe is given', () => {
  const notCut = (more: Partial<RecipeRequest>) => ask(3, more).value;

  it('for what is never cut, by whatever source', () => {
    const pvc = material('pvc');
    const reason = `PVC is never cut: ${pvc.hazard.reason}`;
    expect(notCut({ material: pvc })).toMatchObject({ standing: 'never', reason, cutBy: [], material: 'PVC' });
  });

  it('for what this kind of source does not cut, with the kinds that do', () => {
    const sources = { co2: 'marks-only' as const, diode: 'cuts' as const, fibre: 'cuts' as const };
    const marked = { ...PLYWOOD, sources, sourceReasons: { co2: 'it only chars' } };
    expect(notCut({ material: marked })).toMatchObject({
      standing: 'not-cut',
      reason: 'a CO₂ source does not cut birch plywood: it only chars',
      cutBy: ['diode', 'fibre'],
      thicknessMm: 3,
    });
    expect(notCut({ material: { ...marked, removal: null } })).toMatchObject({ standing: 'not-cut', cutBy: [] });
  });

  it.each<[string, number, More, string]>([
    ['no lens', 3, { lenses: [] }, 'shed-60w has no lens'],
    [
      'no lens that gives a beam',
      3,
      { lenses: [{ ...broken, id: 'bad' }, broken] },
      'lens broken: the focal length must be above 0 mm, not 0',
    ],
    ['no sheet', 0, {}, 'the thickness must be above 0 mm, not 0'],
    [
      'no power',
      3,
      { machine: { ...SHED, source: { ...SHED.source, measuredW: 0 } } },
      'the profile of shed-60w gives no power at 100 %: see its source section',
    ],
    [
      'a planned power of nothing',
      3,
      { stated: { setting: 0 } },
      'the profile of shed-60w gives no power: see its source section',
    ],
  ])('where there is %s', (_, mm, more, problem) => {
    expect(ask(mm, more)).toEqual({ value: null, problem });
  });

  it('under a lens that gives no beam, but under the next', () => {
    expect(found(3, { lenses: [broken, two!] }).recipe.lens).toBe('2in');
  });
});

describe('a planned number of passes', () => {
  it('leaves nothing to choose: the fastest is the recipe, and one pass is it or is not asked about', () => {
    const twice = found(12, { stated: { passes: 2 } });
    expect([twice.recipe.passes, twice.fastest, twice.onePass]).toEqual([2, twice.recipe, null]);
    const once = found(6, { stated: { passes: 1 } });
    expect([once.fastest, once.onePass]).toEqual([once.recipe, once.recipe]);
    const short = found(21, { stated: { passes: 1 } });
    expect(short).toMatchObject({ fastest: null, onePass: { passes: 1, standing: short.standing } });
    expect(short.onePass).toEqual(short.recipe);
  });

  it('is open otherwise: the fastest is sought among all of them, and the one in a single pass stands beside it', () => {
    const { fastest, onePass, recipe } = found(12);
    expect(onePass!.passes).toBe(1);
    for (const passes of [1, 2, 3]) {
      const one = found(12, { stated: { passes } });
      if (one.standing === 'sure') expect(fastest!.timeSPerM).toBeLessThanOrEqual(one.recipe.timeSPerM);
    }
    expect(recipe.passes).toBeGreaterThan(1);
    expect(found(60).fastest).toBeNull();
  });
});

describe('a slower recipe, for what hangs on a scrap', () => {
  it('is the same a fifth slower, as one types it, and slower by no more', () => {
    const { recipe, slower } = found(4);
    expect(slower).toMatchObject({ lens: recipe.lens, passes: recipe.passes, setting: recipe.setting });
    expect(slower).toMatchObject({ focusMm: recipe.focusMm, focusStepMm: recipe.focusStepMm });
    // Typed in steps of 0.5 mm/s below 20 mm/s and of 1 mm/s above.
    expect(slower!.speedMmPerS).toBeLessThanOrEqual(recipe.speedMmPerS * 0.8);
    expect(slower!.speedMmPerS).toBeGreaterThan(recipe.speedMmPerS * 0.8 - 1);
  });

  it('is none where the clean speed allows none, or the speed is planned', () => {
    expect(found(24).slower).toBeNull();
    expect(found(3, { stated: { speedMmPerS: 12 } }).slower).toBeNull();
  });
});

describe('what holds a recipe back', () => {
  const kinds = (mm: number, more: More = {}) => found(mm, more).limitedBy.map(({ kind }) => kind);

  it('is of the bounds those that it meets', () => {
    expect(kinds(4)).not.toContain('clean-speed');
    expect(kinds(4)).not.toContain('most-passes');
    expect(kinds(24)).toEqual(['ceiling', 'clean-speed', 'most-passes', 'depth-of-focus']);
    expect(kinds(0.8)).toEqual(expect.not.arrayContaining(['depth-of-focus', 'most-passes', 'clean-speed']));
  });

  it('is what was planned, always', () => {
    const stated = { setting: 0.5, speedMmPerS: 20, passes: 1, focusMm: 0 };
    expect(kinds(2, { stated })).toEqual(['planned-power', 'planned-speed', 'planned-passes', 'planned-focus']);
  });

  it('is the head from nine tenths of its speed on', () => {
    const head = (speedMmPerS: number) => ({ ...SHED, motion: { ...SHED.motion, speedMmPerS } });
    const limited = (mm: number) => found(0.8, { machine: head(mm), stated: { speedMmPerS: 30 } }).limitedBy;
    // A tenth more than 30 mm/s are 33.
    expect(limited(32.5)).toContainEqual({ kind: 'fastest-speed', value: 32.5 });
    expect(limited(33.5).map(({ kind }) => kind)).not.toContain('fastest-speed');
  });
});

describe('the picture of the beam in the sheet', () => {
  it.each([
    [6, {}, '2in'],
    [21, {}, '4in'],
    [6, { lenses: SHED.lenses.slice(1, 2) }, '1.5in'],
  ] as const)('is of the lens that the recipe is cut with: %d mm', (mm, more, lens) => {
    const { section, recipe } = found(mm, more);
    const { beam } = setUp({ ...bench('birch-plywood', mm), lens: SHED.lenses.find(({ id }) => id === lens)! }).value!;
    expect([recipe.lens, section.lens]).toEqual([lens, lens]);
    expect(section.spotMm).toBeCloseTo(beam.spotMm, 3);
    expect(section.depthOfFocusMm).toBeCloseTo(depthOfFocusMm(beam, 'sqrt2'), 2);
    for (const { zMm, diameterMm } of section.beam) {
      expect(diameterMm).toBeCloseTo(diameterAtMm(beam, zMm - recipe.focusMm), 2);
    }
  });

  it('goes in equal steps from two fifths of the sheet above its face to as much below its underside', () => {
    const places = found(10).section.beam.map(({ zMm }) => zMm);
    expect([places.length, places[0], places.at(-1)]).toEqual([41, 4, -14]);
    for (const [i, z] of places.entries()) expect(z).toBeCloseTo(4 - i * 0.45, 3);
  });

  it('has the waist of each pass', () => {
    const stated = { passes: 3, focusMm: -1, focusStepMm: -1.5 };
    expect(found(6, { stated }).section.waistsMm).toEqual([-1, -2.5, -4]);
    expect(found(6, { stated: { ...stated, focusStepMm: 0 } }).section.waistsMm).toEqual([-1, -1, -1]);
  });
});

describe('the price of a recipe', () => {
  it('is that of a metre of outline, its time and its watts to a hundredth', () => {
    const { recipe } = found(6, { stated: { setting: 0.85, speedMmPerS: 7, passes: 3, focusMm: 0 } });
    // 3 × 1000 mm at 7 mm/s.
    expect(recipe.timeSPerM).toBe(428.57);
    // 54 W × 85 % × 97.5 %.
    expect(recipe.powerW).toBe(44.75);
    // 21.594 EUR an hour: 6 + 15 + 0.21 + 1.2 × 0.32.
    expect(recipe.costPerM!.amount).toBe(2.5707);
  });
});
