import { describe, expect, it } from 'vitest';
import type { PassFact } from '../../../src/facts/cuts/cut-fact.ts';
import type { CutPrediction } from '../../../src/facts/cuts/prediction.ts';
import { predictCut } from '../../../src/physics/doubt/predict.ts';
import { material, pass } from '../../rules/build-facts.ts';
import { predictor, setUp, speedAtLimit } from './set-up.ts';

const at = (speedMmPerS: number, change: Partial<PassFact> = {}) => pass({ speedMmPerS, ...change });
const told = (answer: CutPrediction | { problem: string }): CutPrediction => {
  if ('problem' in answer) throw new Error(answer.problem);
  return answer;
};
const SURE = [at(2)];
const SHORT = [at(12), at(12)];

describe('what is told of a cut', () => {
  it.each([
    ['goes through', SURE],
    ['falls short', SHORT],
  ])('that %s is what the physics says, rounded as it is read', (_, passes) => {
    const made = predictor();
    const exact = predictCut(made.inputFor(passes, 0.05)).prediction!;
    const fact = told(made.predict(passes, 0.05, 'through')).prediction;
    const near = (value: number, decimals: number) => Number(value.toFixed(decimals));
    expect(fact).toEqual({
      depthMm: near(exact.depthMm, 2),
      depthLowMm: near(exact.depthLowMm, 2),
      depthHighMm: near(exact.depthHighMm, 2),
      throughProbability: near(exact.throughProbability, 3),
      limit: 0.9,
      errorLimit: 0.14,
      kerfTopMm: near(exact.kerfTopMm, 3),
      kerfBottomMm: passes === SURE ? near(exact.kerfBottomMm, 3) : null,
      taperDeg: near(exact.taperDeg, 2),
      energyRatio: near(exact.energyRatio, 3),
      depthAfterPassMm: exact.depthAfterPassMm.map((depth) => near(depth, 2)),
      basis: 'catalogue, ± 41 %',
    });
    expect(exact.kerfBottomMm > 0).toBe(passes === SURE);
  });

  it('has no kerf where the beam is too weak to mark the face', () => {
    const weak = predictor({ material: material({ kerfThresholdJPerMm2: 1e6 }) });
    expect(told(weak.predict(SHORT, 0.05, 'through')).prediction).toMatchObject({
      kerfTopMm: null,
      kerfBottomMm: null,
    });
  });

  it('is held to more, and is an error sooner, where the shop’s coupons met the boundary', () => {
    const { grounds } = setUp();
    const made = predictor({ grounds: { ...grounds, bracketed: true } });
    expect(told(made.predict(SURE, 0.05, 'through')).prediction).toMatchObject({
      limit: 0.95,
      errorLimit: 0.5,
      basis: 'calibrated, 0 coupons',
    });
  });

  it.each([
    ['without a pass', [], 'there is no pass'],
    ['without power', [at(4, { powerW: 0 })], 'no pass has any power'],
    ['without speed', [at(0)], 'the speed must be above 0 mm/s, not 0'],
  ])('%s is why there is no prediction', (_, passes, problem) => {
    expect(predictor().predict(passes, 0.05, 'through')).toEqual({ problem });
    expect(predictor().chanceFrom(0, passes, 0.05)).toBeNull();
  });
});

describe('a chance alone', () => {
  it('is that of the prediction, if it reaches the limit', () => {
    const made = predictor();
    const { throughProbability } = told(made.predict(SHORT, 0.05, 'through')).prediction;
    expect(throughProbability).toBeGreaterThan(0.2);
    expect(throughProbability).toBeLessThan(0.8);
    expect(made.chanceFrom(0, SHORT, 0.05)).toBe(throughProbability);
    expect(made.chanceFrom(throughProbability - 0.01, SHORT, 0.05)).toBe(throughProbability);
    expect(made.chanceFrom(throughProbability + 0.01, SHORT, 0.05)).toBeNull();
  });
});

