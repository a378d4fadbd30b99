import type { Beam } from '../beam/focused-beam.ts';
import { marchedDepthMm } from './march.ts';
import type { CutPass } from './passes.ts';
import type { Stock } from './stock.ts';

/** Highest and lowest factor that is told apart. */
const FACTOR_RANGE = 1e4;

/** Halvings of the logarithm: finer than one part in 10⁵. */
const HALVINGS = 22;

/** Finds the factor at which something that holds below it stops holding, by halving its logarithm. */
function turningFactor(holdsAt: (factor: number) => boolean): number {
  let low = -Math.log(FACTOR_RANGE);
  let high = Math.log(FACTOR_RANGE);
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (holdsAt(Math.exp(middle))) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/**
 * Factor on every pass's power with which a recipe just reaches a depth. Depth rises with power, so there is one;
 * beyond 10⁻⁴…10⁴ it stays at the end.
 */
export function powerFactorFor(beam: Beam, stock: Stock, passes: readonly CutPass[], depthMm: number): number {
  return turningFactor((factor) => {
    const scaled = passes.map((pass) => ({ ...pass, powerW: pass.powerW * factor }));
    return marchedDepthMm(beam, stock, scaled, depthMm) < depthMm;
  });
}

/** Factor on the removal energy with which a recipe just reaches a depth; limits as {@link powerFactorFor}. */
export function removalFactorFor(beam: Beam, stock: Stock, passes: readonly CutPass[], depthMm: number): number {
  return turningFactor((factor) => {
    const other = { ...stock, removalJPerMm3: stock.removalJPerMm3 * factor };
    return marchedDepthMm(beam, other, passes, depthMm) >= depthMm;
  });
}
