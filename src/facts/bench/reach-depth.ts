import { marchedDepthMm } from '../../physics/march/march.ts';
import { roundToStep } from '../../physics/march/passes.ts';
import { type ReachPoint, reachCurve } from '../../physics/search/reach-curve.ts';
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

/** Positions in a row that serve worse, after which no deeper one is tried. */
const WORSE_IN_A_ROW = 2;

/**
 * The depth that a recipe reaches, with its band. The doubt is that of a sheet as thick as the depth itself: the farther
 * that lies from the coupons of a calibrated material, the wider it is. A focus that is not stated lies where the depth that
 * can be relied on is greatest, as a recipe has it: with nothing off a deeper one goes deeper still, but is less sure.
 */
export function reachDepth(setup: Setup, recipe: CurveRecipe): ReachDepth {
  const { speedMmPerS } = recipe;
  const point = recipe.focusMm === null ? surestPoint(setup, recipe) : pointAt(setup, recipe, recipe.focusMm);
  return {
    speedMmPerS,
    depthMm: roundTo(point.depthMm, 2),
    lowMm: roundTo(point.lowMm, 2),
    highMm: roundTo(point.highMm, 2),
    sureMm: roundTo(point.sureMm, 2),
  };
}

function pointAt(setup: Setup, recipe: CurveRecipe, focusMm: number): ReachPoint {
  const { powerW, passes, speedMmPerS } = recipe;
  const { beam, stock, passes: planned } = cutOf(setup, { ...recipe, focusMm });
  const depthMm = marchedDepthMm(beam, stock, planned);
  const cut = cutOf({ ...setup, thicknessMm: Math.max(THINNEST_MM, depthMm) }, { ...recipe, focusMm });
  return reachCurve({ ...cut, powerW, passes, focusMm: cut.passes[0]!.focusMm }, [speedMmPerS])[0]!;
}

/** Of the typed positions within the cut, from the face down. */
function surestPoint(setup: Setup, recipe: CurveRecipe): ReachPoint {
  let best = pointAt(setup, recipe, 0);
  const onFaceMm = best.depthMm;
  const step = FOCUS_STEP_MM * Math.max(1, Math.ceil(onFaceMm / FOCUS_STEP_MM / MOST_FOCUS_STEPS));
  let worse = 0;
  for (let i = 1; i * step <= onFaceMm && worse < WORSE_IN_A_ROW; i++) {
    const one = pointAt(setup, recipe, -roundToStep(i * step, FOCUS_STEP_MM));
    if (one.sureMm > best.sureMm) [best, worse] = [one, 0];
    else worse++;
  }
  return best;
}
