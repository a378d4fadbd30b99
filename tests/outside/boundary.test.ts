import { describe, expect, it } from 'vitest';
import { predictCut } from '../../src/physics/doubt/predict.ts';
import { speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { ACRYLIC, beamOf, DOUBT, PINE } from '../physics/sample-cuts.ts';
import { fitRemoval } from './boundary-fit.ts';

/**
 * Southern pine, 240 W CO₂, air jet, the highest feed at full penetration: [MCMILLIN-1971]. The lens is not stated.
 */
const POINTS = [
  { powerW: 240, thicknessMm: 6.35, speedMmPerS: 41.95 },
  { powerW: 240, thicknessMm: 25.4, speedMmPerS: 6.18 },
];

/** Beam of a given spot at 10.6 µm and M² 1.2, by the cone that diffraction gives it. */
const beamWithSpot = (spotMm: number) => beamOf(spotMm, (Math.PI * spotMm ** 2) / (4 * 1.2 * 0.0106));

describe('the Forest Service boundary in pine: a fit, and no check of the model', () => {
  // Derived: for each spot that the unstated lens may have had, the pair that reproduces both points.
  it.each([
    [0.137, 6.05, 0.017],
    [0.17, 4.87, 0.04],
    [0.2, 4.14, 0.076],
    [0.235, 3.52, 0.145],
  ])('with a spot of %s mm both points ask for H %s J/mm³ and g %s', (spotMm, removal, share) => {
    const fit = fitRemoval(POINTS, beamWithSpot(spotMm), PINE, null);
    expect(Math.abs(fit.removalJPerMm3 / removal - 1)).toBeLessThan(0.01);
    expect(Math.abs(fit.divergenceShare - share)).toBeLessThan(0.005);
    for (const residual of fit.residuals) expect(Math.abs(residual)).toBeLessThan(0.01);
    expect(fit.removalJPerMm3 * spotMm).toBeCloseTo(0.83, 1);
  });

  it('gave the catalogue’s pine before published cuts were weighed, 3.5 J/mm³, at the share of 0.15 and a spot of 0.235 mm', () => {
    const fit = fitRemoval(POINTS, beamWithSpot(0.235), PINE, 0.15);
    expect(Math.abs(fit.removalJPerMm3 / 3.5 - 1)).toBeLessThan(0.01);
  });

  it.each(POINTS)('has two sides at $thicknessMm mm: through at 0.8 of the speed, not at 1.25', (point) => {
    const median = (factor: number) => {
      const passes = [{ powerW: point.powerW, speedMmPerS: factor * point.speedMmPerS, focusMm: 0 }];
      const cut = {
        beam: beamWithSpot(0.235),
        stock: PINE,
        doubt: DOUBT,
        passes,
        thicknessMm: point.thicknessMm,
        bowMm: 0,
      };
      return predictCut(cut).prediction!.depthMm;
    };
    expect(median(0.8)).toBeGreaterThan(point.thicknessMm);
    expect(median(1.25)).toBeLessThan(point.thicknessMm);
  });

  it('follows v ∝ t^−1.38 between the points, where one severance energy for all thicknesses is off by 1.7', () => {
    const [thin, thick] = POINTS.map((point) => {
      const passes = [{ powerW: 240, speedMmPerS: 10, focusMm: 0 }];
      const cut = {
        beam: beamWithSpot(0.235),
        stock: PINE,
        doubt: DOUBT,
        passes,
        thicknessMm: point.thicknessMm,
        bowMm: 0,
      };
      return speedForProbability(cut, 0.5)!;
    }) as [number, number];
    const energy = ({ powerW, speedMmPerS, thicknessMm }: (typeof POINTS)[number]) =>
      powerW / (speedMmPerS * thicknessMm);
    expect(energy(POINTS[1]!) / energy(POINTS[0]!)).toBeCloseTo(1.7, 1);
    expect(Math.abs(Math.log(thin / thick) / Math.log(4) - 1.38)).toBeLessThan(0.03);
  });
});

describe('the removal energy of acrylic: a check of the input, not of the model', () => {
  it('is 3.5 kJ/g at 1.19 g/cm³ ([COZZENS-1978])', () => {
    expect(Math.abs(ACRYLIC.removalJPerMm3 - 3.5 * 1.19)).toBeLessThan(0.01);
  });
});
