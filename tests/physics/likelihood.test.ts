import { describe, expect, it } from 'vitest';
import type { CouponRow } from '../../src/physics/calibration/coupon-row.ts';
import { likelihood, logLikelihood, partingProbability } from '../../src/physics/calibration/likelihood.ts';
import { BEAM } from './synthetic-shop.ts';

const coupon = (through: boolean | null, depthMm: number | null = null): CouponRow => ({
  beam: BEAM,
  lens: '2in',
  piece: 'a',
  passes: [{ powerW: 50, speedMmPerS: 10, focusMm: 0 }],
  thicknessMm: 6,
  through,
  depthMm,
});

/** Margins from −20 to 20 scatters, evenly. */
const margins = Array.from({ length: 4001 }, (_, i) => (i - 2000) / 100);

describe('how likely a coupon’s outcome is', () => {
  // The normal distribution's own figures: 0.8413 at 1, 0.9772 at 2; two rows in a hundred are simply wrong (common practice, no source).
  it('is the normal distribution of the margin, but for one row in a hundred that parts and one that stays whatever was done', () => {
    expect(partingProbability(0, 0.1)).toBeCloseTo(0.5, 8);
    expect(partingProbability(0.1, 0.1)).toBeCloseTo(0.01 + 0.98 * 0.8413447, 6);
    expect(partingProbability(0.4, 0.2)).toBeCloseTo(0.01 + 0.98 * 0.9772499, 6);
    expect(partingProbability(9, 0.1)).toBeCloseTo(0.99, 8);
    expect(partingProbability(-9, 0.1)).toBeCloseTo(0.01, 8);
  });

  it('is that of parting for what parted and the rest for what did not', () => {
    for (const margin of [-0.3, -0.05, 0, 0.02, 0.4]) {
      expect(likelihood(coupon(true), margin, 0.1)).toBe(partingProbability(margin, 0.1));
      expect(likelihood(coupon(false), margin, 0.1)).toBeCloseTo(1 - partingProbability(margin, 0.1), 8);
    }
  });

  it('is a density for a depth that was measured: over all margins it sums to one', () => {
    for (const scatter of [0.05, 0.1, 0.3]) {
      // To twenty times 0.7, the scatter of a depth that was misread.
      const step = scatter / 20;
      const steps = Math.ceil((20 * 0.7) / step);
      let sum = 0;
      for (let k = -steps; k <= steps; k++) sum += likelihood(coupon(false, 4), k * step, scatter) * step;
      expect(sum / Math.sqrt(2 * Math.PI)).toBeCloseTo(1, 6);
    }
  });

  it('is for a depth highest where it was foretold, the same to either side, and never nothing', () => {
    const at = (margin: number) => likelihood(coupon(null, 4), margin, 0.1);
    for (const margin of [0.01, 0.1, 0.5, 2]) {
      expect(at(margin)).toBeLessThan(at(0));
      expect(at(margin)).toBeCloseTo(at(-margin), 12);
    }
    expect(at(1000)).toBeGreaterThan(0);
    // Half a unit off at a scatter of 0.1 is a misread depth, nothing else: 2 % with a scatter of 0.7.
    expect(at(0.7)).toBeCloseTo((0.02 / 0.7) * Math.exp(-0.5), 9);
  });

  it.each([
    ['parted', true],
    ['did not', false],
  ])('by the table is the logarithm of the same, for what %s', (_, outcome) => {
    for (const scatter of [0.03, 0.2]) {
      const off = margins.map((margin) => {
        const exact = Math.log(likelihood(coupon(outcome), margin * scatter, scatter));
        return Math.abs(logLikelihood(outcome, margin * scatter, scatter) - exact);
      });
      expect(Math.max(...off)).toBeLessThan(1e-4);
    }
  });

  it('by the table is the logarithm itself for a depth', () => {
    for (const margin of [-2, -0.1, 0, 0.03, 1]) {
      expect(logLikelihood(null, margin, 0.1)).toBe(Math.log(likelihood(coupon(null, 4), margin, 0.1)));
    }
  });
});
