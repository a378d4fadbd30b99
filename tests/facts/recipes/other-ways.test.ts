// What would do where no recipe is sure: layers, thinner sheet, another lens, a stronger source; each is held against the solver itself.
import { describe, expect, it } from 'vitest';
import { setUp } from '../../../src/facts/bench/set-up.ts';
import { bestRecipe, NOTHING_STATED, type RecipeQuestion } from '../../../src/facts/recipes/best-recipe.ts';
import { insteadOf } from '../../../src/facts/recipes/instead.ts';
import { stackedSheets, thinnerSheets } from '../../../src/facts/recipes/thinner-sheets.ts';
import type { Lens, Machine, Material } from '../../../src/job/model.ts';
import { type Change, machine, material } from '../../rules/build-job.ts';

const [TWO, FOUR] = machine().lenses as [Lens, Lens];
const SHEET = material({ removal: { jPerMm3: 2.6 } });

/** A sheet that is sold in these thicknesses, under the 2 in lens alone unless others may be fitted. */
function question(
  mm: number,
  stockMm: number[] = [],
  more: { on?: Machine; lens?: Lens; others?: Lens[] } = {},
): RecipeQuestion {
  const { on = machine(), lens = TWO, others = [] } = more;
  const thickness = { mm, plusMinusMm: 0.2, nominal: false };
  const setup = setUp({ machine: on, lens, material: { ...SHEET, stockMm }, thickness }).value!;
  const open = { at: null, fastestMmPerS: 500, focusMoves: false, stated: NOTHING_STATED };
  return { setup, otherLenses: others, ...open };
}
/** A machine of so many watts at the work, of which none are lost at the corners. */
const watts = (measuredW: number, more: Change<Machine> = {}) =>
  machine({ ...more, source: { measuredW, ratedW: measuredW, atCorners: null, ceiling: 1 } });
const sure = (asked: RecipeQuestion) => bestRecipe(asked)?.proposed ?? null;

describe('layers in place of a sheet that is out of reach', () => {
  const layers = (mm: number, stockMm: number[]) => {
    const stack = stackedSheets(question(mm, stockMm));
    return stack && [stack.layers, stack.layerMm];
  };

  it('come nearest to the thickness, of equally near ones the fewest, wherever they stand in the list', () => {
    expect(layers(40, [3, 8, 10, 13])).toEqual([4, 10]);
    expect(layers(40, [8, 13])).toEqual([5, 8]);
    expect(layers(40, [13])).toEqual([3, 13]);
    expect(layers(36, [6, 9, 12])).toEqual([3, 12]);
  });

  it('are two at least and six at most, of thinner sheet', () => {
    expect(layers(36, [6])).toEqual([6, 6]);
    expect(layers(35, [5])).toBeNull();
    expect(layers(12, [12])).toBeNull();
    expect(layers(12, [6])).toEqual([2, 6]);
    expect(layers(12, [20])).toBeNull();
    // One layer of 11 mm would come near, two of them do not.
    expect(layers(12, [11])).toBeNull();
  });

  it('are off by a tenth of the thickness at most, above or below', () => {
    expect(layers(20, [11])).toEqual([2, 11]);
    expect(layers(20, [9])).toEqual([2, 9]);
    expect(layers(20, [11.1])).toBeNull();
    expect(layers(20, [8.9])).toBeNull();
  });

  it('are such as the machine is sure to part, as they are sold', () => {
    // Two of 30 mm would be nearest.
    expect(layers(60, [10, 30])).toEqual([6, 10]);
    expect(layers(60, [30])).toBeNull();
    const { recipe } = stackedSheets(question(40, [10]))!;
    const asSold = { mm: 10, plusMinusMm: null, nominal: true };
    const setup = setUp({ machine: machine(), lens: TWO, material: SHEET, thickness: asSold }).value!;
    expect(recipe).toEqual(sure({ ...question(40), setup }));
  });
});

describe('thinner sheets', () => {
  it('are told by the thickest that the machine is sure to part', () => {
    const { thickestMm, stacked } = thinnerSheets(question(60, [3, 6, 9, 30, 60]));
    expect(thickestMm).toBe(9);
    expect(stacked).toBeNull();
    expect(sure(question(9))).not.toBeNull();
    expect(sure(question(30))).toBeNull();
  });

  it('are thinner than what was asked for, and none where the machine is sure of none', () => {
    expect(thinnerSheets(question(6, [3, 6, 9])).thickestMm).toBe(3);
    expect(thinnerSheets(question(60, [40, 50]))).toEqual({ stacked: null, thickestMm: null });
    expect(thinnerSheets(question(3, [3])).thickestMm).toBeNull();
  });
});

