import type { Beam } from '../beam/focused-beam.ts';
import { evenPasses, MOST_MARCHED_PASSES, typedSpeeds } from '../march/passes.ts';
import type { Calibration } from './calibration.ts';
import { DepthTable } from './depth-table.ts';
import { type CalibrationPrior, type Posterior, partingProbability, weigh } from './posterior.ts';

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
 * The first coupon, from the catalogue alone. Null as in {@link nextCoupon}.
 * @outsideCheck tests/outside/calibration.test.ts plans a simulated shop's first cut by it
 */
export function firstCoupon(prior: CalibrationPrior, options: NextCouponOptions): NextCoupon | null {
  return mostInformative(weigh(prior, [], true), prior, options);
}

function mostInformative(posterior: Posterior, prior: CalibrationPrior, options: NextCouponOptions): NextCoupon | null {
  if (!(options.passes <= MOST_MARCHED_PASSES)) return null;
  const typed = typedSpeeds(options.slowestMmPerS, options.fastestMmPerS);
  const every = Math.max(1, typed.length / MOST_SPEEDS);
  const speeds = typed.filter((_, i) => Math.floor(i / every) !== Math.floor((i - 1) / every));
  let best: NextCoupon | null = null;
  for (const speedMmPerS of speeds) {
    const tables = tablesFor(posterior, prior, options, speedMmPerS);
    for (const thicknessMm of options.thicknessesMm) {
      if (!(thicknessMm > 0)) continue;
      const candidate = { thicknessMm, speedMmPerS, ...informationOf(posterior, tables, Math.log(thicknessMm)) };
      if (best === null || candidate.informationBits > best.informationBits) best = candidate;
    }
  }
  return best;
}

function tablesFor(
  posterior: Posterior,
  prior: CalibrationPrior,
  options: NextCouponOptions,
  speedMmPerS: number,
): DepthTable[] {
  const { logRemovals } = posterior;
  const passes = evenPasses({ passes: options.passes, powerW: options.powerW, speedMmPerS, focusMm: options.focusMm });
  return Array.from(posterior.shares, (divergenceShare) => {
    const stock = { ...prior.stock, divergenceShare };
    return new DepthTable(options.beam, stock, passes, logRemovals[0]!, logRemovals[logRemovals.length - 1]!);
  });
}

/** Weights below this are passed over. */
const LEAST_WEIGHT = 1e-5;

/**
 * Entropy of the outcome less what remains of it when the material were known: the mutual information with removal energy
 * and divergence share. What an outcome tells of the scatter alone does not count.
 */
function informationOf(posterior: Posterior, tables: readonly DepthTable[], logThickness: number) {
  const { logRemovals, scatters, weights } = posterior;
  const removals = logRemovals.length;
  let mean = 0;
  let remaining = 0;
  let total = 0;
  tables.forEach((table, s) => {
    for (let r = 0; r < removals; r++) {
      let weight = 0;
      let part = 0;
      for (let c = 0; c < scatters.length; c++) weight += weights[(s * scatters.length + c) * removals + r]!;
      if (weight < LEAST_WEIGHT) continue;
      const logMargin = table.logDepthAt(logRemovals[r]!) - logThickness;
      for (let c = 0; c < scatters.length; c++) {
        part += weights[(s * scatters.length + c) * removals + r]! * partingProbability(logMargin, scatters[c]!);
      }
      mean += part;
      remaining += weight * entropyBits(part / weight);
      total += weight;
    }
  });
  if (total === 0) return { throughProbability: 0, informationBits: 0 };
  const throughProbability = mean / total;
  return { throughProbability, informationBits: Math.max(0, entropyBits(throughProbability) - remaining / total) };
}

function entropyBits(p: number): number {
  return p <= 0 || p >= 1 ? 0 : -p * Math.log2(p) - (1 - p) * Math.log2(1 - p);
}
