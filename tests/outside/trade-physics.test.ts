import { describe, expect, it } from 'vitest';
import { depthOfFocusMm } from '../../src/physics/beam/focused-beam.ts';
import { predictCut } from '../../src/physics/doubt/predict.ts';
import type { Stock } from '../../src/physics/march/stock.ts';
import { speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { ACRYLIC, co2Beam, DOUBT } from '../physics/sample-cuts.ts';

/** Common practice, no source: below it wood and acrylic char, melt or flare. */
const FLOOR_MM_PER_S = 4;

/** The highest speed at which the median goes through in one pass, focus on the face. */
function medianSpeed(
  stock: Stock,
  powerW: number,
  thicknessMm: number,
  focalIn: number,
  diameterMm: number,
  m2: number,
): number {
  const passes = [{ powerW, speedMmPerS: FLOOR_MM_PER_S, focusMm: 0 }];
  const cut = { beam: co2Beam(focalIn, diameterMm, m2), stock, doubt: DOUBT, passes, thicknessMm, bowMm: 0 };
  return speedForProbability(cut, 0.5)!;
}

describe('the reach of a source in acrylic (common practice, no source; speeds derived) at a 7 mm beam, M² 1.2', () => {
  it.each([
    [50, 6.35, 2, 8, true],
    [50, 12.7, 4, 2.9, false],
    [100, 12.7, 4, 5.8, true],
    [100, 12.7, 1.5, 3.8, false],
  ])('%s W, %s mm, %s in lens: about %s mm/s, cuts: %s', (powerW, thicknessMm, focalIn, speed, cuts) => {
    const found = medianSpeed(ACRYLIC, powerW, thicknessMm, focalIn, 7, 1.2);
    expect(Math.abs(found / speed - 1)).toBeLessThan(0.05);
    expect(found >= FLOOR_MM_PER_S).toBe(cuts);
  });
});

const beams = [6, 7, 8].flatMap((diameterMm) => [1.1, 1.2, 1.3].map((m2) => ({ diameterMm, m2 })));

describe.each(beams)(
  'the trade’s facts at a $diameterMm mm beam, M² $m2 (common practice, no source)',
  ({ diameterMm, m2 }) => {
    const median = (stock: Stock, powerW: number, thicknessMm: number, focalIn: number) => {
      const passes = [{ powerW, speedMmPerS: FLOOR_MM_PER_S, focusMm: 0 }];
      const cut = { beam: co2Beam(focalIn, diameterMm, m2), stock, doubt: DOUBT, passes, thicknessMm, bowMm: 0 };
      return predictCut(cut).prediction!.depthMm;
    };

    // Of the catalogue's own values, wood among them, catalogue-trade.test.ts asks the same.
    it('50 W is counted on for 6.35 mm acrylic and not for 12.7 mm; 100 W is, through a 4 in lens', () => {
      expect(median(ACRYLIC, 50, 6.35, 2)).toBeGreaterThanOrEqual(6.35);
      for (const focalIn of [1.5, 2, 4]) expect(median(ACRYLIC, 50, 12.7, focalIn)).toBeLessThan(12.7);
      expect(median(ACRYLIC, 100, 12.7, 4)).toBeGreaterThanOrEqual(12.7);
    });

    it('12.7 mm is above five depths of focus of a 1.5 in lens, and below of a 4 in lens, whatever the material', () => {
      expect(12.7 / depthOfFocusMm(co2Beam(1.5, diameterMm, m2), 'sqrt2')).toBeGreaterThan(5);
      expect(12.7 / depthOfFocusMm(co2Beam(4, diameterMm, m2), 'sqrt2')).toBeLessThan(5);
    });
  },
);

describe('12.7 mm acrylic at 100 W through a 1.5 in lens (common practice, no source)', () => {
  // For a beam of 6 mm a 1.5 in lens would just do by the march; there only the lens rule warns.
  it.each(beams.filter(({ diameterMm }) => diameterMm >= 7))(
    'is out of reach at $diameterMm mm, M² $m2',
    ({ diameterMm, m2 }) => {
      expect(medianSpeed(ACRYLIC, 100, 12.7, 1.5, diameterMm, m2)).toBeLessThan(FLOOR_MM_PER_S);
    },
  );
});

describe('the lens rule at a 7 mm beam, M² 1.2: sheet over √2 depth of focus (derived)', () => {
  it.each([
    [6, 2, 3.5],
    [3, 1.5, 3.1],
    [12.7, 1.5, 13],
    [12.7, 4, 1.9],
  ])('%s mm under a %s in lens is %s', (thicknessMm, focalIn, ratio) => {
    const found = thicknessMm / depthOfFocusMm(co2Beam(focalIn), 'sqrt2');
    expect(found.toFixed(ratio >= 10 ? 0 : 1)).toBe(ratio.toFixed(ratio >= 10 ? 0 : 1));
  });
});
