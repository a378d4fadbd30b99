import { describe, expect, it } from 'vitest';
import { predictCut } from '../../src/physics/doubt/predict.ts';
import { type ReachInput, reachCurve, speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { co2Beam, DOUBT, PINE, pineCut } from './sample-cuts.ts';

const input: ReachInput = { beam: co2Beam(2), stock: PINE, doubt: DOUBT, powerW: 50, passes: 1, focusMm: 0 };

describe('reach', () => {
  it('falls with the speed, the band around the median', () => {
    const curve = reachCurve(input, [2, 4, 8, 16, 32]);
    for (const [i, point] of curve.entries()) {
      expect(point.lowMm).toBeLessThan(point.sureMm);
      expect(point.sureMm).toBeLessThan(point.depthMm);
      expect(point.depthMm).toBeLessThan(point.highMm);
      if (i > 0) expect(point.depthMm).toBeLessThan(curve[i - 1]!.depthMm);
    }
  });

  it('agrees with the prediction of a cut at the same settings', () => {
    const { prediction } = predictCut(pineCut(8));
    expect(reachCurve(input, [8])[0]).toMatchObject({
      depthMm: prediction!.depthMm,
      lowMm: prediction!.depthLowMm,
      highMm: prediction!.depthHighMm,
    });
  });

  it('finds the speed at which a cut parts as surely as asked', () => {
    for (const probability of [0.5, 0.9, 0.95]) {
      const speedMmPerS = speedForProbability(pineCut(8), probability)!;
      expect(predictCut(pineCut(speedMmPerS)).prediction!.throughProbability).toBeCloseTo(probability, 2);
    }
    expect(speedForProbability(pineCut(8, 1e5), 0.9)).toBeNull();
  });

  it('finds no speed for a cut that cannot be computed', () => {
    expect(speedForProbability({ ...pineCut(8), thicknessMm: 0 }, 0.9)).toBeNull();
    expect(speedForProbability({ ...pineCut(8), passes: [] }, 0.9)).toBeNull();
  });

  it('reaches with as many passes as may be marched', () => {
    expect(reachCurve({ ...input, passes: 500 }, [4])[0]!.depthMm).toBeGreaterThan(reachCurve(input, [4])[0]!.depthMm);
  });

  it.each([
    ['no passes', { passes: 0 }, [4], /between 1 and 500, not at 0/],
    ['half a pass', { passes: 1.5 }, [4], /not at 1\.5/],
    ['a billion passes', { passes: 1e9 }, [4], /between 1 and 500/],
    ['no power', { powerW: 0 }, [4], /power/],
    ['a speed of 0', {}, [0], /speed must be above 0/],
  ])('refuses %s', (_, change, speeds, message) => {
    const reached = () => reachCurve({ ...input, ...change }, speeds);
    expect(reached).toThrow(RangeError);
    expect(reached).toThrow(message);
  });
});
