import { Z95 } from '../doubt/normal.ts';
import { doubtProblem } from '../doubt/samples.ts';
import { stockProblem } from '../march/stock.ts';
import { type CouponRow, contradictions, couponProblem, parted } from './coupon-row.ts';
import { DepthTable } from './depth-table.ts';
import {
  type CalibrationPrior,
  likelihood,
  marginal,
  type Posterior,
  partingProbability,
  weigh,
  weightedQuantile,
} from './posterior.ts';

/** How one coupon sits with the fit. */
export interface CouponResidual {
  /** Of the row that was given. */
  index: number;
  /** Depth that the fitted values give this recipe in endless stock. */
  predictedMm: number;
  /** ln of the measured depth over the predicted one; of thickness over prediction for a row that contradicts the fit; 0 for one that agrees. */
  logMiss: number;
  /** How likely the fit held this outcome to be (for a measured depth: one at least as far off), 0…1. */
  probability: number;
}

/** Where the coupons lie; outside, the fit is an extrapolation. */
export interface CouponSpan {
  thicknessMm: { min: number; max: number };
  powerW: { min: number; max: number };
  lenses: string[];
}

export interface Calibration {
  /** Median. */
  removalJPerMm3: number;
  /** 5th and 95th percentile. */
  removalLow: number;
  removalHigh: number;
  /** 1σ of the removal energy as a fraction (of its logarithm), where the coupons lie. */
  spread: number;
  divergenceShare: number;
  divergence: { low: number; high: number };
  /** Did the coupons span thicknesses far enough to move the divergence share? */
  shareFitted: boolean;
  /** Coupon-to-coupon 1σ of the depth, as a fraction. */
  scatter: number;
  /** Rows that counted. */
  coupons: number;
  residuals: CouponResidual[];
  /** Pairs of rows where one parted at less energy than another that did not. */
  contradictions: { parted: number; stayed: number }[];
  /** All rows parted, or none did: the boundary was never seen, and the spread stays wide. */
  oneSided: 'all-parted' | 'none-parted' | null;
  span: CouponSpan;
  priorSpread: number;
  /** Rows that could not be used, and why. */
  problems: { index: number; problem: string }[];
  posterior: Posterior;
  prior: CalibrationPrior;
}

export type CalibrationResult =
  | { calibration: Calibration; problem: null }
  | { calibration: null; problem: string; problems: { index: number; problem: string }[] };

/** No shop cuts more; each is weighed against some 19,000 combinations. */
export const MOST_COUPONS = 500;
/** Thickest over thinnest coupon from which the divergence share is fitted. */
const SPAN_FOR_SHARE = 1.4;
/** Below this many coupons, or without a boundary seen, the spread keeps at least this share of the prior's. */
const FEW_COUPONS = 4;
const KEPT_OF_PRIOR = 0.6;

/**
 * Fits removal energy and divergence share to coupons, the catalogue being the prior. Never NaN and never sure of itself
 * on thin evidence: one coupon, all parted, none parted and contradictory rows leave a wide band.
 */
export function calibrate(prior: CalibrationPrior, rows: readonly CouponRow[]): CalibrationResult {
  const doubt = { removal: prior.removalSpread, divergence: prior.divergence, power: 0, focusMm: 0, thicknessMm: 0 };
  const wrong = stockProblem(prior.stock) ?? doubtProblem(doubt);
  if (wrong !== null) return { calibration: null, problem: wrong, problems: [] };
  if (rows.length > MOST_COUPONS) {
    return { calibration: null, problem: `more than ${MOST_COUPONS} coupons are not weighed at once`, problems: [] };
  }
  const problems: { index: number; problem: string }[] = [];
  const used: { index: number; row: CouponRow }[] = [];
  rows.forEach((row, index) => {
    const problem = couponProblem(row);
    if (problem === null) used.push({ index, row });
    else problems.push({ index, problem });
  });
  if (used.length === 0) return { calibration: null, problem: 'no coupon can be used', problems };
  const coupons = used.map(({ row }) => row);
  const span = spanOf(coupons);
  const shareFitted = span.thicknessMm.max / span.thicknessMm.min >= SPAN_FOR_SHARE;
  const posterior = weigh(prior, coupons, shareFitted);
  const removal = marginal(posterior, 'removal');
  const at = (share: number) => weightedQuantile(posterior.logRemovals, removal, share);
  const oneSided = sideOf(coupons);
  const thin = oneSided !== null || coupons.length < FEW_COUPONS;
  const found = deviation(posterior.logRemovals, removal);
  const spread = thin ? Math.max(found, KEPT_OF_PRIOR * prior.removalSpread) : found;
  const centre = at(0.5);
  const shares = marginal(posterior, 'share');
  const shareAtRank = (share: number) => weightedQuantile(posterior.shares, shares, share);
  const scatters = marginal(posterior, 'scatter');
  const fitted = {
    removalJPerMm3: Math.exp(centre),
    divergenceShare: shareFitted ? shareAtRank(0.5) : prior.stock.divergenceShare,
    scatter: posterior.scatters.reduce<number>((sum, scatter, i) => sum + scatter * scatters[i]!, 0),
  };
  const pairs = contradictions(coupons);
  return {
    problem: null,
    calibration: {
      ...fitted,
      removalLow: Math.exp(thin ? Math.min(at(0.05), centre - Z95 * spread) : at(0.05)),
      removalHigh: Math.exp(thin ? Math.max(at(0.95), centre + Z95 * spread) : at(0.95)),
      spread,
      divergence: shareFitted ? { low: shareAtRank(0.05), high: shareAtRank(0.95) } : prior.divergence,
      shareFitted,
      coupons: coupons.length,
      residuals: used.map(({ index, row }) => residualOf(index, row, prior, fitted)),
      contradictions: pairs.map((pair) => ({ parted: used[pair.parted]!.index, stayed: used[pair.stayed]!.index })),
      oneSided,
      span,
      priorSpread: prior.removalSpread,
      problems,
      posterior,
      prior,
    },
  };
}

