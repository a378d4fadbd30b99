import type { Coupon, Material, SourceKind } from '../../job/model.ts';
import { type CouponSpan, spreadFor } from '../../physics/calibration/calibration.ts';
import { removalUnder } from './removal.ts';

/**
 * 1σ of the removal energy for a cut, as a fraction. Where the value rests on coupons it is no better than they are: it
 * widens the farther the cut's thickness and power lie from theirs, and under a lens that none of them was cut with.
 */
export function removalSpread(
  setup: {
    machine: { id: string; source: { kind: SourceKind } };
    lens: { id: string };
    material: Material;
    thicknessMm: number;
  },
  powerW: number,
): number {
  const { machine, lens, material, thicknessMm } = setup;
  const removal = removalUnder(material, machine.source.kind);
  if (removal === null) return 0;
  if (material.removal?.coupons === 0 || material.coupons.length === 0 || !(powerW > 0)) return removal.spread;
  return spreadFor(
    { span: spanOf(material.coupons), spread: removal.spread, priorSpread: Number.POSITIVE_INFINITY },
    { thicknessMm, powerW, lens: lensName(machine.id, lens.id) },
  );
}

/** Coupons cut with this machine have its true power in the fitted energy. */
export function isCutHere(machine: { id: string }, material: Material): boolean {
  return (material.removal?.coupons ?? 0) > 0 && material.coupons.some((coupon) => coupon.machine === machine.id);
}

function spanOf(coupons: readonly Coupon[]): CouponSpan {
  const thicknesses = coupons.map((coupon) => coupon.depthMm ?? coupon.thicknessMm);
  const powers = coupons.map((coupon) => coupon.powerW);
  return {
    thicknessMm: { min: Math.min(...thicknesses), max: Math.max(...thicknesses) },
    powerW: { min: Math.min(...powers), max: Math.max(...powers) },
    lenses: [...new Set(coupons.map((coupon) => lensName(coupon.machine ?? '', coupon.lens ?? '')))],
  };
}

/** Two machines may call different lenses by one id. */
export function lensName(machine: string, lens: string): string {
  return `${machine} ${lens}`;
}