describe('the focus lowered evenly over the passes', () => {
  const step = (passes: readonly PassFact[], wanted: 'through' | 'depth' = 'through', focusMoves = true) =>
    told(predictor().predict(passes, 0.05, wanted, focusMoves)).throughWithFocusStep;

  it('is as sure as a recipe with those focus positions: of two passes through 6 mm the second is 3 mm lower', () => {
    const lowered = [at(12, { focusMm: 1 }), at(12, { focusMm: -2 })];
    const expected = told(predictor().predict(lowered, 0.05, 'through')).prediction.throughProbability;
    expect(step([at(12, { focusMm: 1 }), at(12, { focusMm: 1 })])).toBe(expected);
  });

  it('is as sure as three positions 2 mm apart for three passes', () => {
    const lowered = [0, -2, -4].map((focusMm) => at(20, { focusMm }));
    const expected = told(predictor().predict(lowered, 0.05, 'through')).prediction.throughProbability;
    expect(step([at(20), at(20), at(20)])).toBe(expected);
  });

  it.each<[string, number | null]>([
    ['of a single pass', step([at(8)])],
    ['where the focus moves already', step([at(12), at(12, { focusMm: -1 })])],
    ['where the machine or the program does not move it', step(SHORT, 'through', false)],
    ['where the cut need not go through', step(SHORT, 'depth')],
    ['where the cut suffices as it is', step([at(6), at(6)])],
    ['where the cut is as sure as it is held to, to the digit', step([at(speedAtLimit(2)), at(speedAtLimit(2))])],
    ['at more positions than are computed', step(Array.from({ length: 41 }, () => at(400)))],
  ])('is not asked for %s', (_, chance) => {
    expect(chance).toBeNull();
  });

  it('is asked for at 40 positions, the most that are computed', () => {
    expect(step(Array.from({ length: 40 }, () => at(400)))).not.toBeNull();
  });

  it('is asked for where a machine that may move it is held against one that may not, of the same recipe', () => {
    const made = predictor();
    const answers = [false, true].map((moves) => told(made.predict(SHORT, 0.05, 'through', moves)));
    expect(answers.map(({ throughWithFocusStep }) => throughWithFocusStep === null)).toEqual([true, false]);
    expect(told(made.predict(SHORT, 0.05, 'depth', true)).throughWithFocusStep).toBeNull();
  });
});

describe('what a prediction is made from', () => {
  it('is the sheet, the passes and what is in doubt of them', () => {
    const of = setUp({ bowMm: 0.8, thicknessSpreadMm: 0.15 });
    const passes = [at(12, { focusMm: -1 }), at(8, { powerW: 30 })];
    expect(predictor(of).inputFor(passes, 0.07)).toEqual({
      beam: of.beam,
      stock: of.grounds.stock,
      doubt: {
        learned: null,
        removal: 0.25,
        divergence: { low: 0.05, high: 0.4 },
        power: 0.07,
        focusMm: 0.5,
        thicknessMm: 0.15,
      },
      passes: [
        { powerW: 43.2, speedMmPerS: 12, focusMm: -1 },
        { powerW: 30, speedMmPerS: 8, focusMm: 0 },
      ],
      thicknessMm: 6,
      bowMm: 0.8,
      kerfThresholdJPerMm2: 0.2,
    });
  });

  it('has the focus where a ramp found it', () => {
    const { grounds } = setUp();
    const made = predictor({ grounds: { ...grounds, focus: { offsetMm: 0.7, spreadMm: 0.2 } } });
    const input = made.inputFor([at(12, { focusMm: -1 })], 0.05);
    expect(input.passes[0]!.focusMm).toBeCloseTo(-0.3, 9);
    expect(input.doubt.focusMm).toBe(0.2);
  });

  it('leaves beam and power of the machine in no doubt where its coupons gave the energy, and only there', () => {
    const { beam, grounds } = setUp();
    const doubted = { ...beam, doubt: { diameter: 0.1, spot: 0.1, computed: true, leastFactor: 0.8 } };
    const inputWhere = (holdsPower: boolean) =>
      predictor({ beam: doubted, grounds: { ...grounds, holdsPower } }).inputFor(SHORT, 0.07);
    expect([inputWhere(true).beam.doubt, inputWhere(true).doubt.power]).toEqual([null, 0]);
    expect([inputWhere(false).beam.doubt, inputWhere(false).doubt.power]).toEqual([doubted.doubt, 0.07]);
  });

  it('is the more in doubt the farther its strongest pass is from the power of the coupons', () => {
    const { grounds } = setUp();
    const span = { thicknessMm: { min: 6, max: 6 }, powerW: { min: 40, max: 40 } };
    const made = predictor({ grounds: { ...grounds, removalSpread: 0.02, span } });
    const removalAt = (...watts: number[]) =>
      made.inputFor(
        watts.map((powerW) => at(12, { powerW })),
        0.05,
      ).doubt.removal;
    expect(removalAt(40, 10)).toBe(0.02);
    // Each doubling adds 0.1.
    expect(removalAt(10, 80)).toBeCloseTo(Math.hypot(0.02, 0.1), 9);
  });
});

describe('predictions are looked up by what they rest on', () => {
  it.each<[string, readonly PassFact[]]>([
    ['power', [at(12, { powerW: 20 })]],
    ['speed', [at(11)]],
    ['focus', [at(12, { focusMm: -2 })]],
    ['number of passes', [at(12), at(12)]],
  ])('another %s gives another depth', (_, other) => {
    const made = predictor();
    const depth = (passes: readonly PassFact[]) => told(made.predict(passes, 0.05, 'through')).prediction.depthMm;
    const before = depth([at(12)]);
    expect(depth(other)).not.toBe(before);
    expect(depth([at(12)])).toBe(before);
  });

  it('of the set-up whose spot is told', () => {
    const made = predictor();
    expect(made.spotMm).toBe(made.setup.beam.spotMm);
    expect(made.spotMm).toBeGreaterThan(0.1);
  });
});
