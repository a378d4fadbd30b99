import type { Beam } from '../beam/focused-beam.ts';
import { type CutInput, cutProblem, sampleDepths, throughProbability } from '../doubt/predict.ts';
import { quantile } from '../doubt/quantile.ts';
import { evenPasses, MOST_MARCHED_PASSES } from '../march/passes.ts';
import type { Stock, StockDoubt } from '../march/stock.ts';

/** A machine at one setting with one lens on one material: what does it cut? */
export interface ReachInput {
  beam: Beam;
  stock: Stock;
  doubt: StockDoubt;
  powerW: number;
  /** How many passes. */
  passes: number;
  /** Waist above (+) or below (−) the face in the first pass. */
  focusMm: number;
  /** Change of focus from pass to pass. */
  focusStepMm?: number;
}

/** Depth at one speed: median with the 5th and 95th percentile. */
export interface ReachPoint {
  speedMmPerS: number;
  depthMm: number;
  lowMm: number;
  highMm: number;
  /** Thickness that is parted with a probability of 0.9. */
  sureMm: number;
}

/** Why no reach can be computed; null when it can. */
function reachProblem(input: ReachInput, speedMmPerS: number): string | null {
  if (!(Number.isInteger(input.passes) && input.passes > 0 && input.passes <= MOST_MARCHED_PASSES)) {
    return `the number of passes lies between 1 and ${MOST_MARCHED_PASSES}, not at ${input.passes}`;
  }
  return cutProblem(cutOf(input, speedMmPerS));
}

function cutOf(input: ReachInput, speedMmPerS: number): CutInput {
  const { beam, stock, doubt, powerW, passes, focusMm, focusStepMm = 0 } = input;
  return {
    beam,
    stock,
    doubt,
    passes: evenPasses({ passes, powerW, speedMmPerS, focusMm, focusStepMm }),
    thicknessMm: 1,
    bowMm: 0,
  };
}

/**
 * Thickness against speed. A thickness doubt in the input counts for nothing here, since the depth is asked for.
 * @throws RangeError when {@link reachProblem} names a problem at one of the speeds.
 */
export function reachCurve(input: ReachInput, speedsMmPerS: readonly number[]): ReachPoint[] {
  return speedsMmPerS.map((speedMmPerS) => {
    const problem = reachProblem(input, speedMmPerS);
    if (problem !== null) throw new RangeError(problem);
    const { depths } = sampleDepths(cutOf(input, speedMmPerS));
    return {
      speedMmPerS,
      depthMm: quantile(depths, 0.5),
      lowMm: quantile(depths, 0.05),
      highMm: quantile(depths, 0.95),
      sureMm: quantile(depths, 0.1),
    };
  });
}

/** Range of speeds that are searched, mm/s. */
const SLOWEST_MM_PER_S = 0.01;
const FASTEST_MM_PER_S = 10_000;

/**
 * The highest speed of every pass at which a cut parts with the probability asked for; null when no speed above
 * 0.01 mm/s does. The probability falls with the speed, so halving finds it (to 0.1 %).
 */
export function speedForProbability(cut: CutInput, probability: number): number | null {
  const at = (speedMmPerS: number) =>
    throughProbability({ ...cut, passes: cut.passes.map((pass) => ({ ...pass, speedMmPerS })) });
  if (cutProblem(cut) !== null || at(SLOWEST_MM_PER_S) < probability) return null;
  let low = Math.log(SLOWEST_MM_PER_S);
  let high = Math.log(FASTEST_MM_PER_S);
  while (high - low > 0.001) {
    const middle = (low + high) / 2;
    if (at(Math.exp(middle)) >= probability) low = middle;
    else high = middle;
  }
  return Math.exp(low);
}
