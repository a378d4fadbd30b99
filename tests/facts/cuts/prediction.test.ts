import { describe, expect, it } from 'vitest';
import { groundsOf } from '../../../src/facts/coupons/grounds.ts';
import type { PassFact } from '../../../src/facts/cuts/cut-fact.ts';
import { beamOf } from '../../../src/facts/cuts/optics.ts';
import { basisOf, CutPredictor } from '../../../src/facts/cuts/prediction.ts';
import { libraryOf, shed } from '../../memory-shop.ts';

const library = libraryOf(shed());
const machine = library.machine('shed-60w').value!;
const material = library.material('birch-plywood').value!;
const lens = machine.lenses[0]!;

const predictor = new CutPredictor({
  machine,
  lens,
  beam: beamOf(machine, lens).beam!,
  material,
  grounds: groundsOf(machine, lens, material)!,
  thicknessMm: 3,
  thicknessSpreadMm: 0.05,
  bowMm: 0,
});

const pass = (speedMmPerS: number): PassFact => ({
  powerW: 40,
  setting: 0.75,
  speedMmPerS,
  programmedMmPerS: speedMmPerS,
  focusMm: 0,
  air: true,
  scaled: true,
});

describe('the prediction of a set-up', () => {
  it('of a recipe that comes again is looked up', () => {
    const first = predictor.predict([pass(8)], 0.05, 'through');
    expect(predictor.predict([pass(8)], 0.05, 'through')).toBe(first);
    expect(predictor.predict([pass(9)], 0.05, 'through')).not.toBe(first);
    expect(predictor.predict([pass(8)], 0.1, 'through')).not.toBe(first);
  });
});

describe('what a prediction rests on, in words', () => {
  const bare = groundsOf(machine, lens, material)!;
  const spreads = { removalSpread: 0.02, spreadBefore: 0.2 };
  // Coupons are only counted here.
  const coupon = {} as (typeof bare.coupons)[number];
  const learned: typeof bare.learned = [];

  it('is the catalogue with its band where there are no coupons', () => {
    expect(basisOf({ ...bare, removalSpread: 0.2 })).toBe('catalogue, ± 33 %');
    expect(basisOf({ ...bare, removalSpread: 0.6 })).toMatch(/^catalogue, within a factor of 2\.\d$/);
  });

  it('is the catalogue with the band of before, and how many there are, while coupons lie on one side only', () => {
    expect(basisOf({ ...bare, ...spreads, coupons: [coupon], learned })).toBe(
      'catalogue, ± 33 %, and 1 coupon of one side only',
    );
  });

  it('is the coupons once they met the boundary from both sides', () => {
    expect(basisOf({ ...bare, ...spreads, coupons: [coupon, coupon], learned, bracketed: true })).toBe(
      'calibrated, 2 coupons',
    );
  });
});
