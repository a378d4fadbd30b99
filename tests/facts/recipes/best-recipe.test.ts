import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutOf, setUp } from '../../../src/facts/bench/set-up.ts';
import { wattsAt } from '../../../src/facts/cuts/power.ts';
import { MOST_PASSES } from '../../../src/facts/cuts/prediction.ts';
import { type Setup, setUpUnder } from '../../../src/facts/cuts/setup.ts';
import { bestRecipe, fastestOf } from '../../../src/facts/recipes/best-recipe.ts';
import type { Recipe, StatedSettings } from '../../../src/facts/recipes/recipe-fact.ts';
import { throughProbability } from '../../../src/physics/doubt/predict.ts';
import { libraryOf, shed } from '../../memory-shop.ts';

// Each recipe is held against the model that predicts every cut (src/physics), and against thousands of others drawn at random.

const library = libraryOf(shed());
const machine = library.machine('shed-60w').value!;
const FREE: StatedSettings = { setting: null, speedMmPerS: null, passes: null, focusMm: null, focusStepMm: 0 };

function sheet(material: string, mm: number): Setup {
  const bench = {
    machine,
    lens: machine.lenses[0]!,
    material: library.material(material).value!,
    thickness: { mm, plusMinusMm: 0.2, nominal: false },
  };
  return setUp(bench).value!;
}

const best = (setup: Setup, stated: Partial<StatedSettings> = {}, otherLenses = machine.lenses.slice(1)) =>
  bestRecipe({ setup, otherLenses, at: null, fastestMmPerS: 200, focusMoves: true, stated: { ...FREE, ...stated } })!;

/** What the model says of a recipe. */
function chanceOf(setup: Setup, recipe: Omit<Recipe, 'throughProbability' | 'powerW'>): number {
  const lens = machine.lenses.find(({ id }) => id === recipe.lens)!;
  const under = lens.id === setup.lens.id ? setup : setUpUnder(setup, lens)!;
  const { powerW, spread } = wattsAt(machine, recipe.setting, null)!;
  return throughProbability(cutOf(under, { ...recipe, powerW, spread }));
}

const materials = fc.constantFrom('birch-plywood', 'cast-acrylic', 'mdf', 'card');
const someSheet = fc
  .tuple(materials, fc.double({ min: 0.4, max: 30, noNaN: true }))
  .map(([material, mm]) => sheet(material, mm));

describe('the best recipe', () => {
  it('has the chance that the model gives it, and reaches the limit where it is proposed', () => {
    fc.assert(
      fc.property(someSheet, (setup) => {
        const { surest, proposed, limit } = best(setup);
        for (const recipe of proposed === null ? [surest] : [surest, proposed]) {
          expect(recipe.throughProbability).toBeCloseTo(chanceOf(setup, recipe), 2);
        }
        if (proposed !== null) expect(proposed.throughProbability).toBeGreaterThanOrEqual(limit);
      }),
      { numRuns: 40, seed: 1 },
    );
  });

  it('stays within ceiling, firing floor, clean speed and ordinary passes', () => {
    fc.assert(
      fc.property(someSheet, (setup) => {
        const { surest, proposed } = best(setup);
        const floor = setup.material.cleanSpeedMmPerS.co2 ?? 0;
        for (const recipe of [surest, proposed ?? surest]) {
          expect(recipe.setting).toBeLessThanOrEqual(machine.source.ceiling! + 1e-9);
          expect(recipe.setting).toBeGreaterThanOrEqual(machine.source.floor! - 1e-9);
          expect(recipe.speedMmPerS).toBeGreaterThanOrEqual(floor);
          expect(recipe.speedMmPerS).toBeLessThanOrEqual(200);
          expect(recipe.passes).toBeLessThanOrEqual(MOST_PASSES.co2);
        }
      }),
      { numRuns: 40, seed: 2 },
    );
  });

  it('is not beaten by any other recipe within the same limits', () => {
    const other = fc.record({
      lens: fc.constantFrom(...machine.lenses.map(({ id }) => id)),
      setting: fc.double({ min: machine.source.floor!, max: machine.source.ceiling!, noNaN: true }),
      slower: fc.double({ min: 1, max: 30, noNaN: true }),
      passes: fc.integer({ min: 1, max: MOST_PASSES.co2 }),
      depth: fc.double({ min: 0, max: 1, noNaN: true }),
      step: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(someSheet, fc.array(other, { minLength: 8, maxLength: 8 }), (setup, others) => {
        const { surest } = best(setup);
        const slowest = setup.material.cleanSpeedMmPerS.co2 ?? 0.5;
        for (const { lens, setting, slower, passes, depth, step } of others) {
          const focus = {
            focusMm: -depth * setup.thicknessMm,
            focusStepMm: (-step * setup.thicknessMm * (1 - depth)) / passes,
          };
          const chance = chanceOf(setup, { lens, setting, speedMmPerS: slowest * slower, passes, ...focus });
          // The focus is searched in typed steps.
          expect(chance).toBeLessThanOrEqual(surest.throughProbability + 0.02);
        }
      }),
      { numRuns: 25, seed: 3 },
    );
  });

  it('keeps what is stated, and says what holds it back', () => {
    const stated = { setting: 0.3, speedMmPerS: 50, passes: 1, focusMm: -1 };
    const { surest, proposed, limitedBy } = best(sheet('birch-plywood', 6), stated, []);
    expect(surest).toMatchObject({ lens: '2in', ...stated });
    expect(proposed).toBeNull();
    expect(limitedBy.map(({ kind }) => kind)).toEqual([
      'planned-power',
      'planned-speed',
      'planned-passes',
      'planned-focus',
      'named-lens',
    ]);
    expect(best(sheet('birch-plywood', 6)).limitedBy).toEqual([
      { kind: 'ceiling', value: machine.source.ceiling },
      { kind: 'clean-speed', value: 4 },
      { kind: 'most-passes', value: 3 },
    ]);
  });

  it('takes less power where the head cannot go fast enough to need it', () => {
    const setup = sheet('card', 0.3);
    const { proposed } = bestRecipe({
      setup,
      otherLenses: [],
      at: null,
      fastestMmPerS: 20,
      focusMoves: true,
      stated: FREE,
    })!;
    expect(proposed).toMatchObject({ speedMmPerS: 20, passes: 1 });
    expect(proposed!.setting).toBeLessThan(machine.source.ceiling!);
  });

  it('needs no more passes than the fewest that suffice', () => {
    for (const mm of [3, 6, 9]) {
      const setup = sheet('birch-plywood', mm);
      const { proposed } = best(setup, {}, []);
      if (proposed === null || proposed.passes === 1) continue;
      expect(best(setup, { passes: proposed.passes - 1 }, []).proposed).toBeNull();
    }
  });
});

describe('the fastest of several recipes', () => {
  const recipe = (passes: number, speedMmPerS: number) => ({
    ...best(sheet('birch-plywood', 3)).surest,
    passes,
    speedMmPerS,
  });

  it('is the one that takes the least time for a stretch, wherever it stands; of equals the first, of none none', () => {
    const [slow, fast, twice] = [recipe(1, 8), recipe(1, 12), recipe(2, 24)];
    expect(fastestOf([slow, fast, twice])).toBe(fast);
    expect(fastestOf([null, fast, null, slow])).toBe(fast);
    expect(fastestOf([twice, fast])).toBe(twice);
    expect(fastestOf([null, null])).toBeNull();
  });
});
