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

/** Longer lenses, the likeliest to part the sheet first; empty for a sheet within the lens's depth of focus, which needs none. */
export function lensOutlook(cuts: readonly CutFact[], predictor: CutPredictor | null): LensOutlook[] {
  const cut = leastSure(cuts);
  if (!predictor || !cut) return [];
  const { machine, lens, beam, thicknessMm } = predictor.setup;
  if (thicknessMm <= depthOfFocusMm(beam, 'sqrt2')) return [];
  const spread = Math.max(0, ...cut.passes.map((pass) => wattsAt(machine, pass.setting, null)?.spread ?? 0));
  const first = cut.passes[0]!.focusMm;
  const focuses = [...new Set([first, 0, -Math.round(thicknessMm / 3)])];
  return machine.lenses
    .filter((other) => other.focalMm > lens.focalMm)
    .flatMap((other): LensOutlook[] => {
      const setup = setUpUnder(predictor.setup, other);
      if (!setup) return [];
      const under = new CutPredictor(setup);
      const chances = focuses.flatMap((focusMm) => {
        const passes = cut.passes.map((pass) => ({ ...pass, focusMm: focusMm + pass.focusMm - first }));
        const answer = under.predict(passes, spread, 'depth');
        return 'problem' in answer ? [] : [answer.prediction.throughProbability];
      });
      return chances.length === 0
        ? []
        : [{ lens: other.id, focalMm: other.focalMm, throughProbability: Math.max(...chances) }];
    })
    .sort((a, b) => b.throughProbability - a.throughProbability);
}
