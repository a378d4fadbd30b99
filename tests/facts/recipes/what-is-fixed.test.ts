// Small answers that recipes are made from: how a sheet stands, what a plan has fixed, and which thicknesses can be bought.
import { describe, expect, it } from 'vitest';
import type { Recipe } from '../../../src/facts/recipes/recipe-fact.ts';
import { soldMm } from '../../../src/facts/recipes/sold-sheets.ts';
import { recipeAndStanding } from '../../../src/facts/recipes/standing.ts';
import { statedBy } from '../../../src/facts/recipes/stated.ts';
import { material, plannedTask } from '../../rules/build-job.ts';

describe('how a sheet stands', () => {
  const recipe = (throughProbability: number) => ({ throughProbability }) as Recipe;
  const standing = (chance: number, proposed: Recipe | null = null) =>
    recipeAndStanding({ surest: recipe(chance), proposed, errorLimit: 0.14 });

  it('is sure with a recipe that is proposed, and that is the one to run', () => {
    const proposed = recipe(0.92);
    expect(standing(0.99, proposed)).toEqual({ standing: 'sure', recipe: proposed });
    expect(standing(0.99, proposed).recipe).toBe(proposed);
  });

  it('is to be proved from the error limit on, with the surest recipe, and out of reach below', () => {
    expect(standing(0.5)).toEqual({ standing: 'prove', recipe: recipe(0.5) });
    expect(standing(0.14).standing).toBe('prove');
    expect(standing(0.139)).toEqual({ standing: 'out-of-reach', recipe: recipe(0.139) });
  });
});

describe('what a task’s plan has fixed', () => {
  it('is what it states, its power as a share of full', () => {
    const task = plannedTask({
      power: { watts: 27 },
      speedMmPerS: 5,
      passes: 2,
      focusMm: -1,
      focusStepMm: -0.5,
    });
    const stated = { setting: 0.5, speedMmPerS: 5, passes: 2, focusMm: -1, focusStepMm: -0.5 };
    expect(statedBy(task, 54)).toEqual(stated);
  });

  it('is nothing where nothing is stated', () => {
    const nothing = { setting: null, speedMmPerS: null, passes: null, focusMm: null, focusStepMm: 0 };
    const open = { power: null, speedMmPerS: null, passes: null, focusMm: null, focusStepMm: 0 };
    expect(statedBy(null, 54)).toEqual(nothing);
    expect(statedBy({ ...plannedTask(), ...open }, 54)).toEqual(nothing);
  });
});

describe('thicknesses that can be bought', () => {
  const sold = (min: number, max: number, stockMm: number[] = []) =>
    soldMm(material({ thicknessMm: { min, max }, stockMm }));

  it('are those that the material’s entry names', () => {
    expect(sold(1, 50, [3, 3.2, 60])).toEqual([3, 3.2, 60]);
  });

  it('are the common ones in its range, both ends included, where it names none', () => {
    expect(sold(3, 10)).toEqual([3, 4, 5, 6, 8, 10]);
    expect(sold(2.9, 10.1)).toEqual([3, 4, 5, 6, 8, 10]);
    expect(sold(3.1, 9.9)).toEqual([4, 5, 6, 8]);
    expect(sold(0.1, 2)).toEqual([0.1, 0.2, 0.3, 0.5, 0.8, 1, 1.5, 2]);
    expect(sold(12, 200)).toEqual([12, 15, 18, 20, 25, 30, 40, 50, 75, 100]);
  });

  it('are its greatest alone where none of the common ones is in its range', () => {
    expect(sold(3.1, 3.5)).toEqual([3.5]);
  });

  it('are a list of one’s own, which may be turned round', () => {
    const of = material({ stockMm: [3, 6] });
    soldMm(of).reverse();
    expect(of.stockMm).toEqual([3, 6]);
  });
});
