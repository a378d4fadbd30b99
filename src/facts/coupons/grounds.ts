import type { Coupon, Lens, Machine, Material } from '../../job/model.ts';
import { type Calibration, calibrate, MOST_COUPONS } from '../../physics/calibration/calibration.ts';
import { bracketsBoundary } from '../../physics/calibration/coupon-row.ts';
import type { CalibrationPrior } from '../../physics/calibration/prior.ts';
import { beyondSpan, type CouponSpan } from '../../physics/calibration/span.ts';
import type { LearnedPoint, Stock } from '../../physics/march/stock.ts';
import { powerFact } from '../cuts/power.ts';
import { type Removal, removalBefore } from '../cuts/removal.ts';
import { couponsOf, rampOf, rowsUnder } from './coupons-here.ts';
import { FOCUS_REPEAT_MM, repeatabilityOf } from './repeatability.ts';

/** 1σ of the focus where no ramp was cut, mm (common practice, no source). */
const FOCUS_SPREAD_MM = 0.5;
/** 1σ of the energy that another lens of the same machine adds: spot, blur and how well it is centred (common practice, no source). */
const OTHER_LENS = 0.1;
/** One shop's spot, optics and air against another's, where a value was found on another machine (as the fit takes it). */
const OTHER_SHOP = 0.2;

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
  /** The fit to them; null where there is none. */
  readonly calibration: Calibration | null;
}

/** What a prediction rests on; null where no source cuts the material. */
export function groundsOf(machine: Machine, lens: Lens, material: Material): Grounds | null {
  const removal = removalBefore(material, machine);
  if (removal === null) return null;
  const coupons = couponsOf(machine, material);
  // Nothing to weigh, nothing to remember: most machines and materials have no coupons.
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
    spreadBefore: removal.spread,
    holdsPower: false,
    focus: { offsetMm: ramp?.offsetMm ?? 0, spreadMm: ramp?.spreadMm ?? FOCUS_SPREAD_MM },
    coupons: [],
    bracketed: false,
    span: null,
    calibration: null,
  };
}
