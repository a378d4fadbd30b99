import { nameKey } from '../../job/files/name-key.ts';
import type { Bench, Coupon, Lens, Machine, Material } from '../../job/model.ts';
import type { CouponRow } from '../../physics/calibration/coupon-row.ts';
import { evenPasses } from '../../physics/march/passes.ts';
import { beamOf, widestAcross } from '../cuts/optics.ts';

/** What tells one coupon from another: the same cut on the same day with the same outcome is one coupon that was read twice. */
export function couponKey(coupon: Coupon): string {
  const { machine, lens, thicknessMm, powerW, speedMmPerS, passes, focusMm, focusStepMm } = coupon;
  const { through, depthMm, date } = coupon;
  const recipe = [thicknessMm, powerW, speedMmPerS, passes, focusMm, focusStepMm];
  return JSON.stringify([machine, lens, ...recipe, through, depthMm, date]);
}

/** Does a row of a bench name this material, by its id or another of its names? */
export function names(material: Pick<Material, 'id' | 'name' | 'aliases'>): (row: { material: string }) => boolean {
  const keys = new Set([material.id, material.name, ...material.aliases].map(nameKey));
  return (row) => keys.has(nameKey(row.material));
}

/**
 * Coupons of a material that were cut on this machine, the newest last, each once: those of its bench, and those of the material's own
 * file that name it.
 */
export function couponsOf(machine: { id: string; bench: Bench | null }, material: Material): Coupon[] {
  const own = material.coupons.filter((coupon) => coupon.machine === machine.id);
  const kept = machine.bench?.coupons.filter(names(material)) ?? [];
  const once = new Map([...own, ...kept].map((coupon) => [couponKey(coupon), coupon]));
  return [...once.values()];
}

/** Thicknesses farther apart than this are two sheets, mm. */
const SHEETS_APART_MM = 0.5;

/** Coupons of one lens as the fit takes them, and by which of them stands for which. Empty where the lens gives no beam. */
export function rowsUnder(machine: Machine, lens: Lens, coupons: readonly Coupon[], offsetMm: number): CouponRow[] {
  const { beam } = beamOf(machine, lens);
  if (beam === null) return [];
  const across = widestAcross(beam);
  const piece = pieceNames(coupons);
  return coupons.map((coupon) => ({
    beam: across,
    lens: lens.id,
    piece: piece.get(coupon)!,
    passes: evenPasses({ ...coupon, focusMm: coupon.focusMm + offsetMm }),
    thicknessMm: coupon.thicknessMm,
    through: coupon.through,
    depthMm: coupon.depthMm,
  }));
}

/** Coupons of one day and one sheet are one piece; those without a date are taken for one piece too, which makes the least of them. */
function pieceNames(coupons: readonly Coupon[]): Map<Coupon, string> {
  const byDay = new Map<string | null, Coupon[]>();
  for (const coupon of coupons) byDay.set(coupon.date, [...(byDay.get(coupon.date) ?? []), coupon]);
  const found = new Map<Coupon, string>();
  for (const [day, ofDay] of byDay) {
    let sheet = 0;
    let before = Number.NaN;
    for (const coupon of [...ofDay].sort((a, b) => a.thicknessMm - b.thicknessMm)) {
      if (coupon.thicknessMm - before > SHEETS_APART_MM) sheet++;
      before = coupon.thicknessMm;
      found.set(coupon, `${day ?? ''} ${sheet}`);
    }
  }
  return found;
}

/** The focus offset that counts for a lens: the last ramp's; null where none was cut. */
export function rampOf(machine: Machine, lens: Lens): { offsetMm: number; spreadMm: number } | null {
  return machine.bench?.ramps.findLast((ramp) => ramp.lens === lens.id) ?? null;
}
