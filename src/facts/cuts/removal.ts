import type { Material, SourceKind } from '../../job/model.ts';
import { COUPLING } from '../../physics/coupling.ts';

/** What it takes to remove a material under a kind of source. */
export interface Removal {
  /** Power counted at the work. */
  jPerMm3: number;
  /** 1σ of its logarithm. */
  spread: number;
}

/**
 * The material's removal energy under a kind of source: the catalogue's were found with CO₂ sources and carry over with a doubt of
 * their own. What a shop found on its own bench holds as it is. Null where no source cuts the material.
 */
export function removalUnder(material: Material, kind: SourceKind): Removal | null {
  const { removal } = material;
  if (removal === null) return null;
  const { jPerMm3, spread } = removal;
  if (removal.coupons > 0 || removal.provenance.kind === 'measured-here') return { jPerMm3, spread };
  const { energyFactor, spread: ofCoupling } = COUPLING[kind];
  return { jPerMm3: jPerMm3 * energyFactor, spread: Math.hypot(spread, ofCoupling) };
}