function spanOf(rows: readonly CouponRow[]): CouponSpan {
  const thicknesses = rows.map((row) => row.depthMm ?? row.thicknessMm);
  const powers = rows.flatMap((row) => row.passes.map((pass) => pass.powerW)).filter((powerW) => powerW > 0);
  return {
    thicknessMm: { min: Math.min(...thicknesses), max: Math.max(...thicknesses) },
    powerW: { min: Math.min(...powers), max: Math.max(...powers) },
    lenses: [...new Set(rows.map((row) => row.lens))],
  };
}

function sideOf(rows: readonly CouponRow[]): Calibration['oneSided'] {
  if (rows.some((row) => parted(row) === null)) return null;
  if (rows.every((row) => parted(row) === true)) return 'all-parted';
  return rows.every((row) => parted(row) === false) ? 'none-parted' : null;
}

function deviation(values: Float64Array, weights: Float64Array): number {
  const mean = values.reduce((sum, value, i) => sum + value * weights[i]!, 0);
  return Math.sqrt(values.reduce((sum, value, i) => sum + (value - mean) ** 2 * weights[i]!, 0));
}

function residualOf(
  index: number,
  row: CouponRow,
  prior: CalibrationPrior,
  fitted: { removalJPerMm3: number; divergenceShare: number; scatter: number },
): CouponResidual {
  const log = Math.log(fitted.removalJPerMm3);
  const stock = { ...prior.stock, divergenceShare: fitted.divergenceShare };
  const logDepth = new DepthTable(row.beam, stock, row.passes, log - 0.01, log + 0.01).logDepthAt(log);
  const outcome = parted(row);
  const logMargin = logDepth - Math.log(row.thicknessMm);
  if (outcome === null) {
    const logMiss = Math.log(row.depthMm!) - logDepth;
    const probability = 2 * (1 - partingProbability(Math.abs(logMiss), fitted.scatter));
    return { index, predictedMm: Math.exp(logDepth), logMiss, probability: Math.min(1, probability) };
  }
  const agrees = outcome === logMargin >= 0;
  const probability = likelihood(row, logDepth, fitted.scatter);
  return { index, predictedMm: Math.exp(logDepth), logMiss: agrees ? 0 : -logMargin, probability };
}

/** 1σ that each doubling beyond the coupons adds, and another lens (common practice, no source). */
const PER_DOUBLING_OF_THICKNESS = 0.15;
const PER_DOUBLING_OF_POWER = 0.1;
const OTHER_LENS = 0.1;

/**
 * Spread of the removal energy for a cut, widened the farther its thickness and power lie from the coupons' and by a lens
 * that they did not use; never wider than the catalogue's, unless the coupons left it so.
 */
export function spreadFor(
  calibration: Pick<Calibration, 'span' | 'spread' | 'priorSpread'>,
  cut: { thicknessMm: number; powerW: number; lens: string },
): number {
  const { span, spread, priorSpread } = calibration;
  const beyond = (value: number, range: { min: number; max: number }) =>
    Math.max(0, Math.log2(value / range.max), Math.log2(range.min / value)) || 0;
  const widened = Math.hypot(
    spread,
    PER_DOUBLING_OF_THICKNESS * beyond(cut.thicknessMm, span.thicknessMm),
    PER_DOUBLING_OF_POWER * beyond(cut.powerW, span.powerW),
    span.lenses.includes(cut.lens) ? 0 : OTHER_LENS,
  );
  return Math.min(widened, Math.max(spread, priorSpread));
}
