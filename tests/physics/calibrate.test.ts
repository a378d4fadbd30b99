import { describe, expect, it } from 'vitest';
import { type Calibration, calibrate } from '../../src/physics/calibration/calibration.ts';
import type { CouponRow } from '../../src/physics/calibration/coupon-row.ts';
import { firstCoupon, nextCoupon } from '../../src/physics/calibration/next-coupon.ts';
import { beyondSpan } from '../../src/physics/calibration/span.ts';
import { BEAM, cutCoupon, Dice, PRIOR, partingSpeed, type Shop } from './synthetic-shop.ts';

function calibrated(rows: readonly CouponRow[]): Calibration {
  const result = calibrate(PRIOR, rows);
  if (result.calibration === null) throw new Error(result.problem);
  return result.calibration;
}

const row = (
  thicknessMm: number,
  speedMmPerS: number,
  through: boolean | null,
  depthMm: number | null = null,
): CouponRow => ({
  beam: BEAM,
  lens: '2in',
  piece: 'a',
  passes: [{ powerW: 50, speedMmPerS, focusMm: 0 }],
  thicknessMm,
  through,
  depthMm,
});

/** Every number of a calibration, for finding one that is none. */
function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (value === null || typeof value !== 'object') return [];
  return Object.values(value).flatMap(numbersIn);
}

describe('calibrating on thin or odd evidence leaves a wide band and never NaN', () => {
  const wide = 0.5 * PRIOR.removalSpread;
  it.each([
    ['one coupon that parted', [row(6, 10, true)], wide],
    ['one coupon that did not', [row(6, 10, false)], wide],
    ['one measured depth', [row(9, 10, false, 6)], wide],
    ['all parted', [3, 4, 5, 6, 7, 8].map((speed) => row(6, speed, true)), wide],
    [
      'all parted, far beyond what the catalogue expects',
      [20, 30, 40, 60, 80].map((speed) => row(6, speed, true)),
      wide,
    ],
    ['none parted', [12, 14, 16, 18, 20, 25].map((speed) => row(6, speed, false)), wide],
    [
      'none parted, far below what the catalogue expects',
      [1, 1.5, 2, 2.5, 3].map((speed) => row(6, speed, false)),
      wide,
    ],
    ['rows that contradict each other', [row(6, 16, true), row(6, 14, true), row(6, 8, false), row(6, 7, false)], 0.12],
  ])('%s', (_, rows, least) => {
    const found = calibrated(rows);
    expect(found.spread).toBeGreaterThan(least);
    expect(found.removalLow).toBeLessThan(found.removalJPerMm3);
    expect(found.removalHigh).toBeGreaterThan(found.removalJPerMm3);
    for (const number of numbersIn(found)) expect(Number.isFinite(number)).toBe(true);
  });

  // 1.645 is the normal score of 95 %; the band of thin evidence keeps at least 0.75 of the catalogue's spread, and never much more than it.
  it.each([
    ['one measured depth', [row(9, 10, false, 6)]],
    ['one coupon that parted', [row(6, 5, true)]],
    ['one coupon that did not', [row(6, 15, false)]],
  ])('%s: a band of the catalogue’s order on either side', (_, rows) => {
    const { removalJPerMm3, removalLow, removalHigh } = calibrated(rows);
    for (const side of [Math.log(removalJPerMm3 / removalLow), Math.log(removalHigh / removalJPerMm3)]) {
      expect(side).toBeGreaterThanOrEqual(1.64485 * 0.75 * PRIOR.removalSpread - 1e-9);
      expect(side).toBeLessThan(1.64485 * 1.3 * PRIOR.removalSpread);
    }
  });

  it('more coupons than any shop cuts are refused, and none of them blamed', () => {
    const rows = Array.from({ length: 301 }, () => row(6, 10, true));
    expect(calibrate(PRIOR, rows)).toEqual({
      calibration: null,
      problem: 'more than 300 coupons are not weighed at once',
      problems: [],
    });
  });

  it('says that only one side of the boundary was seen', () => {
    expect(calibrated([row(6, 5, true), row(6, 6, true)]).oneSided).toBe('all-parted');
    expect(calibrated([row(6, 15, false)]).oneSided).toBe('none-parted');
    expect(calibrated([row(6, 5, true), row(6, 15, false)]).oneSided).toBeNull();
  });
});

