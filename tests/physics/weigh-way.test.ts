import { describe, expect, it } from 'vitest';
import { explanationOf } from '../../src/physics/diagnosis/explanation.ts';
import type { Observation } from '../../src/physics/diagnosis/observation.ts';
import { type Way, waysOf } from '../../src/physics/diagnosis/ways.ts';
import { depthSigma, READING_SIGMA, weighWay } from '../../src/physics/diagnosis/weigh-way.ts';
import { predictCut } from '../../src/physics/doubt/predict.ts';
import { marchDepth } from '../../src/physics/march/march.ts';
import { DOUBT, NO_DOUBT, pineCut } from './sample-cuts.ts';
import { failedCutOf } from './simulated-fault.ts';

const seen = (depthMm: number | null): Observation => ({
  depthMm,
  where: null,
  kerfMm: null,
  since: null,
  edge: null,
});
const cut = { ...pineCut(5.5), kerfThresholdJPerMm2: 0.2 };
const wayOf = (kind: Parameters<typeof waysOf>[0], of = cut): Way => waysOf(kind, failedCutOf(of))[0]!;
const bell = (z: number) => Math.exp(-0.5 * z * z);

describe('how far a depth is in doubt', () => {
  // 1.645: the normal score of 95 %.
  it('is the half width of its 5 to 95 %, in the logarithm', () => {
    const { depthLowMm, depthHighMm } = predictCut(cut).prediction!;
    expect(depthSigma(cut)).toBeCloseTo(Math.log(depthHighMm / depthLowMm) / (2 * 1.64485), 4);
    expect(depthSigma({ ...cut, doubt: NO_DOUBT })).toBeCloseTo(0, 6);
  });
});

describe('how well one way explains what was seen', () => {
  it('falls with the depth as a bell whose width is the prediction’s doubt and the reading’s together', () => {
    const way = wayOf('settings-short');
    const reachedMm = marchDepth(cut.beam, cut.stock, cut.passes).depthMm;
    for (const sigma of [0, 0.2]) {
      for (const share of [1, 0.9, 0.7, 0.4]) {
        const { likelihood, miss } = weighWay(way, seen(share * reachedMm), sigma);
        expect(likelihood).toBeCloseTo(bell(Math.log(share) / Math.hypot(sigma, READING_SIGMA)), 6);
        expect(miss).toBeCloseTo(-Math.log(share), 6);
      }
    }
  });

  it('falls for a thicker sheet as what was read of its thickness lies off the declared one', () => {
    const way = wayOf('sheet-thicker');
    const at = (depthMm: number) => weighWay(way, seen(depthMm), 0.2).likelihood;
    for (const share of [0.95, 0.9, 0.8]) {
      expect(at(share * cut.thicknessMm) / at(cut.thicknessMm)).toBeCloseTo(bell(Math.log(share) / READING_SIGMA), 9);
    }
  });

  it('asks of a sheet that did not part only that it falls short', () => {
    const short = { ...cut, passes: [{ powerW: 20, speedMmPerS: 20, focusMm: 0 }] };
    const { value, miss } = weighWay(wayOf('source-weak', short), seen(null), 0.2);
    expect(miss).toBe(0);
    // The mildest loss will do, since none is needed.
    expect(value).toBe(wayOf('source-weak', short).range!.mild);
    expect(weighWay(wayOf('settings-short'), seen(null), 0.2).miss).toBeGreaterThan(0);
  });

  it('measures a depth against the side of the prediction on which it lies', () => {
    const thick = { ...pineCut(5.5, 30), doubt: { ...DOUBT, thicknessMm: 0 } };
    const { depthMm, depthLowMm, depthHighMm } = predictCut(thick).prediction!;
    const way = wayOf('settings-short', { ...thick, kerfThresholdJPerMm2: 0.2 });
    const fitAt = (depth: number) => explanationOf('settings-short', weighWay(way, seen(depth), 0.2), seen(depth)).fit;
    const play = 1.64485 * READING_SIGMA;
    const below = Math.exp(-Math.hypot(Math.log(depthMm / depthLowMm), play)) * depthMm;
    const above = Math.exp(Math.hypot(Math.log(depthHighMm / depthMm), play)) * depthMm;
    expect(depthMm / below, 'the two sides are not alike').not.toBeCloseTo(above / depthMm, 2);
    for (const [end, outwards] of [
      [below, -1],
      [above, 1],
    ] as const) {
      expect(fitAt(end * (1 - 0.001 * outwards))).toBe('within-doubt');
      expect(fitAt(end * (1 + 0.001 * outwards))).toBe('not-alone');
    }
  });
});
