import { describe, expect, it } from 'vitest';
import { type Calibration, calibrate } from '../../src/physics/calibration/calibration.ts';
import type { CouponRow } from '../../src/physics/calibration/coupon-row.ts';
import { firstCoupon, nextCoupon } from '../../src/physics/calibration/next-coupon.ts';
import { SCATTER_FACTORS, SCATTER_WEIGHTS } from '../../src/physics/calibration/prior.ts';
import { shareAt } from '../../src/physics/doubt/samples.ts';
import { speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { NO_DOUBT } from '../physics/sample-cuts.ts';
import { BEAM, cutCoupon, Dice, measureGroove, PRIOR, partingSpeed, type Shop } from '../physics/synthetic-shop.ts';

function calibrated(rows: readonly CouponRow[]): Calibration {
  const result = calibrate(PRIOR, rows);
  if (result.calibration === null) throw new Error(result.problem);
  return result.calibration;
}

const THICKNESSES = [3, 4, 6, 9];

describe('calibrating a shop whose removal energy is known to the test alone', () => {
  const options = {
    beam: BEAM,
    powerW: 50,
    focusMm: 0,
    passes: 1,
    thicknessesMm: THICKNESSES,
    slowestMmPerS: 2,
    fastestMmPerS: 60,
  };

  it.each([2.2, 2.8, 3.5, 4.4, 5.5])(
    'finds where sheets of %s J/mm³ part, to 6 %, from 20 tongues cut as proposed, and holds that energy in its 90 % band',
    (removalJPerMm3) => {
      const shop: Shop = { stock: { ...PRIOR.stock, removalJPerMm3 }, scatter: 0.02, dice: new Dice(7) };
      const rows: CouponRow[] = [];
      let proposal = firstCoupon(PRIOR, options);
      while (rows.length < 20) {
        rows.push(
          cutCoupon(shop, proposal!.thicknessMm, { powerW: 50, speedMmPerS: proposal!.speedMmPerS, focusMm: 0 }),
        );
        proposal = nextCoupon(calibrated(rows), options);
      }
      const found = calibrated(rows);
      // The energy alone is known less well than where sheets part: its median is off by up to 9 % here.
      expect(removalJPerMm3).toBeGreaterThan(found.removalLow);
      expect(removalJPerMm3).toBeLessThan(found.removalHigh);
      expect(found.spread).toBeLessThan(0.1);
      for (const thicknessMm of THICKNESSES) {
        const passes = [{ powerW: 50, speedMmPerS: 10, focusMm: 0 }];
        const cut = { beam: BEAM, stock: shop.stock, doubt: NO_DOUBT, passes, thicknessMm, bowMm: 0 };
        const truth = speedForProbability(cut, 0.5)!;
        expect(Math.abs(partingSpeed(found, thicknessMm).medianMmPerS / truth - 1)).toBeLessThan(0.06);
      }
    },
  );

  it.each([
    [2.8, 0.08],
    [3.5, 0.3],
    [4.4, 0.25],
  ])(
    'recovers %s J/mm³ to a twentieth where the divergence share is %s, from 12 tongues and 8 measured grooves',
    (removal, share) => {
      const stock = { ...PRIOR.stock, removalJPerMm3: removal, divergenceShare: share };
      const shop: Shop = { stock, scatter: 0.02, dice: new Dice(7) };
      const rows = [160, 120, 80, 60, 40, 20, 10, 5].map((speedMmPerS) =>
        measureGroove(shop, { powerW: 50, speedMmPerS, focusMm: 0 }),
      );
      while (rows.length < 20) {
        const { thicknessMm, speedMmPerS } = nextCoupon(calibrated(rows), options)!;
        rows.push(cutCoupon(shop, thicknessMm, { powerW: 50, speedMmPerS, focusMm: 0 }));
      }
      const found = calibrated(rows);
      expect(Math.abs(found.removalJPerMm3 / removal - 1)).toBeLessThan(0.05);
      expect(share).toBeGreaterThan(found.divergence.low);
      expect(share).toBeLessThan(found.divergence.high);
    },
  );

  it('holds the true value in its 90 % band in 85–95 % of 200 shops', () => {
    const dice = new Dice(2026);
    const boundaries = THICKNESSES.map((thicknessMm) => {
      const passes = [{ powerW: 50, speedMmPerS: 10, focusMm: 0 }];
      const cut = { beam: BEAM, stock: PRIOR.stock, doubt: NO_DOUBT, passes, thicknessMm, bowMm: 0 };
      return { thicknessMm, speedMmPerS: speedForProbability(cut, 0.5)! };
    });
    const shops = 200;
    let removalHeld = 0;
    let shareHeld = 0;
    for (let i = 0; i < shops; i++) {
      const removalJPerMm3 = PRIOR.stock.removalJPerMm3 * Math.exp(PRIOR.removalSpread * dice.normal());
      const divergenceShare = shareAt(PRIOR.stock.divergenceShare, PRIOR.divergence, dice.normal());
      const shop: Shop = {
        stock: { ...PRIOR.stock, removalJPerMm3, divergenceShare },
        scatter: PRIOR.repeat.tongues * dice.pick(SCATTER_FACTORS, SCATTER_WEIGHTS),
        dice,
      };
      const rows = boundaries.flatMap(({ thicknessMm, speedMmPerS }) =>
        [0.55, 0.8, 1.1, 1.6].map((factor) =>
          cutCoupon(shop, thicknessMm, { powerW: 50, speedMmPerS: speedMmPerS * factor, focusMm: 0 }),
        ),
      );
      for (const speedMmPerS of [5, 12, 25, 50])
        rows.push(measureGroove(shop, { powerW: 50, speedMmPerS, focusMm: 0 }));
      const found = calibrated(rows);
      if (removalJPerMm3 >= found.removalLow && removalJPerMm3 <= found.removalHigh) removalHeld++;
      if (divergenceShare >= found.divergence.low && divergenceShare <= found.divergence.high) shareHeld++;
    }
    expect(removalHeld / shops).toBeGreaterThanOrEqual(0.85);
    expect(removalHeld / shops).toBeLessThanOrEqual(0.95);
    expect(shareHeld / shops).toBeGreaterThanOrEqual(0.85);
    expect(shareHeld / shops).toBeLessThanOrEqual(0.96);
  });
});
