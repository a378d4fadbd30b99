// How far a search for recipes goes, what it keeps to, and when it has nothing to search with.
import { describe, expect, it } from 'vitest';
import { setUp } from '../../../src/facts/bench/set-up.ts';
import {
  bestRecipe,
  bestUnderAnyLens,
  NOTHING_STATED,
  type RecipeQuestion,
} from '../../../src/facts/recipes/best-recipe.ts';
import type { StatedSettings } from '../../../src/facts/recipes/recipe-fact.ts';
import type { BenchCoupon, Lens, Machine, Material } from '../../../src/job/model.ts';
import { at, type Change, machine, material } from '../../rules/build-job.ts';

const [TWO, FOUR] = machine().lenses as [Lens, Lens];
const BROKEN = { ...FOUR, id: 'broken', focalMm: 0 };

interface Asked extends Partial<Omit<RecipeQuestion, 'stated' | 'setup'>> {
  on?: Machine;
  of?: Change<Material>;
  stated?: Partial<StatedSettings>;
}
function question(mm: number, { on = machine(), of = {}, stated = {}, ...more }: Asked = {}): RecipeQuestion {
  const thickness = { mm, plusMinusMm: 0.2, nominal: false };
  const sheet = material({ removal: { jPerMm3: 2.6 }, ...of });
  return {
    setup: setUp({ machine: on, lens: TWO, material: sheet, thickness }).value!,
    otherLenses: [],
    at: null,
    fastestMmPerS: 500,
    focusMoves: true,
    stated: { ...NOTHING_STATED, ...stated },
    ...more,
  };
}
const best = (mm: number, asked: Asked = {}) => bestRecipe(question(mm, asked))!;

describe('a search', () => {
  it('has nothing to try where the setting that is asked for gives no power', () => {
    for (const asked of [{ stated: { setting: 0 } }, { on: machine({ source: { measuredW: 0 } }) }]) {
      expect(bestRecipe(question(3, asked))).toBeNull();
      expect(bestUnderAnyLens(question(3, { ...asked, otherLenses: [FOUR] }))).toBeNull();
    }
  });

  it('leaves out a lens that gives no beam', () => {
    const { byLens } = bestUnderAnyLens(question(3, { otherLenses: [BROKEN, FOUR] }))!;
    expect(byLens.map(({ lens }) => lens)).toEqual(['2in', '4in']);
    expect(byLens.map(({ surest, proposed }) => [surest.lens, proposed!.lens])).toEqual([
      ['2in', '2in'],
      ['4in', '4in'],
    ]);
  });

  it('goes down to the clean speed, to 0.5 mm/s where there is none, and to the head’s where that is slower', () => {
    const none = { cleanSpeedMmPerS: { co2: null } };
    expect(best(60).surest.speedMmPerS).toBe(4);
    expect(best(60, { of: none }).surest.speedMmPerS).toBe(0.5);
    expect(best(60, { fastestMmPerS: 2.3 }).surest.speedMmPerS).toBe(2.3);
    // A planned speed is kept, also one below the clean speed.
    expect(best(60, { stated: { speedMmPerS: 1.23 } }).surest.speedMmPerS).toBe(1.23);
    expect(best(3, { stated: { speedMmPerS: 1.23 } }).proposed!.speedMmPerS).toBe(1.23);
  });

  it('makes as many passes as are usual with the source, or as are planned', () => {
    const diode = machine({ source: { kind: 'diode', wavelengthUm: 0.45 } });
    expect(best(60).surest.passes).toBe(3);
    expect(best(60, { on: diode, of: { cleanSpeedMmPerS: { diode: 4 } } }).surest.passes).toBe(10);
    expect(best(60, { stated: { passes: 7 } }).surest.passes).toBe(7);
    expect(best(3, { stated: { passes: 2 } }).proposed!.passes).toBe(2);
  });

  it('proposes the fewest passes that do, at a planned speed too', () => {
    const { proposed, surest } = best(6, { stated: { speedMmPerS: 6 } });
    expect(proposed).toMatchObject({ passes: 1, speedMmPerS: 6 });
    expect(surest).toMatchObject({ passes: 3, speedMmPerS: 6 });
  });

  it('keeps to a planned setting and focus, and knows the watts at its place', () => {
    const stated = { setting: 0.5, focusMm: -0.7, focusStepMm: -0.3 };
    const { surest } = best(9, { stated, at: { xMm: 600, yMm: 400 } });
    expect(surest).toMatchObject({ ...stated, powerW: expect.closeTo(54 * 0.5 * 0.95, 6) });
  });

  it('sets the focus in steps of half a millimetre between face and underside, of whole ones in sheets above 12 mm', () => {
    for (const mm of [1, 6, 11.9, 13, 40]) {
      const { focusMm } = best(mm).surest;
      expect(focusMm).toBeLessThanOrEqual(0);
      expect(focusMm).toBeGreaterThanOrEqual(-mm);
      expect(Math.abs(focusMm * (mm > 12 ? (mm > 24 ? 2 / 4 : 1) : 2)) % 1).toBe(0);
    }
    expect(Object.is(best(0.3).surest.focusMm, 0)).toBe(true);
  });

  it('rounds a chance to a thousandth', () => {
    const { throughProbability } = best(21).surest;
    expect(throughProbability).toBe(Number(throughProbability.toFixed(3)));
  });
});

