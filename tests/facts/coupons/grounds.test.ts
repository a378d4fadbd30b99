import { describe, expect, it } from 'vitest';
import { cutOf } from '../../../src/facts/bench/set-up.ts';
import { type Grounds, groundsOf, removalSpreadFor } from '../../../src/facts/coupons/grounds.ts';
import { errorLimitOf, limitOf } from '../../../src/facts/cuts/limits.ts';
import { beamOf } from '../../../src/facts/cuts/optics.ts';
import { wattsAt } from '../../../src/facts/cuts/power.ts';
import type { BenchCoupon, FocusRamp, Lens, Machine, Material } from '../../../src/job/model.ts';
import { throughProbability } from '../../../src/physics/doubt/predict.ts';
import { marchedDepthMm } from '../../../src/physics/march/march.ts';
import { speedForProbability } from '../../../src/physics/search/reach-curve.ts';
import { at, machine, material } from '../../rules/build-job.ts';

const LENSES = machine().lenses;
const [TWO, FOUR] = LENSES as [Lens, Lens];
const PLYWOOD = material({ removal: { ...material().removal!, jPerMm3: 3, spread: 0.33 } });
const placeOf = () => at('shed-60w.bench.yaml', 1);

/** A machine with what its bench keeps. */
function withBench(
  coupons: BenchCoupon[],
  ramps: FocusRamp[] = [],
  change: Parameters<typeof machine>[0] = {},
): Machine {
  const plain = machine(change);
  return { ...plain, bench: { id: plain.id, file: 'shed-60w.bench.yaml', ramps, coupons, placeOf } };
}

/** Eight tongues of a shop whose sheet asks for so many times the energy taken before. */
function ladder(
  factor: number,
  { thicknessMm = 4, lens = TWO, date = '2026-10-01' as string | null, from = 4, to = 30, focusMm = 0 } = {},
): BenchCoupon[] {
  const { beam } = beamOf(machine(), lens);
  const grounds = groundsOf(machine(), lens, PLYWOOD)!;
  const stock = { ...grounds.stock, removalJPerMm3: grounds.stock.removalJPerMm3 * factor };
  return Array.from({ length: 8 }, (_, i): BenchCoupon => {
    const speedMmPerS = from * (to / from) ** (i / 7);
    const pass = { powerW: 45, speedMmPerS, focusMm };
    const through = marchedDepthMm(beam!, stock, [pass]) >= thicknessMm;
    const recipe = { powerW: 45, speedMmPerS, passes: 1, focusMm, focusStepMm: 0 };
    const where = { machine: 'shed-60w', lens: lens.id, material: 'birch-plywood', date };
    return { ...where, ...recipe, thicknessMm, through, depthMm: null };
  });
}

const ground = (on: Machine, lens = TWO, own: Material = PLYWOOD): Grounds => groundsOf(on, lens, own)!;

/** Speed that parts a sheet at 45 W, with its 5 to 95 % band. */
function speeds(on: Machine, lens = TWO, thicknessMm = 4, own: Material = PLYWOOD) {
  const grounds = ground(on, lens, own);
  const { beam } = beamOf(on, lens);
  const sheet = { thicknessMm, thicknessSpreadMm: 0.05, bowMm: 0 };
  const setup = { machine: on, lens, beam: beam!, material: own, grounds, ...sheet };
  const cut = cutOf(setup, { powerW: 45, spread: 0.15, speedMmPerS: 8, passes: 1, focusMm: 0 });
  const [low, median, high] = [0.95, 0.5, 0.05].map((chance) => speedForProbability(cut, chance)!) as [
    number,
    number,
    number,
  ];
  return { low, median, high, half: (high - low) / 2 / median, cut };
}

