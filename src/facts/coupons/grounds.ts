import type { Coupon, Lens, Machine, Material } from '../../job/model.ts';
import { type Calibration, calibrate, MOST_COUPONS } from '../../physics/calibration/calibration.ts';
import { bracketsBoundary } from '../../physics/calibration/coupon-row.ts';
import type { CalibrationPrior } from '../../physics/calibration/prior.ts';
import { beyondSpan, type CouponSpan, spanOf } from '../../physics/calibration/span.ts';
import type { LearnedPoint, Stock } from '../../physics/march/stock.ts';
import { powerFact } from '../cuts/power.ts';
import { OTHER_SOURCE, type Removal, removalBefore } from '../cuts/removal.ts';
import { couponKey, couponsOf, rampOf, rowsUnder } from './coupons-here.ts';
import { FOCUS_REPEAT_MM, repeatabilityOf } from './repeatability.ts';

/** 1σ of the focus where no ramp was cut, mm (common practice, no source). */
export const FOCUS_SPREAD_MM = 0.5;
/** 1σ of the energy that another lens of the same machine adds: spot, blur and how well it is centred (common practice, no source). */
const OTHER_LENS = 0.1;

/** A fit to coupons of one lens. */
export interface CouponFit {
  readonly calibration: Calibration;
  readonly coupons: readonly Coupon[];
}

/** What predictions on one machine, under one of its lenses, of one material rest on. */
export interface Grounds {
  /** What was taken beforehand, or what the coupons say at their middle. */
  readonly stock: Stock;
  /** 5th and 95th percentile of the divergence share, where it is in doubt by itself. */
  readonly divergence: { readonly low: number; readonly high: number };
  /** What coupons of this lens leave open; null where there are none. Then `removalSpread` comes on top. */
  readonly learned: readonly LearnedPoint[] | null;
  /** 1σ of the removal energy (of its logarithm), within the coupons' span. */
  readonly removalSpread: number;
  /** 1σ that it is in doubt by without coupons: far from them it is no worse. */
  readonly spreadBefore: number;
  /** The power of this machine is in the energy that was found on it. */
  readonly holdsPower: boolean;
  /** What a ramp found, or nothing; and what is left of the focus's doubt, mm. */
  readonly focus: { readonly offsetMm: number; readonly spreadMm: number };
  /** Coupons of this machine, lens and material that count. */
  readonly coupons: readonly Coupon[];
  /** At least two of them, which met the boundary from both sides. */
  readonly bracketed: boolean;
  /** Where they lie; null where there are none. */
  readonly span: CouponSpan | null;
  /** The fit, and the coupons that it weighed, in the order of its rows; null where there is none. */
  readonly fit: CouponFit | null;
}

/** What a prediction rests on; null where no source cuts the material. */
export function groundsOf(machine: Machine, lens: Lens, material: Material): Grounds | null {
  const known = lately.get(lens);
  if (known?.machine === machine && known.material === material) return known.grounds;
  const grounds = freshGrounds(machine, lens, material);
  lately.set(lens, { machine, material, grounds });
  return grounds;
}

/** What each lens was asked for last: a job asks for the same several times, and so does the next job of the same machine and material. */
const lately = new WeakMap<Lens, { machine: Machine; material: Material; grounds: Grounds | null }>();

function freshGrounds(machine: Machine, lens: Lens, material: Material): Grounds | null {
  const coupons = couponsOf(machine, material);
  const removal = removalBefore(material, machine, coupons.length > 0);
  if (removal === null) return null;
  // Nothing to weigh: most machines and materials have no coupons.
  if (coupons.length === 0) return withoutCoupons(machine, lens, material, removal);
  const key = keyOf(machine, lens, material);
  const ofBench = remembered.get(machine.bench ?? material) ?? new Map<string, Grounds>();
  remembered.set(machine.bench ?? material, ofBench);
  const known = ofBench.get(key);
  if (known) return known;
  const grounds = withCoupons({ machine, lens, material, removal, coupons });
  ofBench.set(key, grounds);
  return grounds;
}

/** Is the power of the machine in the energy that its own coupons gave? */
export function holdsPower(machine: Machine | null, lens: Lens | null, material: Material | null): boolean {
  return (
    machine !== null && lens !== null && material !== null && groundsOf(machine, lens, material)?.holdsPower === true
  );
}

/** Jobs of one run ask for the same: a fit weighs some 40,000 combinations against each coupon. */
const remembered = new WeakMap<object, Map<string, Grounds>>();

/** What the fit depends on, beside the bench itself. */
function keyOf({ id, file, source, beam, lenses }: Machine, lens: Lens, material: Material): string {
  const { removal, beforeCoupons, divergence, thermal, family, coupons } = material;
  const stated = [material.file, removal, beforeCoupons, divergence, thermal, family, coupons.length];
  return JSON.stringify([id, file, source, beam, lenses, lens.id, material.id, stated]);
}

function stockOf(material: Material, removal: Removal): Stock {
  return {
    removalJPerMm3: removal.jPerMm3,
    divergenceShare: removal.divergence.share,
    conductivityWPerMK: material.thermal?.conductivityWPerMK ?? 0,
    diffusivityMm2PerS: material.thermal?.diffusivityMm2PerS ?? 0,
    temperatureRiseK: material.thermal?.temperatureRiseK ?? 0,
  };
}

