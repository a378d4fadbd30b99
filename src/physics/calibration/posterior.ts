import { type CouponRow, parted } from './coupon-row.ts';
import { logLikelihood } from './likelihood.ts';
import { type CalibrationPrior, SCATTER_FACTORS, SCATTER_WEIGHTS } from './prior.ts';
import { focusNodes, type Nodes, RowEnergies, shareNodes } from './row-energies.ts';

/**
 * Weight of every combination that was weighed, summing to 1:
 * `weights[((focus × shares + share) × scatters + scatter) × removals + removal]`.
 */
export interface Posterior {
  /** What the waist is off by beyond what was taken, mm. */
  focusesMm: Float64Array;
  shares: Float64Array;
  scatters: readonly number[];
  logRemovals: Float64Array;
  weights: Float64Array;
}

const REMOVALS = 241;
/** The removal energy is searched this far to either side, in prior 1σ, and at least by {@link LEAST_REACH} in its logarithm. */
const REACH_SIGMAS = 4;
const LEAST_REACH = 1.5;

/**
 * Weighs removal energy, divergence share, what the focus is off by and the scatter together by the coupons. Tongues of one piece share
 * what that piece and its day differed by, so two pieces tell more than one of twice the tongues. A grid, since it can neither diverge
 * nor miss a second peak.
 */
export function weigh(prior: CalibrationPrior, rows: readonly CouponRow[]): Posterior {
  const centre = Math.log(prior.stock.removalJPerMm3);
  const reach = Math.max(REACH_SIGMAS * prior.removalSpread, LEAST_REACH);
  const stepLog = (2 * reach) / (REMOVALS - 1);
  const logRemovals = Float64Array.from({ length: REMOVALS }, (_, i) => centre - reach + i * stepLog);
  const focuses = focusNodes(prior);
  const shares = shareNodes(prior);
  const energies = new RowEnergies(prior, rows, focuses, shares);
  const scatters = SCATTER_FACTORS.map((factor) => factor * prior.repeat.tongues);
  const spread = Math.max(prior.removalSpread, 1e-3);
  const ofRemoval = logRemovals.map((log) => -0.5 * ((log - centre) / spread) ** 2);
  const logs = new Float64Array(focuses.values.length * shares.values.length * scatters.length * REMOVALS);
  const outcomes = rows.map(parted);
  const pieces = piecesOf(rows);
  const ofPiece = new Float64Array(REMOVALS);
  /** What all pieces say of each removal energy, the rest being given. */
  const addPieces = (sum: Float64Array, focus: number, share: number, scatter: number) => {
    for (const piece of pieces) {
      ofPiece.fill(0);
      for (const row of piece) {
        addRow(ofPiece, outcomes[row]!, energies.at(row, focus, share), { logRemovals, scatter });
      }
      const refocused = energies.perFocusNode(piece[0]!, focus, share) * perNode(prior, focuses);
      blur(ofPiece, Math.hypot(prior.repeat.pieces, refocused) / stepLog);
      for (let r = 0; r < REMOVALS; r++) sum[r]! += ofPiece[r]!;
    }
  };
  for (let row = 0; row * REMOVALS < logs.length; row++) {
    const scatter = row % scatters.length;
    const share = Math.floor(row / scatters.length) % shares.values.length;
    const focus = Math.floor(row / scatters.length / shares.values.length);
    const before = focuses.logPrior[focus]! + shares.logPrior[share]! + Math.log(SCATTER_WEIGHTS[scatter]!);
    const sum = logs.subarray(row * REMOVALS, (row + 1) * REMOVALS);
    for (let r = 0; r < REMOVALS; r++) sum[r] = before + ofRemoval[r]!;
    addPieces(sum, focus, share, scatters[scatter]!);
  }
  return {
    focusesMm: focuses.values,
    shares: shares.values,
    scatters,
    logRemovals,
    weights: normalised(logs),
  };
}

/** Adds what a row's outcome says of each removal energy. */
function addRow(
  logs: Float64Array,
  outcome: boolean | null,
  logParting: number,
  { logRemovals, scatter }: { logRemovals: Float64Array; scatter: number },
): void {
  for (let r = 0; r < logs.length; r++) logs[r]! += logLikelihood(outcome, logParting - logRemovals[r]!, scatter);
}

/** How well the focus is repeated, in nodes of what it may be off by. */
function perNode(prior: CalibrationPrior, focuses: Nodes): number {
  const { values } = focuses;
  return values.length < 2 ? 0 : prior.repeat.focusMm / (values[1]! - values[0]!);
}

/** Indices of the rows of each piece. */
function piecesOf(rows: readonly CouponRow[]): number[][] {
  const pieces = new Map<string, number[]>();
  rows.forEach((row, i) => {
    const piece = pieces.get(row.piece);
    if (piece === undefined) pieces.set(row.piece, [i]);
    else piece.push(i);
  });
  return [...pieces.values()];
}

/** A Gaussian beyond this many of its standard deviations is left out. */
const KERNEL_REACH = 3.5;

/**
 * Replaces logarithms of likelihoods by those of the likelihood averaged over a normal shift: what one piece differs by.
 * @param deviation of the shift, in steps of the grid.
 */
function blur(logs: Float64Array, deviation: number): void {
  const reach = Math.ceil(KERNEL_REACH * deviation);
  if (!(deviation > 0.3)) return;
  const highest = logs.reduce((max, each) => Math.max(max, each), Number.NEGATIVE_INFINITY);
  const plain = logs.map((each) => Math.exp(each - highest));
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - reach) / deviation) ** 2),
  );
  const total = kernel.reduce((sum, each) => sum + each, 0);
  const last = logs.length - 1;
  for (let r = 0; r <= last; r++) {
    let sum = 0;
    // Beyond the ends of the grid nothing changes any more.
    for (let k = -reach; k <= reach; k++) sum += kernel[k + reach]! * plain[Math.min(last, Math.max(0, r + k))]!;
    logs[r] = highest + Math.log(Math.max(sum / total, Number.MIN_VALUE));
  }
}

function normalised(logs: Float64Array): Float64Array {
  const highest = logs.reduce((max, each) => Math.max(max, each), Number.NEGATIVE_INFINITY);
  const weights = logs.map((each) => Math.exp(each - highest));
  const sum = weights.reduce((total, each) => total + each, 0);
  return weights.map((each) => each / sum);
}

/** Weights of one of the four quantities with the others summed over. */
export function marginal(posterior: Posterior, of: 'focus' | 'share' | 'scatter' | 'removal'): Float64Array {
  const { focusesMm, shares, scatters, weights } = posterior;
  const counts = { removal: REMOVALS, scatter: scatters.length, share: shares.length, focus: focusesMm.length };
  // How many weights lie between one value of the quantity and the next.
  const strides = { removal: 1, scatter: REMOVALS, share: REMOVALS * scatters.length, focus: 0 };
  strides.focus = strides.share * shares.length;
  const sums = new Float64Array(counts[of]);
  weights.forEach((weight, i) => {
    sums[Math.floor(i / strides[of]) % counts[of]]! += weight;
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