describe('another lens', () => {
  /** A thickness that the 4 in lens is sure of and the 2 in lens is not. */
  const mm = Array.from({ length: 40 }, (_, i) => 12 + i / 2).find(
    (one) => sure(question(one)) === null && sure(question(one, [], { lens: FOUR })) !== null,
  )!;

  it('is one of the machine’s that was not asked about', () => {
    const { lens, stacked, thickestMm } = insteadOf(question(mm, [3]));
    expect(lens).toEqual({ id: '4in', focalMm: 101.6, recipe: sure(question(mm, [], { lens: FOUR })) });
    expect([stacked, thickestMm]).toEqual([null, 3]);
  });

  it('is else the shortest common focal length that would do and that the profile does not have', () => {
    const on = machine({ lenses: [TWO] });
    const { lens } = insteadOf(question(mm, [3], { on }));
    const common = [38.1, 63.5, 76.2, 101.6, 127];
    const made = (focalMm: number): Lens => ({ ...TWO, id: `${focalMm} mm`, focalMm, standoffMm: null });
    const does = common.filter((focalMm) => sure(question(mm, [], { on, lens: made(focalMm) })) !== null);
    expect(lens).toEqual({ id: null, focalMm: does[0], recipe: sure(question(mm, [], { on, lens: made(does[0]!) })) });
    // What lies within a twentieth of it is the same lens.
    const near = { ...TWO, id: 'near', focalMm: does[0]! * 1.04 };
    const apart = { ...near, focalMm: does[0]! * 1.06 };
    const focal = (other: Lens) =>
      insteadOf(question(mm, [3], { on: machine({ lenses: [TWO, other] }), others: [other] })).lens?.focalMm;
    expect(focal(near)).not.toBe(does[0]);
    expect(focal(apart)).toBe(does[0]);
  });

  it('is none where those of the machine were asked and the spot was measured: nothing is known of another’s', () => {
    const measured = { ...TWO, spotMm: { xMm: 0.15, yMm: 0.15 } };
    const on = machine({ lenses: [measured] });
    expect(insteadOf(question(mm, [3], { on, lens: measured })).lens).toBeNull();
  });

  it('is none where none would do', () => {
    expect(insteadOf(question(150, [3]))).toMatchObject({ lens: null, source: null });
  });
});

describe('a stronger source', () => {
  it('is the weakest of the usual ones of its kind that would do, stronger than this one', () => {
    const asked = question(12, [3], { on: watts(10) });
    const { source } = insteadOf(asked);
    const usual = [40, 60, 80, 100, 130, 150, 200, 300];
    const does = usual.find((powerW) => sure(question(12, [], { on: watts(powerW) })) !== null)!;
    expect(source).toEqual({ kind: 'co2', powerW: does, recipe: sure(question(12, [], { on: watts(does) })) });
    expect(source!.recipe.powerW).toBeLessThanOrEqual(does);
  });

  it('is stronger than what was measured and than what the seller says', () => {
    const weakest = (on: Machine) => insteadOf(question(40, [3], { on })).source?.powerW ?? 0;
    const first = weakest(watts(20));
    const source = { ceiling: 1, atCorners: null };
    for (const [measuredW, ratedW] of [
      [20, first],
      [first, 20],
    ] as const) {
      expect(weakest(machine({ source: { ...source, measuredW, ratedW } }))).toBeGreaterThan(first);
    }
  });

  it.each([
    ['diode', [5, 10, 20, 30, 40]],
    ['fibre', [30, 50, 100, 200, 500, 1000]],
  ] as const)('is a %s among those where the machine has one', (kind, usual) => {
    const on = (powerW: number) =>
      machine({ source: { kind, wavelengthUm: 0.45, measuredW: powerW, ratedW: powerW, atCorners: null, ceiling: 1 } });
    const cuts: Material = { ...SHEET, sources: { co2: 'cuts', diode: 'cuts', fibre: 'cuts' } };
    const asked = (powerW: number, mm: number) => {
      const plain = { mm, plusMinusMm: 0.2, nominal: false };
      const setup = setUp({ machine: on(powerW), lens: TWO, material: cuts, thickness: plain }).value!;
      return { ...question(mm), setup };
    };
    const thickness = kind === 'diode' ? 3 : 12;
    const does = usual.find((powerW) => sure(asked(powerW, thickness)) !== null);
    expect(insteadOf(asked(0.5, thickness)).source).toMatchObject({ kind, powerW: does });
  });
});