describe('calibrating', () => {
  const shop = (scatter: number): Shop => ({
    stock: { ...PRIOR.stock, removalJPerMm3: 4.5 },
    scatter,
    dice: new Dice(3),
  });
  const comb = (scatter: number, thicknesses = [6]) => {
    const at = shop(scatter);
    return thicknesses.flatMap((thicknessMm) =>
      [4, 5, 6, 7, 8, 9, 10, 12].map((speed) =>
        cutCoupon(at, thicknessMm, { powerW: 50, speedMmPerS: (speed * 8) / thicknessMm, focusMm: 0 }),
      ),
    );
  };

  it('draws the removal energy towards what was cut, surer than the catalogue', () => {
    const found = calibrated(comb(0.03));
    expect(found.removalJPerMm3).toBeGreaterThan(4);
    expect(found.removalJPerMm3).toBeLessThan(5);
    // The energy alone hangs together with the divergence share; where the sheet parts is known far better.
    expect(found.spread).toBeLessThan(PRIOR.removalSpread * 0.7);
    expect(partingSpeed(found, 6).half).toBeLessThan((1.645 * PRIOR.removalSpread) / 2);
  });

  it('is less sure of coupons that scatter', () => {
    expect(partingSpeed(calibrated(comb(0.3)), 6).half).toBeGreaterThan(partingSpeed(calibrated(comb(0.02)), 6).half);
  });

  it('moves the divergence share only when the coupons span thicknesses', () => {
    const one = calibrated(comb(0.03));
    expect(one.shareFitted).toBe(false);
    expect(one.divergenceShare).toBe(PRIOR.stock.divergenceShare);
    expect(one.divergence).toEqual(PRIOR.divergence);
    expect(calibrated(comb(0.03, [3, 6, 9])).shareFitted).toBe(true);
  });

  it('names the pair where less energy did what more did not, and no other', () => {
    const rows = [row(6, 5, true), row(6, 12, true), row(6, 9, false), row(6, 14, false), row(4, 8, false)];
    expect(calibrated(rows).contradictions).toEqual([{ parted: 1, stayed: 2 }]);
  });

  it('knows where the boundary lies only from coupons on both sides of it, a depth inside the sheet being one', () => {
    const inside = { ...row(6, 9, false), through: null, depthMm: 4 };
    const sides = (...rows: CouponRow[]) => calibrated(rows).bracketed;
    expect(sides(row(6, 5, true), row(6, 9, false))).toBe(true);
    expect(sides(row(6, 5, true), inside)).toBe(true);
    expect(sides(row(6, 5, true), row(6, 4, true))).toBe(false);
    expect(sides(row(6, 9, false), inside)).toBe(false);
  });

  it('does not compare lenses, thicknesses or focus with each other', () => {
    const other = { ...row(6, 9, false), lens: '4in' };
    const lowered = { ...row(6, 9, false), passes: [{ powerW: 50, speedMmPerS: 9, focusMm: -2 }] };
    expect(calibrated([row(6, 12, true), other, lowered, row(5, 9, false)]).contradictions).toEqual([]);
  });

  it('shows as a residual what does not agree with the fit', () => {
    const rows = [...comb(0.02), row(6, 3, false), row(12, 10, false, 1)];
    const residuals = calibrated(rows).residuals;
    const odd = residuals.find((each) => each.index === rows.length - 2)!;
    expect(odd.logMiss).toBeLessThan(-0.3);
    expect(odd.probability).toBeLessThan(0.1);
    expect(residuals[rows.length - 1]!.logMiss).toBeLessThan(-1);
    expect(residuals.filter((each) => each.logMiss === 0).length).toBeGreaterThanOrEqual(6);
  });

  it('is not bent by one blunder', () => {
    const clean = calibrated(comb(0.03));
    const spoilt = calibrated([...comb(0.03), row(6, 2, false)]);
    expect(Math.abs(spoilt.removalJPerMm3 / clean.removalJPerMm3 - 1)).toBeLessThan(0.1);
  });

  it('does not hang on the order of the rows', () => {
    const rows = comb(0.1, [4, 8]);
    expect(calibrated([...rows].reverse()).removalJPerMm3).toBeCloseTo(calibrated(rows).removalJPerMm3, 9);
  });

  it('adds to the band away from the coupons, beyond one and a half times their thickness and their power', () => {
    const { span } = calibrated(comb(0.03));
    expect(span).toEqual({ thicknessMm: { min: 6, max: 6 }, powerW: { min: 50, max: 50 } });
    expect(beyondSpan(span, { thicknessMm: 6, powerW: 50 })).toBe(0);
    expect(beyondSpan(span, { thicknessMm: 9, powerW: 50 })).toBe(0);
    expect(beyondSpan(span, { thicknessMm: 4, powerW: 50 })).toBe(0);
    const far = { thicknessMm: 18, powerW: 50 };
    expect(beyondSpan(span, far)).toBeCloseTo(0.15, 9);
    expect(beyondSpan(span, { thicknessMm: 6, powerW: 100 })).toBeCloseTo(0.1, 9);
    expect(beyondSpan(span, { ...far, powerW: 25 })).toBeCloseTo(Math.hypot(0.15, 0.1), 9);
  });
});

