import type { Stock } from '../march/stock.ts';

/** What was known before the coupons. */
export interface CalibrationPrior {
  /** Thermal values, and the removal energy and divergence share that were taken before. */
  stock: Stock;
  /**
   * 1σ of the removal energy as a fraction (of its logarithm). It holds what the power is in doubt by as well: coupons cannot tell a weak
   * source from a hard sheet.
   */
  removalSpread: number;
  /** 5th and 95th percentile of the divergence share. */
  divergence: { low: number; high: number };
  /** 1σ of where the waist really stands, mm: what the gauge is off by on this machine, the same in each of its cuts. */
  focusSpreadMm: number;
  /** What one test piece and one cut differ by from the next in the same shop. */
  repeat: Repeatability;
}

/** How well a shop does the same thing twice; all 1σ. */
export interface Repeatability {
  /** Energy from one sheet and one day to the next, as a fraction (of its logarithm): the material, and the source's power. */
  pieces: number;
  /** The focus from one setting to the next, mm. */
  focusMm: number;
  /** Energy from one tongue of a piece to the next, as a fraction (of its logarithm): a middle value, the piece's own is found from its tongues. */
  tongues: number;
}

/**
 * Scatters from one tongue of a piece to the next that are weighed, over {@link Repeatability.tongues}, with what each has for it
 * beforehand: a factor of 1.9 either way (1σ), and more for what went wrong (common practice, no source).
 */
export const SCATTER_FACTORS = [0.3, 0.55, 1, 1.8, 3.3, 6] as const;
export const SCATTER_WEIGHTS = [0.1, 0.24, 0.32, 0.24, 0.08, 0.02] as const;

/** Share of rows that are simply wrong: misread, a lifted sheet, a mixed-up tongue. One of them must not bend the fit. */
export const BLUNDERS = 0.02;