describe('what a prediction rests on', () => {
  it('is the catalogue where nothing was measured', () => {
    const found = ground(machine());
    expect(found).toMatchObject({ learned: null, removalSpread: 0.33, holdsPower: false, bracketed: false, fit: null });
    expect(found.focus).toEqual({ offsetMm: 0, spreadMm: 0.5 });
    expect(ground(withBench([]))).toEqual(found);
    expect([limitOf(found), errorLimitOf(found)]).toEqual([0.9, 0.14]);
  });

  it('is the coupons of this machine, lens and material, and its boundary then where they saw it', () => {
    const rows = ladder(1.4);
    const found = ground(withBench(rows));
    expect(found).toMatchObject({ holdsPower: true, bracketed: true });
    expect(found.coupons).toHaveLength(8);
    expect([limitOf(found), errorLimitOf(found)]).toEqual([0.95, 0.5]);
    const seen = rows.filter(({ through }) => through).map(({ speedMmPerS }) => speedMmPerS);
    const not = rows.filter(({ through }) => !through).map(({ speedMmPerS }) => speedMmPerS);
    const { median, half } = speeds(withBench(rows));
    expect(median).toBeGreaterThan(Math.max(...seen) * 0.95);
    expect(median).toBeLessThan(Math.min(...not) * 1.05);
    expect(half).toBeLessThan(speeds(machine()).half / 1.5);
  });

  it.each<[string, Partial<BenchCoupon>[]]>([
    ['none', []],
    ['one that parted', [{ through: true }]],
    ['several that all parted', [{ through: true }, { through: true, speedMmPerS: 6 }]],
    ['several that all stayed', [{ through: false }, { through: false, speedMmPerS: 26 }]],
    [
      'two measured depths',
      [
        { through: null, depthMm: 3 },
        { through: null, depthMm: 2, speedMmPerS: 30 },
      ],
    ],
  ])('keeps the catalogue’s limits with %s', (_, changes) => {
    const rows = changes.map((change) => ({ ...ladder(1)[3]!, ...change }));
    const found = ground(withBench(rows));
    expect(found.bracketed).toBe(false);
    expect([limitOf(found), errorLimitOf(found)]).toEqual([0.9, 0.14]);
  });

  it('keeps most of the prior’s spread where only one side was seen', () => {
    for (const through of [true, false]) {
      const rows = ladder(1).map((row, i) => ({ ...row, through, speedMmPerS: through ? 4 + i / 4 : 20 + i }));
      const { half } = speeds(withBench(rows));
      expect(half).toBeGreaterThan(0.6 * speeds(machine()).half);
    }
  });

  it('is not another machine’s, another kind of source’s, nor another material’s', () => {
    const rows = ladder(1.4);
    const theirs = { ...machine({ id: 'barn-40w' }), bench: withBench(rows).bench };
    expect(speeds(theirs).median).toBeCloseTo(speeds(withBench(rows)).median, 9);
    const listed = { ...PLYWOOD, coupons: rows };
    const barn = machine({ id: 'barn-40w' });
    const diode = machine({ id: 'blue', source: { kind: 'diode', wavelengthUm: 0.45 } });
    for (const other of [barn, diode]) {
      expect(ground(other, TWO, listed)).toEqual(ground(other, TWO, PLYWOOD));
    }
    expect(ground(withBench(rows.map((row) => ({ ...row, material: 'poplar-plywood' }))))).toMatchObject({
      learned: null,
    });
  });

  it('finds its rows by any name of the material, and takes a row that stands twice once', () => {
    const rows = ladder(1.2);
    const named = rows.map((row) => ({ ...row, material: 'Birch PLYWOOD' }));
    expect(ground(withBench(named)).coupons).toHaveLength(8);
    expect(ground(withBench([...rows, ...rows])).coupons).toHaveLength(8);
    expect(ground(withBench(rows), TWO, { ...PLYWOOD, coupons: rows }).coupons).toHaveLength(8);
    expect(ground(machine(), TWO, { ...PLYWOOD, coupons: rows })).toMatchObject({ bracketed: true });
    expect(ground(machine(), TWO, { ...PLYWOOD, coupons: rows.map((row) => ({ ...row, machine: null })) })).toEqual(
      ground(machine()),
    );
  });

  it('moves under another lens of the machine too, in more doubt and with the catalogue’s limits', () => {
    const rows = ladder(1.5);
    const other = ground(withBench(rows), FOUR);
    expect(other).toMatchObject({ learned: null, holdsPower: true, bracketed: false, coupons: [] });
    const before = speeds(machine(), FOUR);
    const after = speeds(withBench(rows), FOUR);
    expect(after.median).toBeLessThan(before.median * 0.85);
    expect(after.half).toBeLessThan(before.half);
    expect(after.half).toBeGreaterThan(speeds(withBench(rows)).half);
    expect(speeds(withBench([...rows, ...ladder(1.5, { lens: FOUR })]), FOUR).half).toBeLessThan(after.half);
  });
});

