import { depthOfFocusMm } from '../../physics/beam/focused-beam.ts';
import type { CutFact } from './cut-fact.ts';
import { leastSure } from './least-sure.ts';
import { wattsAt } from './power.ts';
import { CutPredictor } from './prediction.ts';
import { setUpUnder } from './setup.ts';

/** What a longer one of the machine's lenses would do for the job's least sure through cut. */
export interface LensOutlook {
  readonly lens: string;
  readonly focalMm: number;
  /** With the same power, speed and passes and the waist where it serves best of the face, a third of the sheet and where it is set. */
  readonly throughProbability: number;
}

/** The longer lens that parts the sheet the likeliest; null without one, and for a sheet within the lens's depth of focus, which needs none. */
export function lensOutlook(cuts: readonly CutFact[], predictor: CutPredictor | null): LensOutlook | null {
  const cut = leastSure(cuts);
  if (!predictor || !cut) return null;
  const { machine, lens, beam, thicknessMm } = predictor.setup;
  if (thicknessMm <= depthOfFocusMm(beam, 'sqrt2')) return null;
  const spread = Math.max(0, ...cut.passes.map((pass) => wattsAt(machine, pass.setting, null)?.spread ?? 0));
  const first = cut.passes[0]!.focusMm;
  const focuses = [...new Set([first, 0, -Math.round(thicknessMm / 3)])];
  let best: LensOutlook | null = null;
  for (const other of machine.lenses) {
    const setup = other.focalMm > lens.focalMm ? setUpUnder(predictor.setup, other) : null;
    if (!setup) continue;
    const under = new CutPredictor(setup);
    for (const focusMm of focuses) {
      const passes = cut.passes.map((pass) => ({ ...pass, focusMm: focusMm + pass.focusMm - first }));
      const throughProbability = under.chanceFrom(best?.throughProbability ?? 0, passes, spread);
      if (throughProbability !== null && throughProbability > (best?.throughProbability ?? -1))
        best = { lens: other.id, focalMm: other.focalMm, throughProbability };
    }
  }
  return best;
}
