import { describe, expect, it } from 'vitest';
import { opticsOf, upsideDownBeamOf } from '../../../src/facts/cuts/optics.ts';
import { powerFact } from '../../../src/facts/cuts/power.ts';
import { type PredictorInput, predictorOf } from '../../../src/facts/cuts/predictor-of-job.ts';
import { material, SHED } from '../../bench/on-bench.ts';
import { material as invented } from '../../rules/build-job.ts';

const whole: PredictorInput = {
  machine: SHED,
  optics: opticsOf(SHED, '2in'),
  power: powerFact(SHED),
  material: material('birch-plywood'),
  thickness: { mm: 3, plusMinusMm: 0.1, nominal: false },
  bowMm: 0,
};

describe('cuts are not predicted', () => {
  it.each<[string, Partial<PredictorInput>, string]>([
    ['machine', { machine: null }, 'the machine is not known'],
    ['lens', { optics: { ...whole.optics, lens: null } }, 'the lens is not known'],
    ['beam', { optics: { ...whole.optics, beam: null, problem: null } }, 'the lens gives no beam'],
    ['beam', { optics: { ...whole.optics, beam: null, problem: 'the spot is 0 mm' } }, 'the spot is 0 mm'],
    ['power', { power: null }, "the profile's power figures cannot be used"],
    ['material', { material: null }, 'the material is not known'],
    ['thickness', { thickness: null }, 'the thickness is not known'],
    ['removal', { material: { ...material('mdf'), removal: null } }, 'no removal energy is known for MDF'],
    ['material', { material: material('pvc') }, 'PVC must not be cut'],
    ['source', { material: invented({ sources: { co2: 'marks-only' } }) }, 'this source does not cut Birch plywood'],
    [
      'hazard before the source',
      { material: invented({ sources: { co2: 'marks-only' }, hazard: { class: 'never' } }) },
      'Birch plywood must not be cut',
    ],
  ])('without the %s', (_, change, reason) => {
    expect(predictorOf({ ...whole, ...change })).toEqual({
      predictor: null,
      notPredicted: expect.stringContaining(reason),
    });
  });

  it('for no reason where all is known: the sheet as stated, in doubt by nine in ten of its ±', () => {
    const { predictor, notPredicted } = predictorOf({ ...whole, bowMm: 1.2 });
    expect(notPredicted).toBeNull();
    expect(predictor!.setup).toMatchObject({
      machine: SHED,
      lens: whole.optics.lens,
      beam: whole.optics.beam,
      material: whole.material,
      thicknessMm: 3,
      thicknessSpreadMm: expect.closeTo(0.1 / 1.6448536, 9),
      bowMm: 1.2,
    });
    expect(predictor!.setup.grounds.stock.removalJPerMm3).toBe(whole.material!.removal!.jPerMm3);
  });

  it('and the first of several reasons is told', () => {
    const nothing = {
      machine: null,
      optics: opticsOf(null, null),
      power: null,
      material: null,
      thickness: null,
      bowMm: 0,
    };
    const inTurn: Partial<PredictorInput>[] = [
      { machine: SHED },
      { optics: whole.optics },
      { power: whole.power },
      { material: whole.material },
      { thickness: whole.thickness },
    ];
    const reasons = inTurn.map((_, i) => predictorOf(Object.assign({}, nothing, ...inTurn.slice(0, i))).notPredicted);
    expect(reasons).toEqual([
      'the machine is not known',
      'the lens is not known',
      "the profile's power figures cannot be used",
      'the material is not known',
      'the thickness is not known',
    ]);
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
