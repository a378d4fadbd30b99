import { describe, expect, it } from 'vitest';
import { couponKey, couponsOf, names, rampOf, rowsUnder } from '../../../src/facts/coupons/coupons-here.ts';
import { repeatabilityOf } from '../../../src/facts/coupons/repeatability.ts';
import type { BenchCoupon, FocusRamp, Machine } from '../../../src/job/model.ts';
import { at, machine, material } from '../../rules/build-job.ts';

const coupon = (change: Partial<BenchCoupon> = {}): BenchCoupon => ({
  machine: 'shed-60w',
  lens: '2in',
  material: 'birch-plywood',
  thicknessMm: 4,
  powerW: 45,
  speedMmPerS: 8,
  passes: 2,
  focusMm: -1,
  focusStepMm: -0.5,
  through: true,
  depthMm: null,
  date: '2026-10-01',
  ...change,
});
const withBench = (coupons: BenchCoupon[], ramps: FocusRamp[] = []): Machine => ({
  ...machine(),
  bench: { id: 'shed-60w', file: 'shed-60w.bench.yaml', ramps, coupons, placeOf: () => at('shed-60w.bench.yaml', 1) },
});

describe('a coupon', () => {
  it.each<[string, Partial<BenchCoupon>]>([
    ['machine', { machine: 'barn-40w' }],
    ['lens', { lens: '4in' }],
    ['thickness', { thicknessMm: 3 }],
    ['power', { powerW: 40 }],
    ['speed', { speedMmPerS: 9 }],
    ['number of passes', { passes: 3 }],
    ['focus', { focusMm: 0 }],
    ['step of the focus', { focusStepMm: 0 }],
    ['outcome', { through: false }],
    ['depth', { depthMm: 3 }],
    ['day', { date: '2026-10-02' }],
  ])('of another %s is another', (_, change) => {
    expect(couponKey(coupon(change))).not.toBe(couponKey(coupon()));
    expect(couponsOf(withBench([coupon(), coupon(change), coupon()]), material())).toHaveLength(2);
  });

  it('is the same by whatever name its material goes', () => {
    expect(couponKey(coupon({ material: 'Birch PLY' }))).toBe(couponKey(coupon()));
  });
});

describe('coupons of a material on a machine', () => {
  it('are found by its id, its name and its other names, whatever their case', () => {
    const known = names({ id: 'birch-plywood', name: 'Birch plywood', aliases: ['Birkensperrholz', 'baltic birch'] });
    for (const name of ['birch-plywood', 'Birch Plywood', 'BALTIC BIRCH', 'birkensperrholz'])
      expect(known({ material: name }), name).toBe(true);
    expect(known({ material: 'poplar plywood' })).toBe(false);
  });

  it('are those of its own file that name the machine, then those of the bench, each once', () => {
    const [first, second, third] = [coupon({ date: '1' }), coupon({ date: '2' }), coupon({ date: '3' })];
    const own = material({ coupons: [first, { ...second, machine: 'barn-40w' }, third, { ...third, machine: null }] });
    const bench = withBench([second, third, coupon({ material: 'oak', date: '4' })]);
    expect(couponsOf(bench, own).map(({ date }) => date)).toEqual(['1', '3', '2']);
    expect(couponsOf(machine(), own).map(({ date }) => date)).toEqual(['1', '3']);
    expect(couponsOf(machine(), material())).toEqual([]);
  });
});

