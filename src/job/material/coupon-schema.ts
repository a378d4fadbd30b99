import * as v from 'valibot';
import type { Coupon } from '../model.ts';
import type { Report } from '../yaml/check.ts';
import { count, date, length, quantity } from '../yaml/shape.ts';

/** The keys of one coupon that say how it was cut and what came of it, wherever it is kept. */
export const couponEntries = {
  thickness: length('thickness of the piece'),
  power: quantity('power', 'power at the work'),
  speed: quantity('speed', 'speed'),
  passes: v.optional(count('passes', 1, 100)),
  focus: v.optional(length("the waist above (+) or below (-) the piece's top face, as it was set", 'any')),
  'focus-step': v.optional(length('change of focus from one pass to the next', 'any')),
  through: v.optional(v.pipe(v.boolean(), v.description('did it part?'))),
  depth: v.optional(length('measured depth, when it did not part', 'not-negative')),
  date: v.optional(date('when it was cut')),
};

/** What those keys give, once they are read. */
export interface CouponText {
  thickness: number;
  power: number;
  speed: number;
  passes?: number | undefined;
  focus?: number | undefined;
  'focus-step'?: number | undefined;
  through?: boolean | undefined;
  depth?: number | undefined;
  date?: string | undefined;
}

/** Reports coupons that say nothing, or two things, of what came of them. */
export function checkCoupons(coupons: readonly CouponText[], report: Report): void {
  for (const [index, coupon] of coupons.entries()) {
    if ((coupon.through === undefined) === (coupon.depth === undefined)) {
      report(['coupons', index], `coupon ${index + 1}: state either through (true or false) or a measured depth`);
    } else if (coupon.depth !== undefined && coupon.depth > coupon.thickness) {
      report(['coupons', index, 'depth'], `coupon ${index + 1}: the depth is more than the thickness`);
    }
  }
}

/** A coupon as read; where it was cut is stated beside it. */
export function cutAndSeen(said: CouponText): Omit<Coupon, 'machine' | 'lens'> {
  return {
    thicknessMm: said.thickness,
    powerW: said.power,
    speedMmPerS: said.speed,
    passes: said.passes ?? 1,
    focusMm: said.focus ?? 0,
    focusStepMm: said['focus-step'] ?? 0,
    through: said.through ?? null,
    depthMm: said.depth ?? null,
    date: said.date ?? null,
  };
}
