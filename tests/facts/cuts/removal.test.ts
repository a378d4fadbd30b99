import { describe, expect, it } from 'vitest';
import { groundsOf } from '../../../src/facts/coupons/grounds.ts';
import { basisOf, thicknessSpreadMm } from '../../../src/facts/cuts/prediction.ts';
import { removalBefore as removalOf } from '../../../src/facts/cuts/removal.ts';
import type { Coupon, Machine, Material, SourceKind } from '../../../src/job/model.ts';
import { COUPLING } from '../../../src/physics/coupling.ts';
import { machine, material } from '../../rules/build-job.ts';

const removal = (change: Partial<NonNullable<Material['removal']>>, more: Partial<Material> = {}) =>
  material({ ...more, removal: { ...material().removal!, jPerMm3: 3, spread: 0.3, ...change } });
const removalBefore = (own: Material, at: Machine, cutHere = false) => removalOf(own, at, cutHere);
const on = (kind: SourceKind, id = 'shed-60w') => machine({ id, source: { kind } });
const coupon = (id: string | null): Coupon => ({
  machine: id,
  lens: '2in',
  thicknessMm: 4,
  powerW: 40,
  speedMmPerS: 8,
  passes: 1,
  focusMm: 0,
  focusStepMm: 0,
  through: true,
  depthMm: null,
  date: null,
});

describe('what a material was taken to ask for before the coupons of a bench', () => {
  it('is what stands in its file under a CO₂ source, and more in doubt under a diode', () => {
    expect(removalBefore(removal({}), on('co2'))).toMatchObject({ jPerMm3: 3, spread: 0.3, restsOnCoupons: false });
    expect(removalBefore(removal({}), on('fibre'))).toMatchObject({ jPerMm3: 3, spread: 0.3 });
    expect(removalBefore(removal({}), on('co2'))).toEqual({
      jPerMm3: 3,
      spread: 0.3,
      divergence: material().divergence,
      restsOnCoupons: false,
      raisedBy: 1,
    });
    const { energyFactor, spread } = COUPLING.diode;
    const doubted = { jPerMm3: 3 * energyFactor, spread: Math.hypot(0.3, spread) };
    expect(removalBefore(removal({}), on('diode'))).toMatchObject(doubted);
  });

  it('is what the shop states as measured, as it is', () => {
    const own = { kind: 'measured-here', source: 'comb of 2026' } as const;
    expect(removalBefore(removal({ provenance: own }), on('diode'))).toMatchObject({ jPerMm3: 3, spread: 0.3 });
  });

  it('is the catalogue’s where the shop’s own value rests on coupons, whose rows are weighed apart', () => {
    const beforeCoupons = { removal: { jPerMm3: 5, spread: 0.4 }, divergence: { share: 0.2, low: 0.1, high: 0.3 } };
    const own = removal({ coupons: 1 }, { coupons: [coupon('shed-60w')], beforeCoupons });
    for (const id of ['shed-60w', 'other']) {
      const found = removalBefore(own, on('co2', id));
      expect(found).toMatchObject({ jPerMm3: 5, spread: 0.4, restsOnCoupons: false, divergence: { share: 0.2 } });
    }
    const divergence = { share: 0.2, low: 0.1, high: 0.3 };
    expect(removalBefore(own, on('co2'))!.divergence).toEqual(divergence);
    // A CO₂ coupon does not calibrate a diode.
    const diode = removalBefore(own, on('diode', 'other'))!;
    expect(diode.jPerMm3).toBe(5 * COUPLING.diode.energyFactor);
    expect(diode.spread).toBeCloseTo(Math.hypot(0.4, COUPLING.diode.spread), 12);
  });

  it('is the shop’s own where only the shop knows the material, in doubt on any machine but the one that cut the coupons', () => {
    const own = removal({ coupons: 1 }, { coupons: [coupon('shed-60w')] });
    expect(removalBefore(own, on('co2'))).toMatchObject({ jPerMm3: 3, spread: 0.3, restsOnCoupons: true });
    const other = removalBefore(own, on('co2', 'other'))!;
    expect(other).toMatchObject({ jPerMm3: 3, restsOnCoupons: false });
    expect(other.spread).toBeCloseTo(Math.hypot(0.3, 0.25), 12);
    expect(removalBefore(own, on('diode', 'other'))!.spread).toBeGreaterThan(COUPLING.diode.spread);
    // Of a coupon that names no machine nobody knows where it was cut: it stands for none.
    const unnamed = removal({ coupons: 1 }, { coupons: [coupon(null)] });
    expect(removalBefore(unnamed, on('co2'))).toMatchObject({ spread: 0.3, restsOnCoupons: false });
    // On the machine that cut them, whatever its source, they hold as they are.
    expect(removalBefore(own, on('diode'))).toMatchObject({ jPerMm3: 3, spread: 0.3, restsOnCoupons: true });
  });

  it('is in doubt as another shop’s where its rows are listed no more and the machine has coupons: they may be the same', () => {
    const own = removal({ coupons: 12, spread: 0.1 });
    expect(removalBefore(own, on('co2'))).toMatchObject({ jPerMm3: 3, spread: 0.1, restsOnCoupons: false });
    expect(removalBefore(own, on('co2'), true)!.spread).toBeCloseTo(Math.hypot(0.1, 0.25), 12);
    const beforeCoupons = { removal: { jPerMm3: 5, spread: 0.4 }, divergence: { share: 0.2, low: 0.1, high: 0.3 } };
    expect(removalBefore({ ...own, beforeCoupons }, on('co2'), true)).toMatchObject({ jPerMm3: 5, spread: 0.4 });
  });

  it('stays raised by what a file beside the job raised it by', () => {
    expect(removalBefore(removal({ raisedBy: 1.5 }), on('co2'))).toMatchObject({ jPerMm3: 3, raisedBy: 1.5 });
    const beforeCoupons = { removal: { jPerMm3: 5, spread: 0.4 }, divergence: { share: 0.2, low: 0.1, high: 0.3 } };
    const own = removal({ coupons: 1, raisedBy: 1.5 }, { coupons: [coupon('shed-60w')], beforeCoupons });
    expect(removalBefore(own, on('co2'))).toMatchObject({ jPerMm3: 7.5, raisedBy: 1.5 });
  });

  it('is nothing that is known where no source cuts it', () => {
    const none = material({ removal: null });
    expect(removalBefore(none, on('co2'))).toBeNull();
    expect(groundsOf(on('co2'), machine().lenses[0]!, none)).toBeNull();
  });
});