describe('coupons as the fit takes them', () => {
  const [lens] = machine().lenses;
  const pieces = (...coupons: BenchCoupon[]) => rowsUnder(machine(), lens!, coupons, 0).map(({ piece }) => piece);
  /** Coupons in the same piece get the same number, by the order in which they are met. */
  const together = (...coupons: BenchCoupon[]) => {
    const found = pieces(...coupons);
    return found.map((piece) => [...new Set(found)].indexOf(piece));
  };

  it('have their passes from the focus that the ramp found, and what came of them', () => {
    const [row, ...others] = rowsUnder(machine(), lens!, [coupon({ through: null, depthMm: 3.5 })], 0.3);
    expect(others).toEqual([]);
    expect(row).toMatchObject({ lens: '2in', thicknessMm: 4, through: null, depthMm: 3.5 });
    expect(row!.passes).toHaveLength(2);
    // −1 + 0.3 mm, and half a millimetre lower in the second pass.
    for (const [i, focusMm] of [-0.7, -1.2].entries()) {
      expect(row!.passes[i]!.focusMm).toBeCloseTo(focusMm, 9);
      expect(row!.passes[i]).toMatchObject({ powerW: 45, speedMmPerS: 8 });
    }
    expect(row!.beam.spotMm).toBeGreaterThan(0.1);
  });

  it('are none under a lens that gives no beam', () => {
    expect(rowsUnder(machine(), { ...lens!, focalMm: 0 }, [coupon()], 0)).toEqual([]);
  });

  it('are one piece where they are of one day and one sheet', () => {
    expect(together(coupon(), coupon({ thicknessMm: 4.4 }), coupon({ thicknessMm: 3.9 }))).toEqual([0, 0, 0]);
    expect(together(coupon(), coupon({ date: '2026-10-02' }), coupon())).toEqual([0, 1, 0]);
    expect(together(coupon({ date: null }), coupon(), coupon({ date: null }))).toEqual([0, 1, 0]);
  });

  it('are of two sheets where thicknesses are more than half a millimetre apart, whichever comes first', () => {
    expect(together(coupon({ thicknessMm: 4 }), coupon({ thicknessMm: 4.5 }))).toEqual([0, 0]);
    expect(together(coupon({ thicknessMm: 4 }), coupon({ thicknessMm: 4.51 }))).toEqual([0, 1]);
    expect(together(coupon({ thicknessMm: 6 }), coupon({ thicknessMm: 3 }), coupon({ thicknessMm: 6 }))).toEqual([
      0, 1, 0,
    ]);
    // Step by step they are the same sheet, though its ends are 0.8 mm apart.
    expect(together(coupon({ thicknessMm: 4 }), coupon({ thicknessMm: 4.8 }), coupon({ thicknessMm: 4.4 }))).toEqual([
      0, 0, 0,
    ]);
    expect(
      new Set(pieces(coupon({ thicknessMm: 3 }), coupon({ thicknessMm: 6 }), coupon({ thicknessMm: 9 }))).size,
    ).toBe(3);
  });
});

describe('the ramp of a lens', () => {
  const ramp = (lens: string, offsetMm: number): FocusRamp => ({ lens, offsetMm, spreadMm: 0.1, date: null });

  it('is the last one that was cut under it', () => {
    const [two, four] = machine().lenses;
    const on = withBench([], [ramp('2in', 0.2), ramp('2in', 0.4), ramp('4in', -1)]);
    expect(rampOf(on, two!)).toMatchObject({ offsetMm: 0.4 });
    expect(rampOf(on, four!)).toMatchObject({ offsetMm: -1 });
    expect(rampOf(withBench([], [ramp('4in', -1)]), two!)).toBeNull();
    expect(rampOf(machine(), two!)).toBeNull();
  });
});

describe('how well a shop cuts the same twice', () => {
  it.each(['acrylic', 'plastic', 'metal'] as const)('is evenly with %s', (family) => {
    const { pieces, focusMm, tongues } = repeatabilityOf({ family });
    // Sheets by 2 % and the source's power by 3 %: √(2² + 3²) = 3.6 %.
    expect([pieces, focusMm, tongues]).toEqual([expect.closeTo(0.03606, 5), 0.12, 0.03]);
  });

  it.each(['plywood', 'wood', 'leather'] as const)('is less so with %s, which has grown', (family) => {
    const { pieces, focusMm, tongues } = repeatabilityOf({ family } as Parameters<typeof repeatabilityOf>[0]);
    // √(7² + 3²) = 7.6 %.
    expect([pieces, focusMm, tongues]).toEqual([expect.closeTo(0.07616, 5), 0.12, 0.06]);
  });
});