describe('a focus ramp', () => {
  const ramp = (lens: Lens, offsetMm: number, spreadMm = 0.1): FocusRamp => ({
    lens: lens.id,
    offsetMm,
    spreadMm,
    date: null,
  });

  it('counts for its machine and its lens alone, the last of them', () => {
    const on = withBench([], [ramp(TWO, 0.9), ramp(FOUR, -0.3), ramp(TWO, 0.5, 0.2)]);
    expect(ground(on).focus).toEqual({ offsetMm: 0.5, spreadMm: 0.2 });
    expect(ground(on, FOUR).focus).toEqual({ offsetMm: -0.3, spreadMm: 0.1 });
    expect(ground(machine({ id: 'barn-40w' })).focus).toEqual({ offsetMm: 0, spreadMm: 0.5 });
    expect(ground(on)).toMatchObject({ learned: null, removalSpread: 0.33, holdsPower: false });
  });

  it('makes coupons that were cut before it be read anew', () => {
    const rows = ladder(1);
    const before = ground(withBench(rows)).stock.removalJPerMm3;
    const after = ground(withBench(rows, [ramp(TWO, 2)]));
    // The same tongues parted with a waist that stood 2 mm too high: the sheet asks for less.
    expect(after.stock.removalJPerMm3).toBeLessThan(before * 0.9);
    expect(after.focus.offsetMm).toBe(2);
    const ratio = speeds(withBench(rows, [ramp(TWO, 2)])).median / speeds(withBench(rows)).median;
    // The boundary that they saw stays where it was, within the third by which one tongue was faster than the next.
    expect(Math.abs(ratio - 1)).toBeLessThan(0.15);
  });
});

describe('after calibration the band is what is left', () => {
  it('does not count the power and the focus again', () => {
    const { median } = speeds(machine());
    const near = { from: median * 0.7, to: median * 1.4 };
    const rows = [...ladder(1, near), ...ladder(1, { ...near, date: '2026-10-08' })];
    const rated = { measuredW: null, hoursH: null };
    const on = withBench(rows, [], { source: rated });
    const { cut, half } = speeds(on);
    expect(cut.doubt.power).toBe(0);
    expect(cut.doubt.focusMm).toBeLessThan(0.2);
    expect(half).toBeLessThan(0.25);
    const again = { ...cut, doubt: { ...cut.doubt, power: 0.15, focusMm: 0.5 } };
    expect(speedForProbability(again, 0.95)!).toBeLessThan(speedForProbability(cut, 0.95)! * 0.95);
  });

  it('is wider off the coupons: thinner, thicker, at another focus, at another power', () => {
    const rows = [...ladder(1), ...ladder(1, { date: '2026-10-08' })];
    const on = withBench(rows);
    const here = speeds(on).half;
    expect(speeds(on, TWO, 1).half).toBeGreaterThan(here);
    expect(speeds(on, TWO, 12).half).toBeGreaterThan(here);
    const grounds = ground(on);
    const near = removalSpreadFor(grounds, { thicknessMm: 4, powerW: 45 });
    expect(near).toBe(grounds.removalSpread);
    expect(removalSpreadFor(grounds, { thicknessMm: 4, powerW: 90 })).toBeGreaterThan(near);
    expect(removalSpreadFor(grounds, { thicknessMm: 400, powerW: 9000 })).toBe(grounds.spreadBefore);
    const { cut } = speeds(on);
    const halfAt = (focusMm: number) => {
      const moved = { ...cut, passes: cut.passes.map((pass) => ({ ...pass, focusMm })) };
      const [low, median, high] = [0.95, 0.5, 0.05].map((chance) => speedForProbability(moved, chance)!);
      return (high! - low!) / 2 / median!;
    };
    expect(halfAt(3)).toBeGreaterThan(halfAt(0));
  });

  it('is never made surer by a file beside the job that raises the energy', () => {
    const rows = ladder(1.4);
    const { jPerMm3 } = PLYWOOD.removal!;
    const raised = { ...PLYWOOD, removal: { ...PLYWOOD.removal!, jPerMm3: jPerMm3 * 1.3, raisedBy: 1.3 } };
    const plain = speeds(withBench(rows));
    const after = speeds(withBench(rows), TWO, 4, raised);
    expect(after.median / plain.median).toBeLessThan(0.85);
    expect(throughProbability(after.cut)).toBeLessThanOrEqual(throughProbability(plain.cut));
    expect(limitOf(ground(withBench(rows), TWO, raised))).toBe(0.95);
  });
});

describe('a measured power', () => {
  it('narrows the doubt of a prediction that rests on the catalogue', () => {
    const acrylic = material({ family: 'acrylic', removal: { ...material().removal!, jPerMm3: 3.8, spread: 0.32 } });
    const half = (measuredW: number | null) => {
      const on = machine({ source: { ratedW: 40, measuredW, hoursH: null } });
      const grounds = ground(on, TWO, acrylic);
      const sheet = { thicknessMm: 4, thicknessSpreadMm: 0.05, bowMm: 0 };
      const setup = { machine: on, lens: TWO, beam: beamOf(on, TWO).beam!, material: acrylic, grounds, ...sheet };
      const { powerW, spread } = wattsAt(on, 1, { xMm: 0, yMm: 0 })!;
      const cut = cutOf(setup, { powerW, spread, speedMmPerS: 8, passes: 1, focusMm: 0 });
      return speedForProbability(cut, 0.05)! / speedForProbability(cut, 0.95)!;
    };
    expect(half(40)).toBeLessThan(half(null) * 0.96);
  });
});