describe('the basis of a prediction', () => {
  const basis = (own: Material, kind: SourceKind = 'co2') => basisOf(groundsOf(on(kind), machine().lenses[0]!, own)!);

  // 5–95 %: 1.645 standard deviations.
  it('tells the band as ±, and as a factor where that would reach to nothing', () => {
    expect(basis(removal({ spread: 0.3 }))).toBe('catalogue, ± 49 %');
    expect(basis(removal({ spread: 0.6 }))).toBe('catalogue, within a factor of 2.7');
    expect(basis(removal({ spread: 0.3 }), 'diode')).toMatch(/^catalogue, within a factor of 3\.0$/);
  });

  it('names coupons, and says where they saw one side only', () => {
    const cut = (through: boolean, speedMmPerS: number) => ({ ...coupon('shed-60w'), through, speedMmPerS });
    const both = [cut(true, 6), cut(false, 12)];
    expect(basis(removal({ spread: 0.3 }, { coupons: both }))).toBe('calibrated, 2 coupons');
    expect(basis(removal({ spread: 0.3 }, { coupons: [cut(true, 6)] }))).toMatch(
      /^catalogue, ± \d+ %, and 1 coupon of one side only$/,
    );
    expect(basis(removal({ spread: 0.3 }, { coupons: both.map((one) => ({ ...one, machine: 'other' })) }))).toBe(
      'catalogue, ± 49 %',
    );
  });
});

describe('the doubt of a thickness', () => {
  it.each([
    [{ mm: 3, plusMinusMm: null, nominal: false }, 0.1],
    [{ mm: 0.3, plusMinusMm: null, nominal: false }, 0.03],
    [{ mm: 0.3, plusMinusMm: null, nominal: true }, 0.03],
    [{ mm: 6, plusMinusMm: null, nominal: true }, 0.3],
    // ± is nine in ten: 1.645 standard deviations.
    [{ mm: 6, plusMinusMm: 0.2, nominal: false }, 0.2 / 1.6448536],
    // What is sold as 6 mm is in doubt by a twentieth whatever is said, and by more if more is said.
    [{ mm: 6, plusMinusMm: 0.2, nominal: true }, 0.3],
    [{ mm: 6, plusMinusMm: 0.8, nominal: true }, 0.8 / 1.6448536],
    [{ mm: 1, plusMinusMm: null, nominal: true }, 0.1],
  ])('of %j is %s mm', (thickness, spreadMm) => {
    expect(thicknessSpreadMm(thickness)).toBeCloseTo(spreadMm, 9);
  });
});
