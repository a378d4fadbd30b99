import { describe, expect, it } from 'vitest';
import { groundsOf, holdsPower, removalSpreadFor } from '../../../src/facts/coupons/grounds.ts';
import type { BenchCoupon, FocusRamp, Lens, Machine, Material } from '../../../src/job/model.ts';
import { at, machine, material } from '../../rules/build-job.ts';

const [TWO, FOUR] = machine().lenses as [Lens, Lens];
const SIX: Lens = { ...FOUR, id: '6in', focalMm: 152.4 };
const PLYWOOD = material();

/** Coupons of one sheet of 4 mm, of which those above 10 mm/s stayed. */
const tongues = (lens: Lens, speeds: number[], change: Partial<BenchCoupon> = {}): BenchCoupon[] =>
  speeds.map((speedMmPerS) => ({
    machine: 'shed-60w',
    lens: lens.id,
    material: 'birch-plywood',
    thicknessMm: 4,
    powerW: 45,
    speedMmPerS,
    passes: 1,
    focusMm: 0,
    focusStepMm: 0,
    through: speedMmPerS <= 10,
    depthMm: null,
    date: '2026-10-01',
    ...change,
  }));

function withBench(coupons: BenchCoupon[], ramps: FocusRamp[] = [], lenses = [TWO, FOUR, SIX]): Machine {
  const placeOf = () => at('shed-60w.bench.yaml', 1);
  return { ...machine(), lenses, bench: { id: 'shed-60w', file: 'shed-60w.bench.yaml', ramps, coupons, placeOf } };
}

const ground = (on: Machine, lens: Lens, own: Material = PLYWOOD) => groundsOf(on, lens, own)!;
const LISTED = (coupons: BenchCoupon[], before = false): Material => ({
  ...PLYWOOD,
  coupons,
  removal: { ...PLYWOOD.removal!, jPerMm3: 3, coupons: coupons.length },
  beforeCoupons: before
    ? ({ removal: { jPerMm3: 6, spread: 0.25 }, divergence: PLYWOOD.divergence } as NonNullable<
        Material['beforeCoupons']
      >)
    : null,
});

describe('a material without any removal energy', () => {
  it('has nothing to rest on', () => {
    expect(groundsOf(machine(), TWO, { ...PLYWOOD, removal: null })).toBeNull();
    expect(holdsPower(machine(), TWO, { ...PLYWOOD, removal: null })).toBe(false);
  });
});

describe('the thermal values of a material', () => {
  it('are what it states, and nothing where it states none', () => {
    expect(ground(machine(), TWO).stock).toEqual({
      removalJPerMm3: 6,
      divergenceShare: 0.15,
      conductivityWPerMK: 0.14,
      diffusivityMm2PerS: 0.14,
      temperatureRiseK: 300,
    });
    expect(ground(machine(), TWO, { ...PLYWOOD, thermal: null }).stock).toMatchObject({
      conductivityWPerMK: 0,
      diffusivityMm2PerS: 0,
      temperatureRiseK: 0,
    });
  });
});

describe('whether the power of the machine is in the energy', () => {
  it('is so where coupons of it count, and where nothing is missing', () => {
    const on = withBench(tongues(TWO, [6, 9, 12]));
    expect(holdsPower(on, TWO, PLYWOOD)).toBe(true);
    expect(holdsPower(on, FOUR, PLYWOOD)).toBe(true);
    expect(holdsPower(machine(), TWO, PLYWOOD)).toBe(false);
    expect([holdsPower(null, TWO, PLYWOOD), holdsPower(on, null, PLYWOOD), holdsPower(on, TWO, null)]).toEqual([
      false,
      false,
      false,
    ]);
  });
});

describe('coupons of other lenses', () => {
  it('tell of this one what the machine has in common, with their own span', () => {
    const one = ground(withBench(tongues(FOUR, [6, 9, 12])), TWO);
    expect(one).toMatchObject({ learned: null, holdsPower: true, coupons: [], bracketed: false, fit: null });
    expect(one.span).toEqual({ thicknessMm: { min: 4, max: 4 }, powerW: { min: 45, max: 45 } });
    expect(one.stock.removalJPerMm3).not.toBeCloseTo(6, 2);
    expect(one.stock).toMatchObject({ divergenceShare: 0.15, temperatureRiseK: 300 });
  });

  it('are heard by how many they are, whatever the order in which the machine lists its lenses', () => {
    const coupons = [...tongues(FOUR, [6, 9, 12, 15]), ...tongues(SIX, [7, 14])];
    const found = [
      [TWO, FOUR, SIX],
      [SIX, FOUR, TWO],
    ].map((lenses) => ground(withBench(coupons, [], lenses), TWO).stock.removalJPerMm3);
    expect(found[0]).toBe(found[1]);
  });

  it('say nothing where their lens gives no beam or has left the machine', () => {
    const plain = ground(machine(), TWO);
    const broken = { ...FOUR, focalMm: 0 };
    expect(ground(withBench(tongues(FOUR, [6, 9, 12]), [], [TWO, broken]), TWO)).toEqual(plain);
    expect(ground(withBench(tongues(FOUR, [6, 9, 12]), [], [TWO]), TWO)).toEqual(plain);
  });
});

