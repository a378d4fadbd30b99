import type { Lens, Machine, Material } from '../../job/model.ts';
import type { Beam } from '../../physics/beam/focused-beam.ts';
import { type Grounds, groundsOf } from '../coupons/grounds.ts';
import { beamOf, widestAcross } from './optics.ts';

/** Everything about one sheet under one lens that stays the same from cut to cut. */
export interface Setup {
  machine: Machine;
  lens: Lens;
  beam: Beam;
  material: Material;
  /** What is known of the material on this machine under this lens. */
  grounds: Grounds;
  thicknessMm: number;
  thicknessSpreadMm: number;
  bowMm: number;
}

/** The same sheet on the same machine under another of its lenses; null where that gives no beam. */
export function setUpUnder(setup: Setup, lens: Lens): Setup | null {
  const { beam } = beamOf(setup.machine, lens);
  const grounds = groundsOf(setup.machine, lens, setup.material);
  return beam && grounds && { ...setup, lens, beam: widestAcross(beam), grounds };
}
