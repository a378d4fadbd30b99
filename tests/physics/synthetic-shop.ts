import type { Calibration } from '../../src/physics/calibration/calibration.ts';
import type { CouponRow } from '../../src/physics/calibration/coupon-row.ts';
import type { CalibrationPrior } from '../../src/physics/calibration/prior.ts';
import type { CutInput } from '../../src/physics/doubt/predict.ts';
import { marchDepth } from '../../src/physics/march/march.ts';
import type { CutPass } from '../../src/physics/march/passes.ts';
import type { Stock } from '../../src/physics/march/stock.ts';
import { speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { co2Beam, NO_DOUBT, PINE } from './sample-cuts.ts';

/** A catalogue entry to start from. */
export const PRIOR: CalibrationPrior = {
  stock: PINE,
  removalSpread: 0.3,
  divergence: { low: 0.05, high: 0.4 },
  focusSpreadMm: 0,
  repeat: { pieces: 0, focusMm: 0, tongues: 0.08 },
};

/** A fixed stream of numbers, so that every run tests the same shops. */
export class Dice {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** Even between 0 and 1 (mulberry32). */
  uniform(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 2 ** 32;
  }

  normal(): number {
    return Math.sqrt(-2 * Math.log(this.uniform())) * Math.cos(2 * Math.PI * this.uniform());
  }

  pick<T>(items: readonly T[], weights: readonly number[]): T {
    let left = this.uniform() * weights.reduce((sum, weight) => sum + weight, 0);
    for (const [i, item] of items.entries()) {
      left -= weights[i]!;
      if (left <= 0) return item;
    }
    return items[items.length - 1]!;
  }
}

/** The speed that parts a sheet at 50 W by a fit, and half its 5 to 95 % band as a share of it. */
export function partingSpeed({ learned, onTop, prior }: Calibration, thicknessMm: number) {
  const { removalJPerMm3, divergenceShare, points } = learned;
  const cut: CutInput = {
    beam: BEAM,
    stock: { ...prior.stock, removalJPerMm3, divergenceShare },
    doubt: { ...NO_DOUBT, learned: points, removal: onTop, focusMm: prior.repeat.focusMm },
    passes: [{ powerW: 50, speedMmPerS: 10, focusMm: 0 }],
    thicknessMm,
    bowMm: 0,
  };
  const [low, median, high] = [0.95, 0.5, 0.05].map((chance) => speedForProbability(cut, chance)!);
  return { medianMmPerS: median!, half: (high! - low!) / 2 / median! };
}

/** A shop whose material is known to the test alone. */
export interface Shop {
  stock: Stock;
  /** Coupon-to-coupon 1σ of the logarithm of the energy. */
  scatter: number;
  dice: Dice;
}

export const BEAM = co2Beam(2);

/** The stock as one tongue of it has it. */
function ofThisTongue({ stock, scatter, dice }: Shop): Stock {
  return { ...stock, removalJPerMm3: stock.removalJPerMm3 * Math.exp(scatter * dice.normal()) };
}

/** Cuts a coupon in a shop and looks whether it parted. */
export function cutCoupon(shop: Shop, thicknessMm: number, pass: CutPass): CouponRow {
  const depthMm = marchDepth(BEAM, ofThisTongue(shop), [pass]).depthMm;
  return {
    beam: BEAM,
    lens: '2in',
    piece: 'a',
    passes: [pass],
    thicknessMm,
    through: depthMm >= thicknessMm,
    depthMm: null,
  };
}

/** Cuts too deep a sheet and measures the groove. */
export function measureGroove(shop: Shop, pass: CutPass): CouponRow {
  const depthMm = marchDepth(BEAM, ofThisTongue(shop), [pass]).depthMm;
  return { beam: BEAM, lens: '2in', piece: 'a', passes: [pass], thicknessMm: 1000, through: null, depthMm };
}
