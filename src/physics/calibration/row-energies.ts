import { shareAt } from '../doubt/samples.ts';
import type { CouponRow } from './coupon-row.ts';
import { logPartingEnergy } from './parting-energy.ts';
import type { CalibrationPrior } from './prior.ts';

/** Normal scores at which what the focus is off by is weighed: coupons tell little of it. */
const FOCUS_SCORES = [-2.2, -1.1, 0, 1.1, 2.2] as const;
/** The same for the divergence share, which coupons of several thicknesses tell well. */
const SHARE_SCORES = [-2.2, -1.65, -1.1, -0.55, 0, 0.55, 1.1, 1.65, 2.2] as const;

/** Where a belief is weighed: its values, and the logarithm of what each had for it beforehand. */
export interface Nodes {
  values: Float64Array;
  logPrior: Float64Array;
}

/** Divergence shares that are weighed. */
export function shareNodes(prior: CalibrationPrior): Nodes {
  return nodes((score) => shareAt(prior.stock.divergenceShare, prior.divergence, score), SHARE_SCORES);
}

/** How far the waist may stand from where it is taken for, mm; only 0 where that is known. */
export function focusNodes(prior: CalibrationPrior): Nodes {
  return nodes((score) => prior.focusSpreadMm * score, prior.focusSpreadMm > 0 ? FOCUS_SCORES : [0]);
}

function nodes(valueAt: (score: number) => number, scores: readonly number[]): Nodes {
  return {
    values: Float64Array.from(scores, valueAt),
    logPrior: Float64Array.from(scores, (score) => -0.5 * score * score),
  };
}

/** For every row the logarithm of the energy with which it would just part or reach its depth, by focus and share. */
export class RowEnergies {
  readonly #logs: Float64Array;
  readonly #focuses: number;
  readonly #shares: number;

  constructor(prior: CalibrationPrior, rows: readonly CouponRow[], focuses: Nodes, shares: Nodes) {
    this.#focuses = focuses.values.length;
    this.#shares = shares.values.length;
    this.#logs = new Float64Array(rows.length * this.#focuses * this.#shares);
    rows.forEach((row, r) => {
      let near = Math.log(prior.stock.removalJPerMm3);
      const depthMm = row.depthMm ?? row.thicknessMm;
      focuses.values.forEach((offMm, f) => {
        const passes = row.passes.map((pass) => ({ ...pass, focusMm: pass.focusMm + offMm }));
        shares.values.forEach((divergenceShare, s) => {
          near = logPartingEnergy(
            { beam: row.beam, stock: { ...prior.stock, divergenceShare }, passes, depthMm },
            near,
          );
          this.#logs[(r * this.#focuses + f) * this.#shares + s] = near;
        });
      });
    });
  }

  at(row: number, focus: number, share: number): number {
    return this.#logs[(row * this.#focuses + focus) * this.#shares + share]!;
  }

  /** By how much a row's logarithm moves per node of the focus, there; 0 where there is one node only. */
  perFocusNode(row: number, focus: number, share: number): number {
    const below = Math.max(0, focus - 1);
    const above = Math.min(this.#focuses - 1, focus + 1);
    return above === below ? 0 : (this.at(row, above, share) - this.at(row, below, share)) / (above - below);
  }
}