describe('coupons that a material’s own value rests on already', () => {
  const rows = tongues(TWO, [6, 9, 12]);

  it('are not weighed again, but count as coupons of this machine', () => {
    const found = ground(machine(), TWO, LISTED(rows));
    expect(found).toMatchObject({ learned: null, fit: null, holdsPower: true, bracketed: true });
    expect(found.stock.removalJPerMm3).toBe(3);
    expect(found.coupons).toHaveLength(3);
    expect(found.span).toEqual({ thicknessMm: { min: 4, max: 4 }, powerW: { min: 45, max: 45 } });
    // Nobody says what was taken before: the doubt of another shop, 0.25, on top of 0.25.
    expect(found.spreadBefore).toBeCloseTo(0.35355, 5);
    expect(found.removalSpread).toBe(0.25);
  });

  it('have no span under a lens under which none was cut', () => {
    expect(ground(machine(), FOUR, LISTED(rows))).toMatchObject({ coupons: [], span: null, bracketed: false });
  });

  it('leave the new ones of the bench to be weighed', () => {
    const found = ground(withBench(tongues(TWO, [8, 14], { date: '2026-11-01' })), TWO, LISTED(rows));
    expect(found.fit!.coupons.map(({ speedMmPerS }) => speedMmPerS)).toEqual([8, 14]);
    expect(found.coupons).toHaveLength(5);
  });

  it('are weighed where the file says what was taken before them', () => {
    const found = ground(machine(), TWO, LISTED(rows, true));
    expect(found.fit!.coupons).toHaveLength(3);
    expect(found.spreadBefore).toBeGreaterThanOrEqual(0.25);
  });
});

describe('a fit', () => {
  it('weighs the newest 300 coupons of its lens', () => {
    // Of most of these nobody says what came of them: they are looked at, and cannot be used.
    const speeds = Array.from({ length: 302 }, (_, i) => 5 + i / 40);
    const unsaid = tongues(TWO, speeds.slice(0, -1), { through: null });
    const { fit, coupons } = ground(withBench([...unsaid, ...tongues(TWO, speeds.slice(-1))]), TWO);
    expect(coupons).toHaveLength(302);
    expect(fit!.coupons).toHaveLength(300);
    expect(fit!.coupons[0]!.speedMmPerS).toBe(speeds[2]);
    expect(fit!.calibration.coupons).toBe(1);
  });

  it('is made anew where the bench, the machine or the material changes', () => {
    const on = withBench(tongues(TWO, [6, 9, 12]));
    const energy = (changed: Machine, own = PLYWOOD) => ground(changed, { ...TWO }, own).stock.removalJPerMm3;
    const first = energy(on);
    expect(energy(on)).toBe(first);
    const harder = { ...PLYWOOD, removal: { ...PLYWOOD.removal!, jPerMm3: 9 } };
    expect(energy(on, harder)).not.toBe(first);
    expect(energy(on, { ...PLYWOOD, divergence: { share: 0.3, low: 0.2, high: 0.4 } })).not.toBe(first);
    expect(energy(on, { ...PLYWOOD, thermal: null })).not.toBe(first);
    expect(energy(on, { ...PLYWOOD, family: 'acrylic' })).not.toBe(first);
    expect(energy({ ...on, beam: { ...on.beam, m2: 1.6 } })).not.toBe(first);
    expect(energy({ ...on, source: { ...on.source, measuredW: null, hoursH: null } })).not.toBe(first);
    const longer = { ...TWO, focalMm: 63.5 };
    expect(ground({ ...on, lenses: [longer, FOUR] }, longer).stock.removalJPerMm3).not.toBe(first);
  });

  it('under one lens is not taken for that of another, nor of one material for another', () => {
    const on = withBench([...tongues(TWO, [6, 9, 12]), ...tongues(TWO, [4, 5], { material: 'oak', through: false })]);
    const [two, four] = [ground(on, TWO), ground(on, FOUR)];
    expect(two.fit).not.toBeNull();
    expect(four.fit).toBeNull();
    expect(ground(on, TWO)).toBe(two);
    const oak = { ...PLYWOOD, id: 'oak', name: 'Oak' };
    expect(ground(on, TWO, oak).fit!.coupons).toHaveLength(2);
    expect(ground(on, TWO)).toEqual(two);
  });
});

describe('the doubt of a cut off the coupons', () => {
  it('grows with its distance, and not beyond what was doubted before', () => {
    const grounds = { ...ground(withBench(tongues(TWO, [6, 9, 12])), TWO), removalSpread: 0.1, spreadBefore: 0.2 };
    const spread = (thicknessMm: number, powerW: number) => removalSpreadFor(grounds, { thicknessMm, powerW });
    expect(spread(4, 45)).toBe(0.1);
    // Twice the power: 0.1 on top of 0.1, at right angles.
    expect(spread(4, 90)).toBeCloseTo(0.14142, 5);
    expect(spread(4, 45 * 16)).toBe(0.2);
    expect(spread(4, 0)).toBe(0.1);
    expect(removalSpreadFor({ ...grounds, span: null }, { thicknessMm: 40, powerW: 450 })).toBe(0.1);
    // Already wider than before: it stays.
    expect(removalSpreadFor({ ...grounds, removalSpread: 0.3 }, { thicknessMm: 40, powerW: 450 })).toBe(0.3);
  });
});
