import { roundTo } from '../../units/format.ts';
import type { CutFact, PassFact, RemedyFact } from '../cuts/cut-fact.ts';

/**
 * The passes of a cut with a remedy applied that was found for another cut of its task, or for itself. Watts are scaled by what arrives at
 * the one and at the other; what the remedy does not name stays as planned. Empty where there is no pass to change.
 */
export function curedPasses({ passes }: CutFact, remedy: RemedyFact, ofCut: CutFact): PassFact[] {
  const first = passes[0];
  if (!first) return [];
  const count = remedy.passes ?? passes.length;
  const stepMm = remedy.focusStepMm ?? (passes[1]?.focusMm ?? first.focusMm) - first.focusMm;
  const focusMm = remedy.focusMm ?? first.focusMm;
  const moves = remedy.focusMm !== null || remedy.passes !== null;
  return Array.from({ length: count }, (_, i) => {
    const planned = passes[i] ?? first;
    return {
      ...planned,
      ...powerOf(remedy, planned, share(first, ofCut.passes[0])),
      speedMmPerS: remedy.speedMmPerS ?? planned.speedMmPerS,
      programmedMmPerS: remedy.speedMmPerS ?? planned.programmedMmPerS,
      focusMm: moves ? roundTo(focusMm + i * stepMm, 2) : planned.focusMm,
    };
  });
}

/** How much more arrives at one place than at another, of the same setting; 1 where that cannot be said. */
function share(here: PassFact, there: PassFact | undefined): number {
  if (!there || there.setting !== here.setting || !(there.powerW > 0)) return 1;
  return here.powerW / there.powerW;
}

function powerOf({ powerW, setting }: RemedyFact, planned: PassFact, times: number): Partial<PassFact> {
  if (powerW === null || setting === null || setting === planned.setting) return {};
  return { powerW: roundTo(powerW * times, 2), setting };
}
