import { normalCdf } from '../doubt/normal.ts';
import { type CouponRow, parted } from './coupon-row.ts';
import { BLUNDERS } from './prior.ts';

/** 1σ of the logarithm of a depth that was misread. */
const BLUNDER_SCATTER = 0.7;

/** Probability that a coupon parts that would do so with this much more energy than it takes, in the logarithm. */
export function partingProbability(logMargin: number, scatter: number): number {
  return BLUNDERS / 2 + (1 - BLUNDERS) * normalCdf(logMargin / scatter);
}

/**
 * How likely a row's outcome is: what parted or did not is a censored value, a measured depth is one.
 * @param logMargin logarithm of the energy with which the row would just part or reach its depth, over that of the material.
 */
export function likelihood(row: CouponRow, logMargin: number, scatter: number): number {
  const outcome = parted(row);
  if (outcome !== null) return partingProbability(outcome ? logMargin : -logMargin, scatter);
  return depthDensity(logMargin, scatter);
}

function depthDensity(logMargin: number, scatter: number): number {
  const z = logMargin / scatter;
  const wide = logMargin / BLUNDER_SCATTER;
  return (
    ((1 - BLUNDERS) * Math.exp(-0.5 * z * z)) / scatter +
    (BLUNDERS * Math.exp(-0.5 * wide * wide)) / BLUNDER_SCATTER +
    1e-12
  );
}

/** Normal scores beyond which a coupon's fate is certain but for blunders, and the steps of the table between. */
const SURE_SCORE = 6;
const STEPS_PER_SCORE = 64;

/** ln {@link partingProbability} by normal score: a posterior asks for it millions of times. */
const LOG_PARTING = Float64Array.from({ length: 2 * SURE_SCORE * STEPS_PER_SCORE + 1 }, (_, i) =>
  Math.log(partingProbability(i / STEPS_PER_SCORE - SURE_SCORE, 1)),
);

/** ln {@link likelihood} of a row whose outcome is known: `parted` of the row. */
export function logLikelihood(outcome: boolean | null, logMargin: number, scatter: number): number {
  if (outcome === null) return Math.log(depthDensity(logMargin, scatter));
  const score = (outcome ? logMargin : -logMargin) / scatter;
  const at = Math.min(Math.max((score + SURE_SCORE) * STEPS_PER_SCORE, 0), LOG_PARTING.length - 1);
  const below = Math.min(Math.floor(at), LOG_PARTING.length - 2);
  const low = LOG_PARTING[below]!;
  return low + (LOG_PARTING[below + 1]! - low) * (at - below);
}
