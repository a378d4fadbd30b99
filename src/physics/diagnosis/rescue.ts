import { type CutInput, cutProblem, throughProbability } from '../doubt/predict.ts';
import { removalFactorFor } from '../march/inverse.ts';
import { type CutPass, roundToStep } from '../march/passes.ts';

/** More passes over a sheet that has not moved. */
export interface Rescue {
  /** Of the same power and speed as the last planned pass. */
  extraPasses: CutPass[];
  throughProbability: number;
}

/** What is left of the doubt once a depth was seen under the very same conditions, 1σ (common practice, no source). */
const REMAINING_REMOVAL = 0.12;
const REMAINING_POWER = 0.05;
const REMAINING_FOCUS_MM = 0.25;
const FOCUS_STEP_MM = 0.5;

/**
 * The fewest passes on top of the planned ones that still get a sheet through that stopped at a depth, the material taken as
 * hard as that depth shows; the focus stays, or is lowered to the depth reached where that does it sooner. Null when
 * that many passes do not, or when the input has a problem.
 */
export function rescue(cut: CutInput, depthMm: number, limit: number, mostExtra: number): Rescue | null {
  if (cutProblem(cut) !== null || !(depthMm > 0 && depthMm < cut.thicknessMm)) return null;
  const factor = removalFactorFor(cut.beam, cut.stock, cut.passes, depthMm);
  const stock = { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * factor };
  const doubt = {
    ...cut.doubt,
    learned: null,
    removal: Math.min(cut.doubt.removal, REMAINING_REMOVAL),
    power: Math.min(cut.doubt.power, REMAINING_POWER),
    focusMm: Math.min(cut.doubt.focusMm, REMAINING_FOCUS_MM),
  };
  const last = cut.passes[cut.passes.length - 1]!;
  const lowered = 0 - roundToStep(depthMm, FOCUS_STEP_MM);
  for (let count = 1; count <= mostExtra; count++) {
    for (const focusMm of [last.focusMm, lowered]) {
      const extraPasses = Array.from({ length: count }, () => ({ ...last, focusMm }));
      const probability = throughProbability({ ...cut, stock, doubt, passes: [...cut.passes, ...extraPasses] });
      if (probability >= limit) return { extraPasses, throughProbability: probability };
    }
  }
  return null;
}