describe('what was learned hangs together', () => {
  const prior = { ...PRIOR, focusSpreadMm: 0.5, repeat: { pieces: 0.05, focusMm: 0.12, tongues: 0.04 } };
  const rows = [4, 6, 8, 9, 11, 12, 15, 20].map((speed) => row(6, speed, speed < 10));
  const found = calibrate(prior, rows).calibration!;

  it('the sheet of the coupons is predicted far better than the energy is known', () => {
    const { half } = partingSpeed(found, 6);
    expect(half).toBeLessThan(1.645 * found.spread);
    expect(partingSpeed(found, 2).half).toBeGreaterThan(half);
    expect(partingSpeed(found, 15).half).toBeGreaterThan(half);
  });

  it('a harder sheet goes with a better focus and a narrower cut: both cut the same tongues', () => {
    const { points } = found.learned;
    const mean = (values: number[]) => values.reduce((sum, each) => sum + each, 0) / values.length;
    const split = (of: (point: (typeof points)[number]) => number) => {
      const sorted = [...points].sort((a, b) => of(a) - of(b)).map(({ removalFactor }) => Math.log(removalFactor));
      return mean(sorted.slice(0, 80)) - mean(sorted.slice(-80));
    };
    expect(split(({ divergenceShare }) => divergenceShare)).toBeGreaterThan(0.1);
    expect(split(({ focusShiftMm }) => Math.abs(focusShiftMm))).toBeGreaterThan(0.02);
  });

  it('its points are the distribution that was weighed', () => {
    const logs = found.learned.points.map(({ removalFactor }) =>
      Math.log(removalFactor * found.learned.removalJPerMm3),
    );
    const sorted = logs.sort((a, b) => a - b);
    expect(Math.exp(sorted[125]!) / found.removalJPerMm3).toBeCloseTo(1, 1);
    expect(Math.exp(sorted[12]!) / found.removalLow).toBeCloseTo(1, 1);
    expect(Math.exp(sorted[238]!) / found.removalHigh).toBeCloseTo(1, 1);
    for (const point of found.learned.points) {
      for (const value of Object.values(point)) expect(Number.isFinite(value)).toBe(true);
    }
  });

  it('two pieces tell more than one of twice the tongues', () => {
    const again = rows.map((one) => ({ ...one, piece: 'b' }));
    const one = calibrate(prior, [...rows, ...rows]).calibration!;
    const two = calibrate(prior, [...rows, ...again]).calibration!;
    expect(partingSpeed(two, 6).half).toBeLessThan(partingSpeed(one, 6).half);
  });

  it('stays a distribution where rows without end contradict what is believed', () => {
    const many = Array.from({ length: 300 }, (_, i) => row(6, 60 + (i % 7), true));
    const { learned, ...rest } = calibrate(prior, many).calibration!;
    expect(rest.removalJPerMm3).toBeLessThan(PRIOR.stock.removalJPerMm3);
    for (const number of numbersIn(learned)) expect(Number.isFinite(number)).toBe(true);
  });
});

