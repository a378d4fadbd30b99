import type { Machine, Material } from '../../job/model.ts';
import { COUPLING } from '../../physics/coupling.ts';

/** What a material was taken to ask for before the coupons of this machine are weighed. */
export interface Removal {
  /** Power counted at the work. */
  jPerMm3: number;
  /** 1σ of its logarithm. */
  spread: number;
  divergence: Material['divergence'];
  /** Coupons of this very machine are in it already: those that the material's file lists. */
  restsOnCoupons: boolean;
  /** Factor by which a file beside the job raised it; 1 where none did. */
  raisedBy: number;
}

/** One source against another, 1σ of the energy, power included: as the fit takes it (docs/evidence.md). */
export const OTHER_SOURCE = 0.25;

/**
 * What is known of a material's removal energy on a machine without the coupons of its bench; null where no source cuts the material. The
 * catalogue's energies were found with CO₂ sources and carry over with a doubt of their own; what a shop states as measured holds as it
 * is. A value that rests on coupons holds for the machines that cut them: for another it gives way to the catalogue's, or is in doubt by
 * what one shop differs from another.
 * @param cutHere coupons of it were cut on this machine. A value that rests on coupons, but whose rows are listed no more, is then not
 * taken as it is: they may be the same ones.
 */
export function removalBefore(
  material: Material,
  machine: Pick<Machine, 'id' | 'source'>,
  cutHere: boolean,
): Removal | null {
  const { removal, beforeCoupons, divergence } = material;
  if (removal === null) return null;
  const { raisedBy } = removal;
  const asStated = { ...removal, divergence, restsOnCoupons: false, raisedBy };
  const named = new Set(material.coupons.flatMap((coupon) => coupon.machine ?? []));
  if (removal.coupons === 0 || (named.size === 0 && !cutHere)) {
    return isOwn(removal) ? trimmed(asStated) : trimmed(coupled(asStated, machine));
  }
  if (beforeCoupons !== null) {
    const jPerMm3 = beforeCoupons.removal.jPerMm3 * raisedBy;
    return trimmed(
      coupled({ ...asStated, ...beforeCoupons.removal, jPerMm3, divergence: beforeCoupons.divergence }, machine),
    );
  }
  if (named.has(machine.id)) return trimmed({ ...asStated, restsOnCoupons: true });
  return trimmed(coupled({ ...asStated, spread: Math.hypot(removal.spread, OTHER_SOURCE) }, machine));
}

function isOwn({ coupons, provenance }: NonNullable<Material['removal']>): boolean {
  return coupons > 0 || provenance.kind === 'measured-here';
}

function coupled<T extends { jPerMm3: number; spread: number }>(removal: T, { source }: Pick<Machine, 'source'>): T {
  const { energyFactor, spread } = COUPLING[source.kind];
  return { ...removal, jPerMm3: removal.jPerMm3 * energyFactor, spread: Math.hypot(removal.spread, spread) };
}

function trimmed({ jPerMm3, spread, divergence, restsOnCoupons, raisedBy }: Removal): Removal {
  return { jPerMm3, spread, divergence, restsOnCoupons, raisedBy };
}