describe('what holds a search back', () => {
  const bounds = (asked: Asked = {}, mm = 3) => best(mm, asked).limitedBy;

  it('is the maximum of the profile, or the usual one where that is assumed', () => {
    expect(bounds()[0]).toEqual({ kind: 'ceiling', value: 0.85 });
    const assumed = { key: 'source.ceiling', value: 0.8, unit: '', basis: 'usual', spread: 0 };
    const on = (key: string) => machine({ assumed: [{ ...assumed, key } as unknown as Machine['assumed'][number]] });
    expect(bounds({ on: on('source.ceiling') })[0]).toEqual({ kind: 'assumed-ceiling', value: 0.85 });
    expect(bounds({ on: on('beam.m2') })[0]!.kind).toBe('ceiling');
  });

  it('is the clean speed, or the slowest speed where that is none or the head is slower', () => {
    expect(bounds()[1]).toEqual({ kind: 'clean-speed', value: 4 });
    expect(bounds({ of: { cleanSpeedMmPerS: { co2: null } } })[1]).toEqual({ kind: 'slowest-speed', value: 0.5 });
    expect(bounds({ fastestMmPerS: 2 })[1]).toEqual({ kind: 'slowest-speed', value: 2 });
    expect(bounds({ fastestMmPerS: 4 })[1]).toEqual({ kind: 'clean-speed', value: 4 });
  });

  it('is what was planned, each by itself', () => {
    const kinds = (stated: Partial<StatedSettings>) => bounds({ stated }).slice(0, 4);
    expect(kinds({ setting: 0.6 })[0]).toEqual({ kind: 'planned-power', value: 0.6 });
    expect(kinds({ speedMmPerS: 9 })[1]).toEqual({ kind: 'planned-speed', value: 9 });
    expect(kinds({ passes: 2 })[2]).toEqual({ kind: 'planned-passes', value: 2 });
    expect(kinds({})[2]).toEqual({ kind: 'most-passes', value: 3 });
    expect(kinds({ focusMm: 0 })[3]).toEqual({ kind: 'planned-focus', value: 0 });
  });

  it('is the lens only where another could have been fitted and may not', () => {
    const named = { kind: 'named-lens', value: null };
    expect(bounds()).toContainEqual(named);
    expect(bounds({ otherLenses: [FOUR] })).not.toContainEqual(named);
    expect(bounds({ on: machine({ lenses: [TWO] }) })).not.toContainEqual(named);
  });
});

describe('the proposed recipe', () => {
  it('is of the set-up’s own lens where that does, and of the others’ fastest where it does not', () => {
    const asked = { otherLenses: [FOUR] };
    expect(best(9, asked).proposed!.lens).toBe('2in');
    const deep = Array.from({ length: 40 }, (_, i) => 12 + i / 2).find((mm) => best(mm).proposed === null)!;
    expect(best(deep, asked).proposed!.lens).toBe('4in');
  });

  it('is of the lens under which the sheet is cut fastest where none is fitted', () => {
    for (const mm of [3, 9, 15]) {
      const { proposed, byLens } = bestUnderAnyLens(question(mm, { otherLenses: [FOUR] }))!;
      const times = byLens.map((one) => one.proposed!.passes / one.proposed!.speedMmPerS);
      expect(proposed!.passes / proposed!.speedMmPerS).toBe(Math.min(...times));
    }
  });

  it('reaches the limit that is asked for in place of the usual one', () => {
    const [usual, surer] = [best(9), best(9, { limit: 0.99 })];
    expect([usual.limit, surer.limit, surer.errorLimit]).toEqual([0.9, 0.99, 0.14]);
    expect(surer.proposed!.throughProbability).toBeGreaterThanOrEqual(0.99);
    expect(usual.proposed!.throughProbability).toBeLessThan(0.99);
    expect(best(60, { limit: 0 }).proposed).not.toBeNull();
  });

  it('is the surest where that alone suffices, between the speeds that one types', () => {
    // 4.3 mm/s is the slowest, and the next that one types is 4.5 mm/s.
    const stepped = (mm: number) =>
      best(mm, { of: { cleanSpeedMmPerS: { co2: 4.3 } }, stated: { passes: 1, focusMm: -3 } });
    const thickness = Array.from({ length: 600 }, (_, i) => 8 + i / 50).find((mm) => {
      const { proposed, surest } = stepped(mm);
      return proposed !== null && proposed.speedMmPerS === surest.speedMmPerS;
    });
    const one = stepped(thickness!);
    expect(one.proposed).toEqual(one.surest);
    expect(one.proposed!.speedMmPerS).toBe(4.3);
    expect(one.proposed!.throughProbability).toBeGreaterThanOrEqual(one.limit);
  });
});

describe('coupons under one lens', () => {
  it('hold the recipes of that lens to more, and no others', () => {
    const row = (speedMmPerS: number, through: boolean): BenchCoupon => ({
      ...{ machine: 'shed-60w', lens: '2in', material: 'birch-plywood', date: '2026-10-01' },
      ...{ thicknessMm: 4, powerW: 45, passes: 1, focusMm: 0, focusStepMm: 0, depthMm: null },
      speedMmPerS,
      through,
    });
    const coupons = [row(14, true), row(22, false)];
    const bench = { id: 'shed-60w', file: 'b.yaml', ramps: [], coupons, placeOf: () => at('b.yaml', 1) };
    const on = { ...machine(), bench };
    expect(best(4, { on })).toMatchObject({ limit: 0.95, errorLimit: 0.5 });
    expect(best(4, { on }).proposed!.throughProbability).toBeGreaterThanOrEqual(0.95);
    const { byLens } = bestUnderAnyLens(question(4, { on, otherLenses: [FOUR] }))!;
    const [two, four] = byLens.map((one) => one.proposed!.throughProbability);
    expect(two).toBeGreaterThanOrEqual(0.95);
    expect(four).toBeLessThan(0.95);
  });
});