function withoutCoupons(machine: Machine, lens: Lens, material: Material, removal: Removal): Grounds {
  const ramp = rampOf(machine, lens);
  return {
    stock: stockOf(material, removal),
    divergence: { low: removal.divergence.low, high: removal.divergence.high },
    learned: null,
    removalSpread: removal.spread,
    // Of a value that rests on coupons nobody says what was taken before: as for another shop.
    spreadBefore: removal.restsOnCoupons ? Math.hypot(removal.spread, OTHER_SOURCE) : removal.spread,
    holdsPower: false,
    focus: { offsetMm: ramp?.offsetMm ?? 0, spreadMm: ramp?.spreadMm ?? FOCUS_SPREAD_MM },
    coupons: [],
    bracketed: false,
    span: null,
    fit: null,
  };
}

interface Bench {
  machine: Machine;
  lens: Lens;
  material: Material;
  removal: Removal;
  /** Of the machine and the material, under whatever lens. */
  coupons: readonly Coupon[];
}

function withCoupons(bench: Bench): Grounds {
  const { machine, lens, material, removal, coupons } = bench;
  const own = coupons.filter((coupon) => coupon.lens === lens.id);
  const bare = withoutCoupons(machine, lens, material, removal);
  const held: Grounds = removal.restsOnCoupons
    ? { ...bare, holdsPower: true, coupons: own, bracketed: bracketsBoundary(own), span: spanOrNull(own) }
    : bare;
  const before = priorFor(bench);
  const fit = fitted(before.prior, bench, lens);
  if (fit !== null) return calibrated(held, fit, own, removal);
  if (!before.cutUnderOther) return held;
  const { pieces, tongues } = before.prior.repeat;
  return {
    ...held,
    stock: raised(before.prior.stock, removal),
    removalSpread: Math.hypot(before.prior.removalSpread, pieces, tongues),
    holdsPower: true,
    span: spanOrNull(coupons),
  };
}

function calibrated(held: Grounds, fit: CouponFit, own: readonly Coupon[], removal: Removal): Grounds {
  const { calibration } = fit;
  const { removalJPerMm3, divergenceShare, points } = calibration.learned;
  return {
    ...held,
    stock: raised({ ...held.stock, removalJPerMm3, divergenceShare }, removal),
    learned: points,
    removalSpread: calibration.onTop,
    spreadBefore: Math.max(held.spreadBefore, calibration.priorSpread),
    holdsPower: true,
    focus: { offsetMm: held.focus.offsetMm, spreadMm: FOCUS_REPEAT_MM },
    coupons: own,
    bracketed: bracketsBoundary(own),
    span: spanOrNull(own),
    fit,
  };
}

/** What a file beside the job raised the energy by counts on top of what coupons say: such a file never makes a cut surer. */
function raised(stock: Stock, { raisedBy }: Removal): Stock {
  return { ...stock, removalJPerMm3: stock.removalJPerMm3 * raisedBy };
}

function spanOrNull(coupons: readonly Coupon[]): CouponSpan | null {
  return coupons.length === 0 ? null : spanOf(coupons);
}

/**
 * What is believed before the coupons of one lens: what was taken beforehand and, where coupons were cut under other lenses of the machine,
 * what these say, in doubt by the change of lens. The lens with most coupons speaks last.
 */
function priorFor(bench: Bench): { prior: CalibrationPrior; cutUnderOther: boolean } {
  const { machine, lens, material, removal, coupons } = bench;
  const power = removal.restsOnCoupons ? 0 : (powerFact(machine)?.spread ?? 0);
  const stock = stockOf(material, removal);
  const first: CalibrationPrior = {
    stock: { ...stock, removalJPerMm3: stock.removalJPerMm3 / removal.raisedBy },
    removalSpread: Math.hypot(removal.spread, power),
    divergence: { low: removal.divergence.low, high: removal.divergence.high },
    focusSpreadMm: 0,
    repeat: repeatabilityOf(material),
  };
  const count = (id: string) => coupons.filter((coupon) => coupon.lens === id).length;
  const others = machine.lenses
    .filter(({ id }) => id !== lens.id && count(id) > 0)
    .sort((a, b) => count(a.id) - count(b.id));
  let prior = first;
  let cutUnderOther = false;
  for (const other of others) {
    const found = fitted(prior, bench, other);
    if (found === null) continue;
    cutUnderOther = true;
    const { removalJPerMm3, spread } = found.calibration;
    prior = { ...prior, stock: { ...prior.stock, removalJPerMm3 }, removalSpread: Math.hypot(spread, OTHER_LENS) };
  }
  return { prior, cutUnderOther };
}

/** The fit to the coupons of one lens that are not in the value already; null where there are none that can be used. */
function fitted(prior: CalibrationPrior, bench: Bench, lens: Lens): CouponFit | null {
  const { machine, material, removal, coupons } = bench;
  const inValue = new Set(removal.restsOnCoupons ? material.coupons.map(couponKey) : []);
  const fresh = coupons.filter((coupon) => !inValue.has(couponKey(coupon)));
  // The newest stand last: they tell most of the machine and the material as they are.
  const newest = fresh.filter((coupon) => coupon.lens === lens.id).slice(-MOST_COUPONS);
  const ramp = rampOf(machine, lens);
  const rows = rowsUnder(machine, lens, newest, ramp?.offsetMm ?? 0);
  if (rows.length === 0) return null;
  const { calibration } = calibrate({ ...prior, focusSpreadMm: ramp?.spreadMm ?? FOCUS_SPREAD_MM }, rows);
  return calibration && { calibration, coupons: newest };
}

/** 1σ of the removal energy for one cut: wider the farther it lies from the coupons, and no wider than without them. */
export function removalSpreadFor(grounds: Grounds, cut: { thicknessMm: number; powerW: number }): number {
  const { removalSpread, spreadBefore, span } = grounds;
  if (span === null || !(cut.powerW > 0)) return removalSpread;
  return Math.min(Math.hypot(removalSpread, beyondSpan(span, cut)), Math.max(removalSpread, spreadBefore));
}
