import { done, type Outcome, refused } from '../../facts/bench/set-up.ts';
import { wattsAt } from '../../facts/cuts/power.ts';
import type { CouponResults, TongueResult } from '../../job/material/coupon-results.ts';
import type { BenchCoupon, Lens, Machine, Material } from '../../job/model.ts';
import { roundTo } from '../../units/format.ts';

/** A coupon of a results sheet, with the number of its tongue. */
export interface TongueCoupon {
  tongue: number;
  coupon: BenchCoupon;
}

/** The tongues of a results sheet as coupons, the power in watts at the work. */
export function tongueCoupons(
  results: CouponResults,
  machine: Machine,
  lens: Lens,
  material: Material,
): Outcome<TongueCoupon[]> {
  const coupons: TongueCoupon[] = [];
  for (const tongue of results.tongues) {
    const powerW = wattsOf(tongue, machine, results.at);
    if (powerW === null || !(powerW > 0)) {
      return refused(`tongue ${tongue.tongue}: the profile of ${machine.id} gives no power at this setting`);
    }
    const { speedMmPerS, passes, focusMm, focusStepMm, thicknessMm, through, depthMm } = tongue;
    const recipe = { powerW: roundTo(powerW, 2), speedMmPerS, passes, focusMm, focusStepMm };
    const where = { machine: machine.id, lens: lens.id, material: material.id, date: results.date };
    coupons.push({ tongue: tongue.tongue, coupon: { ...where, ...recipe, thicknessMm, through, depthMm } });
  }
  return done(coupons);
}

function wattsOf(tongue: TongueResult, machine: Machine, at: CouponResults['at']): number | null {
  if ('watts' in tongue.power) return tongue.power.watts;
  return wattsAt(machine, tongue.power.fraction, at)?.powerW ?? null;
}