describe('rows that cannot be used', () => {
  it.each<[string, CouponRow, RegExp]>([
    ['zero power', { ...row(6, 5, true), passes: [{ powerW: 0, speedMmPerS: 5, focusMm: 0 }] }, /power/],
    ['a speed of 0', row(6, 0, true), /speed/],
    ['no pass', { ...row(6, 5, true), passes: [] }, /no pass/],
    ['thickness 0', row(0, 5, true), /thickness/],
    ['no outcome', row(6, 5, null), /neither/],
    ['a depth of 0', row(6, 5, null, 0), /depth/],
    ['parted at half the depth', row(6, 5, true, 3), /cannot have parted/],
    ['a depth beyond the sheet that stayed whole', row(6, 5, false, 7), /parts 6 mm/],
    ['a spot of 0', { ...row(6, 5, true), beam: { ...BEAM, spotMm: 0 } }, /spot/],
  ])('%s: left out and named, the others counted', (_, bad, message) => {
    const found = calibrated([row(6, 5, true), bad, row(6, 14, false)]);
    expect(found.coupons).toBe(2);
    expect(found.problems).toHaveLength(1);
    expect(found.problems[0]!.index).toBe(1);
    expect(found.problems[0]!.problem).toMatch(message);
    expect(found.residuals.map((each) => each.index)).toEqual([0, 2]);
  });

  it('leave no calibration when there is no other', () => {
    const result = calibrate(PRIOR, [row(6, 0, true)]);
    expect(result.calibration).toBeNull();
    expect(result.problem).toMatch(/no coupon/);
  });

  it('nor do more than anyone would cut', () => {
    expect(
      calibrate(
        PRIOR,
        Array.from({ length: 301 }, () => row(6, 5, true)),
      ).problem,
    ).toMatch(/more than 300/);
  });

  it('neither does a prior that cannot be', () => {
    expect(calibrate({ ...PRIOR, removalSpread: Number.NaN }, [row(6, 5, true)]).problem).toMatch(/spread/);
    expect(calibrate({ ...PRIOR, stock: { ...PRIOR.stock, removalJPerMm3: -1 } }, [row(6, 5, true)]).problem).toMatch(
      /removal/,
    );
  });
});

describe('the next coupon', () => {
  const options = {
    beam: BEAM,
    powerW: 50,
    focusMm: 0,
    passes: 1,
    thicknessesMm: [6],
    slowestMmPerS: 2,
    fastestMmPerS: 40,
  };

  it('lies where the outcome is open', () => {
    const first = firstCoupon(PRIOR, options)!;
    expect(first.throughProbability).toBeGreaterThan(0.3);
    expect(first.throughProbability).toBeLessThan(0.7);
    const rows = [row(6, 5, true), row(6, 7, true), row(6, 12, false), row(6, 14, false)];
    const next = nextCoupon(calibrated(rows), options)!;
    expect(next.speedMmPerS).toBeGreaterThan(7);
    expect(next.speedMmPerS).toBeLessThan(12);
  });

  it('tells less and less', () => {
    const rows = [
      row(6, 5, true),
      row(6, 8, true),
      row(6, 9, true),
      row(6, 11, false),
      row(6, 12, false),
      row(6, 14, false),
    ];
    expect(nextCoupon(calibrated(rows), options)!.informationBits).toBeLessThan(
      firstCoupon(PRIOR, options)!.informationBits,
    );
  });

  it('is none where no thickness or speed is offered', () => {
    expect(firstCoupon(PRIOR, { ...options, thicknessesMm: [] })).toBeNull();
    expect(firstCoupon(PRIOR, { ...options, slowestMmPerS: 50, fastestMmPerS: 40 })).toBeNull();
  });
});
