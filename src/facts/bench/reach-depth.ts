import { marchedDepthMm } from '../../physics/march/march.ts';
import { roundToStep } from '../../physics/march/passes.ts';
import { reachCurve } from '../../physics/search/reach-curve.ts';
import { roundTo } from '../../units/format.ts';
import type { Setup } from '../cuts/setup.ts';
import type { ReachDepth } from './reach-model.ts';
import { cutOf } from './set-up.ts';

/** Equal passes of which a depth is asked. */
export interface CurveRecipe {
  /** At the work, with 1σ as a fraction. */
  readonly powerW: number;
  readonly spread: number;
  readonly speedMmPerS: number;
  readonly passes: number;
  /** Waist above (+) or below (−) the face; null: where it serves best. */
  readonly focusMm: number | null;
}

/** Thinner than any sheet: where a depth vanishes, its doubt is that of this thickness, mm. */
const THINNEST_MM = 0.01;
/** Typed steps of focus, mm, and most positions that are tried. */
const FOCUS_STEP_MM = 0.5;
const MOST_FOCUS_STEPS = 24;

/**
 * The depth that a recipe reaches, with its band. The doubt is that of a sheet as thick as the depth itself: the farther
 * that lies from the coupons of a calibrated material, the wider it is.
 */
export function reachDepth(setup: Setup, recipe: CurveRecipe): ReachDepth {
  const { focusMm, depthMm } = deepest(setup, recipe);
  const { powerW, passes, speedMmPerS } = recipe;
  const cut = cutOf({ ...setup, thicknessMm: Math.max(THINNEST_MM, depthMm) }, { ...recipe, focusMm });
  const point = reachCurve({ ...cut, powerW, passes, focusMm: cut.passes[0]!.focusMm }, [speedMmPerS])[0]!;
  return {
    speedMmPerS,
    depthMm: roundTo(point.depthMm, 2),
    lowMm: roundTo(point.lowMm, 2),
    highMm: roundTo(point.highMm, 2),
    sureMm: roundTo(point.sureMm, 2),
  };
}

/** The stated focus, or of the typed positions within the cut the one that goes deepest with nothing off. */
function deepest(setup: Setup, recipe: CurveRecipe): { focusMm: number; depthMm: number } {
  const at = (focusMm: number) => {
    const { beam, stock, passes } = cutOf(setup, { ...recipe, focusMm });
    return { focusMm, depthMm: marchedDepthMm(beam, stock, passes) };
  };
  if (recipe.focusMm !== null) return at(recipe.focusMm);
  let best = at(0);
  const step = FOCUS_STEP_MM * Math.max(1, Math.ceil(best.depthMm / FOCUS_STEP_MM / MOST_FOCUS_STEPS));
  for (let i = 1; i <= MOST_FOCUS_STEPS && i * step <= best.depthMm; i++) {
    const one = at(-roundToStep(i * step, FOCUS_STEP_MM));
    if (one.depthMm > best.depthMm) best = one;
  }
  return best;
}
