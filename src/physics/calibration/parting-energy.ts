import type { Beam } from '../beam/focused-beam.ts';
import { marchedDepthMm } from '../march/march.ts';
import type { CutPass } from '../march/passes.ts';
import type { Stock } from '../march/stock.ts';

/** A recipe on the way to a depth, and the stock but for its removal energy. */
export interface PartingQuestion {
  beam: Beam;
  stock: Omit<Stock, 'removalJPerMm3'>;
  passes: readonly CutPass[];
  depthMm: number;
}

/** No material asks for more or less, J/mm³ (foam 0.1, metals some 60): beyond it the answer stays at the end. */
const LEAST_LOG = Math.log(1e-4);
const MOST_LOG = Math.log(1e6);
/** The logarithm of the depth is met to this. */
const PRECISION = 1e-4;
const MOST_STEPS = 60;
/** Shallower than any mark; keeps the logarithm finite. */
const LEAST_DEPTH_MM = 1e-9;

/**
 * Logarithm of the removal energy (J/mm³) with which a recipe would just reach a depth: with less it goes deeper. ln depth is nearly
 * straight in ln energy, so a few secants between two bounds find it.
 * @param near where to begin: a first guess, the better the faster.
 */
export function logPartingEnergy(question: PartingQuestion, near: number): number {
  const { beam, stock, passes, depthMm } = question;
  const wanted = Math.log(depthMm);
  const beyond = (log: number) => {
    const depth = marchedDepthMm(beam, { ...stock, removalJPerMm3: Math.exp(log) }, passes);
    return Math.log(Math.max(LEAST_DEPTH_MM, depth)) - wanted;
  };
  let low = LEAST_LOG;
  let high = MOST_LOG;
  let at = Math.min(high, Math.max(low, near));
  let before: { at: number; excess: number } | null = null;
  for (let i = 0; i < MOST_STEPS && high - low > PRECISION; i++) {
    const excess = beyond(at);
    if (Math.abs(excess) < PRECISION) return at;
    if (excess > 0) low = at;
    else high = at;
    // Without conduction, at one width, depth goes as one over the energy: the slope to begin with.
    const slope: number = before === null ? -1 : (excess - before.excess) / (at - before.at);
    before = { at, excess };
    const next = at - excess / (slope < -1e-3 ? slope : -1);
    at = next > low && next < high ? next : (low + high) / 2;
  }
  return at;
}
