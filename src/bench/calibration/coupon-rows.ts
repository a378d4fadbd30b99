import { done, type Outcome, refused } from '../../facts/bench/set-up.ts';
import { lensName } from '../../facts/cuts/coupon-span.ts';
import { beamOf, widestAcross } from '../../facts/cuts/optics.ts';
import { wattsAt } from '../../facts/cuts/power.ts';
import type { CouponResults, TongueResult } from '../../job/material/coupon-results.ts';
import type { Coupon, Lens, Machine, Material } from '../../job/model.ts';
import type { CouponRow } from '../../physics/calibration/coupon-row.ts';
import { evenPasses } from '../../physics/march/passes.ts';
import { roundTo } from '../../units/format.ts';

/** A test cut with its name for people: a tongue of this sheet, or a coupon that the material's file kept. */
export interface NamedRow {
  name: string;
  coupon: Coupon;
  row: CouponRow;
}

/** The tongues of a results sheet as coupons, the power in watts at the work. */
export function couponsOf(results: CouponResults, machine: Machine, lens: Lens): Outcome<Coupon[]> {
  const coupons: Coupon[] = [];
  for (const tongue of results.tongues) {
    const powerW = wattsOf(tongue, machine, results.at);
    if (powerW === null || !(powerW > 0)) {
      return refused(`tongue ${tongue.tongue}: the profile of ${machine.id} gives no power at this setting`);
    }
    coupons.push({
      machine: machine.id,
      lens: lens.id,
      thicknessMm: tongue.thicknessMm,
      powerW: roundTo(powerW, 2),
      speedMmPerS: tongue.speedMmPerS,
      passes: tongue.passes,
      focusMm: tongue.focusMm,
      focusStepMm: tongue.focusStepMm,
      through: tongue.through,
      depthMm: tongue.depthMm,
      date: results.date,
    });
  }
  return done(coupons);
}

function wattsOf(tongue: TongueResult, machine: Machine, at: CouponResults['at']): number | null {
  if ('watts' in tongue.power) return tongue.power.watts;
  return wattsAt(machine, tongue.power.fraction, at)?.powerW ?? null;
}

/** Coupons that the material's file kept, as rows; those of machines or lenses that are no longer known are named and left out. */
export function keptRows(
  material: Material,
  machineOf: (id: string) => Machine | null,
  offsetMm: number,
): { rows: NamedRow[]; unknown: string[] } {
  const rows: NamedRow[] = [];
  const unknown: string[] = [];
  material.coupons.forEach((coupon, i) => {
    const name = `kept ${i + 1}`;
    const machine = coupon.machine === null ? null : machineOf(coupon.machine);
    const lens = machine?.lenses.find((one) => one.id === coupon.lens) ?? null;
    if (machine === null || lens === null) {
      unknown.push(
        `${name}: ${coupon.machine ?? 'no machine is named'}${coupon.lens === null ? '' : `, lens ${coupon.lens}`}`,
      );
      return;
    }
    const row = rowOf(coupon, machine, lens, offsetMm);
    if (row.value === null) unknown.push(`${name}: ${row.problem}`);
    else rows.push({ name, coupon, row: row.value });
  });
  return { rows, unknown };
}

/** A coupon as the fit takes it. */
export function rowOf(coupon: Coupon, machine: Machine, lens: Lens, offsetMm: number): Outcome<CouponRow> {
  const optics = beamOf(machine, lens);
  if (optics.beam === null) return refused(`lens ${lens.id}: ${optics.problem}`);
  const { passes, powerW, speedMmPerS, focusMm, focusStepMm } = coupon;
  return done({
    beam: widestAcross(optics.beam),
    lens: lensName(machine.id, lens.id),
    passes: evenPasses({ passes, powerW, speedMmPerS, focusMm: focusMm + offsetMm, focusStepMm }),
    thicknessMm: coupon.thicknessMm,
    through: coupon.through,
    depthMm: coupon.depthMm,
  });
}
