import { normalCdf, Z95 } from '../doubt/normal.ts';
import { doubtProblem } from '../doubt/samples.ts';
import { marchedDepthMm } from '../march/march.ts';
import { stockProblem } from '../march/stock.ts';
import { bracketsBoundary, type CouponRow, contradictions, couponProblem, parted } from './coupon-row.ts';
import { type LearnedStock, learnedStock } from './learned.ts';
import { likelihood } from './likelihood.ts';
import { logPartingEnergy } from './parting-energy.ts';
import { marginal, type Posterior, weigh, weightedQuantile } from './posterior.ts';
import { BLUNDERS, type CalibrationPrior } from './prior.ts';
import { type CouponSpan, spanOf } from './span.ts';

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

export interface Calibration {
  /** Median of the removal energy, J/mm³, whatever the divergence share and the focus. */
  removalJPerMm3: number;
  /** 5th and 95th percentile. */
  removalLow: number;
  removalHigh: number;
  /** 1σ of the removal energy as a fraction (of its logarithm). */
  spread: number;
  divergenceShare: number;
  divergence: { low: number; high: number };
  /** Did the coupons span thicknesses far enough to move the divergence share? */
  shareFitted: boolean;
  /** Tongue-to-tongue 1σ of the energy, as a fraction (of its logarithm). */
  scatter: number;
  /** Energy, share and focus together, as a prediction takes them. */
  learned: LearnedStock;
  /** 1σ of the logarithm of the energy from what was learned to the next cut: another piece, another tongue, and what thin evidence keeps of the prior. */
  onTop: number;
  /** Rows that counted. */
  coupons: number;
  residuals: CouponResidual[];
  /** Pairs of rows where one parted at less energy than another that did not. */
  contradictions: { parted: number; stayed: number }[];
  /** The boundary was met from both sides. */
  bracketed: boolean;
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

/** Twenty-five pieces of twelve tongues; each is weighed against some 70,000 combinations. */
export const MOST_COUPONS = 300;
/** Thickest over thinnest coupon from which the divergence share is told. */
const SPAN_FOR_SHARE = 1.4;
/** A single coupon, or coupons that saw one side of the boundary only, leave at least this share of the prior's spread. */
const KEPT_OF_PRIOR = 0.75;

/**
 * Fits removal energy, divergence share and focus to the coupons of one lens, what was taken before being the prior. Never NaN and never
 * sure of itself on thin evidence: one coupon, all parted, none parted and contradictory rows leave a wide band.
 */
export function calibrate(prior: CalibrationPrior, rows: readonly CouponRow[]): CalibrationResult {
  const wrong = priorProblem(prior);
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
  const posterior = weigh(prior, coupons);
  const learned = learnedStock(posterior);
  const scatter = rootMeanSquare(posterior.scatters, marginal(posterior, 'scatter'));
  const pairs = contradictions(coupons);
  const span = spanOf(coupons.flatMap((row) => row.passes.map(({ powerW }) => ({ ...row, powerW }))));
  return {
    problem: null,
    calibration: {
      ...removalOf(posterior, prior, coupons),
      ...shareOf(posterior, prior, span),
      scatter,
      learned,
      onTop: Math.hypot(prior.repeat.pieces, keptSpread(posterior, prior, coupons)),
      coupons: coupons.length,
      residuals: used.map(({ index, row }) => residualOf(index, row, learned, prior, scatter)),
      contradictions: pairs.map((pair) => ({ parted: used[pair.parted]!.index, stayed: used[pair.stayed]!.index })),
      bracketed: bracketsBoundary(coupons),
      oneSided: sideOf(coupons),
      span,
      priorSpread: prior.removalSpread,
      problems,
      posterior,
      prior,
    },
  };
}

function priorProblem({ stock, removalSpread, divergence, focusSpreadMm, repeat }: CalibrationPrior): string | null {
  const doubt = { removal: removalSpread, divergence, power: 0, focusMm: focusSpreadMm, thicknessMm: 0 };
  const again = { ...doubt, removal: repeat.pieces, focusMm: repeat.focusMm };
  return stockProblem(stock) ?? doubtProblem(doubt) ?? doubtProblem(again);
}

function sideOf(rows: readonly CouponRow[]): Calibration['oneSided'] {
  if (rows.some((row) => parted(row) === null)) return null;
  if (rows.every((row) => parted(row) === true)) return 'all-parted';
  return rows.every((row) => parted(row) === false) ? 'none-parted' : null;
}

/** What has to be added to the posterior's spread where the evidence is thin, 1σ. */
function keptSpread(posterior: Posterior, prior: CalibrationPrior, rows: readonly CouponRow[]): number {
  if (sideOf(rows) === null && rows.length > 1) return 0;
  const found = deviation(posterior.logRemovals, marginal(posterior, 'removal'));
  return Math.sqrt(Math.max(0, (KEPT_OF_PRIOR * prior.removalSpread) ** 2 - found ** 2));
}

function removalOf(posterior: Posterior, prior: CalibrationPrior, rows: readonly CouponRow[]) {
  const removal = marginal(posterior, 'removal');
  const at = (share: number) => weightedQuantile(posterior.logRemovals, removal, share);
  const kept = keptSpread(posterior, prior, rows);
  const centre = at(0.5);
  const spread = Math.hypot(deviation(posterior.logRemovals, removal), kept);
  // What thin evidence keeps of the prior it keeps to either side.
  const least = kept > 0 ? spread * Z95 : 0;
  return {
    removalJPerMm3: Math.exp(centre),
    removalLow: Math.exp(Math.min(at(0.05), centre - least)),
    removalHigh: Math.exp(Math.max(at(0.95), centre + least)),
    spread,
  };
}

function shareOf(posterior: Posterior, prior: CalibrationPrior, span: CouponSpan) {
  const shareFitted = span.thicknessMm.max / span.thicknessMm.min >= SPAN_FOR_SHARE;
  if (!shareFitted) return { shareFitted, divergenceShare: prior.stock.divergenceShare, divergence: prior.divergence };
  const shares = marginal(posterior, 'share');
  const at = (rank: number) => weightedQuantile(posterior.shares, shares, rank);
  return { shareFitted, divergenceShare: at(0.5), divergence: { low: at(0.05), high: at(0.95) } };
}

function deviation(values: Float64Array, weights: Float64Array): number {
  const mean = values.reduce((sum, value, i) => sum + value * weights[i]!, 0);
  return Math.sqrt(values.reduce((sum, value, i) => sum + (value - mean) ** 2 * weights[i]!, 0));
}

function rootMeanSquare(values: readonly number[], weights: Float64Array): number {
  return Math.sqrt(values.reduce((sum, value, i) => sum + value * value * weights[i]!, 0));
}

function residualOf(
  index: number,
  row: CouponRow,
  learned: LearnedStock,
  prior: CalibrationPrior,
  scatter: number,
): CouponResidual {
  const { removalJPerMm3, divergenceShare } = learned;
  const { beam, passes } = row;
  const stock = { ...prior.stock, removalJPerMm3, divergenceShare };
  const predictedMm = marchedDepthMm(beam, stock, passes);
  const depthMm = row.depthMm ?? row.thicknessMm;
  const logRemoval = Math.log(removalJPerMm3);
  const logMargin = logPartingEnergy({ beam, stock, passes, depthMm }, logRemoval) - logRemoval;
  const outcome = parted(row);
  if (outcome === null) {
    const farther = 2 * normalCdf(-Math.abs(logMargin) / scatter);
    const probability = BLUNDERS + (1 - BLUNDERS) * farther;
    return { index, predictedMm, logMiss: Math.log(depthMm / predictedMm), probability };
  }
  const agrees = outcome === logMargin >= 0;
  const logMiss = agrees ? 0 : Math.log(row.thicknessMm / predictedMm);
  return { index, predictedMm, logMiss, probability: likelihood(row, logMargin, scatter) };
}
