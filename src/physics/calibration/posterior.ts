import { normalCdf } from '../doubt/normal.ts';
import { shareAt } from '../doubt/samples.ts';
import type { Stock } from '../march/stock.ts';
import { type CouponRow, parted } from './coupon-row.ts';
import { DepthTable } from './depth-table.ts';

/** What was known before the coupons. */
export interface CalibrationPrior {
  /** Thermal values, and the catalogue's removal energy and divergence share. */
  stock: Stock;
  /** 1σ of the removal energy as a fraction (of its logarithm). */
  removalSpread: number;
  /** 5th and 95th percentile of the divergence share. */
  divergence: { low: number; high: number };
}

/** Weight of every combination that was weighed: `weights[(share × scatters + scatter) × removals + removal]`, summing to 1. */
export interface Posterior {
  logRemovals: Float64Array;
  shares: Float64Array;
  scatters: readonly number[];
  weights: Float64Array;
}

const REMOVALS = 241;
/** The removal energy is searched this far to either side, in prior 1σ, and at least by {@link LEAST_REACH} in its logarithm. */
const REACH_SIGMAS = 4;
const LEAST_REACH = 1.5;

/** Coupon-to-coupon scatter of the depth (1σ of its logarithm) with the weights it has beforehand (common practice, no source). */
export const SCATTERS = [0.02, 0.04, 0.08, 0.15, 0.3, 0.5] as const;
export const SCATTER_WEIGHTS = [0.1, 0.25, 0.3, 0.2, 0.1, 0.05] as const;

/** Share of rows that are simply wrong: misread, a lifted sheet, a mixed-up tongue. One of them must not bend the fit. */
export const BLUNDERS = 0.02;
/** 1σ of the logarithm of a depth that was misread. */
const BLUNDER_SCATTER = 0.7;

/** Normal scores at which the divergence share is weighed. */
const SHARE_SCORES = Array.from({ length: 13 }, (_, i) => -2.4 + 0.4 * i);

/**
 * Weighs removal energy, divergence share and scatter by the coupons: rows that parted or did not enter as censored
 * depths, measured depths as values. A grid, since it can neither diverge nor miss a second peak.
 * @param fitShare false holds the divergence share at the prior's value.
 */
export function weigh(prior: CalibrationPrior, rows: readonly CouponRow[], fitShare: boolean): Posterior {
  const centre = Math.log(prior.stock.removalJPerMm3);
  const reach = Math.max(REACH_SIGMAS * prior.removalSpread, LEAST_REACH);
  const logRemovals = Float64Array.from(
    { length: REMOVALS },
    (_, i) => centre + reach * ((2 * i) / (REMOVALS - 1) - 1),
  );
  const scores = fitShare ? SHARE_SCORES : [0];
  const shares = Float64Array.from(scores, (score) => shareAt(prior.stock.divergenceShare, prior.divergence, score));
  const logs = new Float64Array(shares.length * SCATTERS.length * REMOVALS);
  const spread = Math.max(prior.removalSpread, 1e-3);
  shares.forEach((divergenceShare, s) => {
    const stock = { ...prior.stock, divergenceShare };
    const tables = rows.map((row) => new DepthTable(row.beam, stock, row.passes, centre - reach, centre + reach));
    SCATTERS.forEach((scatter, c) => {
      const base = (s * SCATTERS.length + c) * REMOVALS;
      for (let r = 0; r < REMOVALS; r++) {
        const z = (logRemovals[r]! - centre) / spread;
        let log = -0.5 * z * z - 0.5 * scores[s]! ** 2 + Math.log(SCATTER_WEIGHTS[c]!);
        rows.forEach((row, i) => {
          log += Math.log(likelihood(row, tables[i]!.logDepthAt(logRemovals[r]!), scatter));
        });
        logs[base + r] = log;
      }
    });
  });
  return { logRemovals, shares, scatters: SCATTERS, weights: normalised(logs) };
}

/** How likely a row's outcome is when the march gives this depth. */
export function likelihood(row: CouponRow, logDepth: number, scatter: number): number {
  const outcome = parted(row);
  if (outcome === null) {
    const z = (Math.log(row.depthMm ?? row.thicknessMm) - logDepth) / scatter;
    const wide = (z * scatter) / BLUNDER_SCATTER;
    return (
      ((1 - BLUNDERS) * Math.exp(-0.5 * z * z)) / scatter +
      (BLUNDERS * Math.exp(-0.5 * wide * wide)) / BLUNDER_SCATTER +
      1e-12
    );
  }
  const part = partingProbability(logDepth - Math.log(row.thicknessMm), scatter);
  return outcome ? part : 1 - part;
}

/** Probability that a coupon parts whose predicted depth exceeds its thickness by this much, in the logarithm. */
export function partingProbability(logMargin: number, scatter: number): number {
  return BLUNDERS / 2 + (1 - BLUNDERS) * normalCdf(logMargin / scatter);
}

function normalised(logs: Float64Array): Float64Array {
  const highest = logs.reduce((max, each) => Math.max(max, each), Number.NEGATIVE_INFINITY);
  const weights = logs.map((each) => Math.exp(each - highest));
  const sum = weights.reduce((total, each) => total + each, 0);
  return weights.map((each) => each / sum);
}

/** Weights of one of the three quantities with the other two summed over. */
export function marginal(posterior: Posterior, of: 'removal' | 'share' | 'scatter'): Float64Array {
  const { shares, scatters, weights } = posterior;
  const sums = new Float64Array({ removal: REMOVALS, share: shares.length, scatter: scatters.length }[of]);
  weights.forEach((weight, i) => {
    const row = Math.floor(i / REMOVALS);
    const at =
      of === 'removal' ? i % REMOVALS : of === 'scatter' ? row % scatters.length : Math.floor(row / scatters.length);
    sums[at]! += weight;
  });
  return sums;
}

/** Value below which this share of the weight lies, straight between the values. Values rise; weights sum to 1. */
export function weightedQuantile(values: ArrayLike<number>, weights: ArrayLike<number>, share: number): number {
  let before = 0;
  let previous = 0;
  for (let i = 0; i < values.length; i++) {
    const middle = before + weights[i]! / 2;
    if (middle >= share) {
      if (i === 0) return values[0]!;
      const part = (share - previous) / (middle - previous);
      return values[i - 1]! + (values[i]! - values[i - 1]!) * part;
    }
    previous = middle;
    before += weights[i]!;
  }
  return values[values.length - 1]!;
}
