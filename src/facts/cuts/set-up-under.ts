import type { Lens } from '../../job/model.ts';
import { beamOf, widestAcross } from './optics.ts';
import type { Setup } from './prediction.ts';

/** The same sheet on the same machine under another of its lenses; null where that gives no beam. */
export function setUpUnder(setup: Setup, lens: Lens): Setup | null {
  const { beam } = beamOf(setup.machine, lens);
  return beam && { ...setup, lens, beam: widestAcross(beam) };
}
