import { describe, expect, it } from 'vitest';
import { opticsOf, upsideDownBeamOf } from '../../../src/facts/cuts/optics.ts';
import { powerFact } from '../../../src/facts/cuts/power.ts';
import { type PredictorInput, predictorOf } from '../../../src/facts/cuts/predictor-of-job.ts';
import { material, SHED } from '../../bench/on-bench.ts';

const whole: PredictorInput = {
  machine: SHED,
  optics: opticsOf(SHED, '2in'),
  power: powerFact(SHED),
  material: material('birch-plywood'),
  thickness: { mm: 3, plusMinusMm: 0.1, nominal: false },
  bowMm: 0,
};

describe('cuts are not predicted', () => {
  it.each<[keyof PredictorInput | 'lens' | 'beam' | 'removal', Partial<PredictorInput>, string]>([
    ['machine', { machine: null }, 'the machine is not known'],
    ['lens', { optics: { ...whole.optics, lens: null } }, 'the lens is not known'],
    ['beam', { optics: { ...whole.optics, beam: null, problem: null } }, 'the lens gives no beam'],
    ['beam', { optics: { ...whole.optics, beam: null, problem: 'the spot is 0 mm' } }, 'the spot is 0 mm'],
    ['power', { power: null }, "the profile's power figures cannot be used"],
    ['material', { material: null }, 'the material is not known'],
    ['thickness', { thickness: null }, 'the thickness is not known'],
    ['removal', { material: { ...material('mdf'), removal: null } }, 'no removal energy is known for MDF'],
    ['material', { material: material('pvc') }, 'PVC must not be cut'],
  ])('without the %s', (_, change, reason) => {
    expect(predictorOf({ ...whole, ...change })).toEqual({
      predictor: null,
      notPredicted: expect.stringContaining(reason),
    });
  });

  it('for no reason where all is known', () => {
    expect(predictorOf(whole).notPredicted).toBeNull();
  });
});

describe('a lens that was put in upside down', () => {
  const lens = SHED.lenses[0]!;

  it('has a wider spot than the right way round where it is curved on one side', () => {
    const shaped = { ...lens, shape: 'plano-convex' as const, spotMm: null };
    const right = opticsOf({ ...SHED, lenses: [shaped] }, shaped.id).beam!;
    expect(upsideDownBeamOf(SHED, shaped)!.spotMm).toBeGreaterThan(right.spotMm);
  });

  it('has no beam where the profile gives none', () => {
    expect(upsideDownBeamOf(SHED, { ...lens, focalMm: 0 })).toBeNull();
  });
});
