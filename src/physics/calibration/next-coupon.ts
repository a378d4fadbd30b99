import type { Beam } from '../beam/focused-beam.ts';
import { evenPasses, MOST_MARCHED_PASSES, typedSpeeds } from '../march/passes.ts';
import type { Calibration } from './calibration.ts';
import { partingProbability } from './likelihood.ts';
import { logPartingEnergy } from './parting-energy.ts';
import { type Posterior, weigh } from './posterior.ts';
import type { CalibrationPrior } from './prior.ts';

/** What the next coupon may be cut with. */
export interface NextCouponOptions {
  beam: Beam;
  powerW: number;
  focusMm: number;
  passes: number;
  thicknessesMm: readonly number[];
  slowestMmPerS: number;
  fastestMmPerS: number;
}

export interface NextCoupon {
  thicknessMm: number;
  speedMmPerS: number;
  throughProbability: number;
  /** What its outcome is expected to tell about the material. */
  informationBits: number;
}

/** Most speeds that are weighed for one thickness. */
const MOST_SPEEDS = 24;

/**
 * The coupon whose outcome tells most: where parting is about even for what is known, and the scatter does not drown it.
 * Null when the options name no thickness and speed, or too many passes.
 */
export function nextCoupon(calibration: Calibration, options: NextCouponOptions): NextCoupon | null {
  return mostInformative(calibration.posterior, calibration.prior, options);
}

/**
 * The first coupon, from what is taken before any was cut. Null as in {@link nextCoupon}.
 * @outsideCheck tests/outside/calibration.test.ts plans a simulated shop's first cut by it
 */
export function firstCoupon(prior: CalibrationPrior, options: NextCouponOptions): NextCoupon | null {
  return mostInformative(weigh(prior, []), prior, options);
}

function mostInformative(posterior: Posterior, prior: CalibrationPrior, options: NextCouponOptions): NextCoupon | null {
  if (!(options.passes <= MOST_MARCHED_PASSES)) return null;
  const typed = typedSpeeds(options.slowestMmPerS, options.fastestMmPerS);
  const every = Math.max(1, typed.length / MOST_SPEEDS);
  const speeds = typed.filter((_, i) => Math.floor(i / every) !== Math.floor((i - 1) / every));
  let best: NextCoupon | null = null;
  for (const speedMmPerS of speeds) {
    for (const thicknessMm of options.thicknessesMm) {
      if (!(thicknessMm > 0)) continue;
      const candidate = {
        thicknessMm,
        speedMmPerS,
        ...informationOf(posterior, prior, options, { thicknessMm, speedMmPerS }),
      };
      if (best === null || candidate.informationBits > best.informationBits) best = candidate;
    }
  }
  return best;
}

/** Weights below this are passed over. */
const LEAST_WEIGHT = 1e-5;

/**
 * Entropy of the outcome less what remains of it when the material and the focus were known: the mutual information with removal
 * energy, divergence share and focus. What an outcome tells of the scatter alone does not count.
 */
function informationOf(
  posterior: Posterior,
  prior: CalibrationPrior,
  { beam, passes, powerW, focusMm }: NextCouponOptions,
  { thicknessMm: depthMm, speedMmPerS }: { thicknessMm: number; speedMmPerS: number },
) {
  const { focusesMm, shares, scatters, logRemovals, weights } = posterior;
  let mean = 0;
  let remaining = 0;
  let total = 0;
  let near = logRemovals[logRemovals.length >> 1]!;
  for (let cell = 0; cell < focusesMm.length * shares.length; cell++) {
    const offMm = focusesMm[Math.floor(cell / shares.length)]!;
    const stock = { ...prior.stock, divergenceShare: shares[cell % shares.length]! };
    const recipe = evenPasses({ passes, powerW, speedMmPerS, focusMm: focusMm + offMm });
    near = logPartingEnergy({ beam, stock, passes: recipe, depthMm }, near);
    for (let r = 0; r < logRemovals.length; r++) {
      const { weight, part } = outcomeAt(cell, r, near - logRemovals[r]!);
      if (weight < LEAST_WEIGHT) continue;
      mean += part;
      remaining += weight * entropyBits(part / weight);
      total += weight;
    }
  }
  if (total === 0) return { throughProbability: 0, informationBits: 0 };
  const throughProbability = mean / total;
  return { throughProbability, informationBits: Math.max(0, entropyBits(throughProbability) - remaining / total) };

  /** Weight of a place in the posterior, and the part of it in which the coupon parts. */
  function outcomeAt(cell: number, removal: number, logMargin: number): { weight: number; part: number } {
    let weight = 0;
    let part = 0;
    for (let c = 0; c < scatters.length; c++) {
      const one = weights[(cell * scatters.length + c) * logRemovals.length + removal]!;
      weight += one;
      if (one > 0) part += one * partingProbability(logMargin, scatters[c]!);
    }
    return { weight, part };
  }
}

function entropyBits(p: number): number {
  return p <= 0 || p >= 1 ? 0 : -p * Math.log2(p) - (1 - p) * Math.log2(1 - p);
}
