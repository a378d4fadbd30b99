import { describe, expect, it } from 'vitest';
import type { CouponRow } from '../../src/physics/calibration/coupon-row.ts';
import { logPartingEnergy } from '../../src/physics/calibration/parting-energy.ts';
import { marginal, type Posterior, weigh, weightedQuantile } from '../../src/physics/calibration/posterior.ts';
import { type CalibrationPrior, SCATTER_WEIGHTS } from '../../src/physics/calibration/prior.ts';
import { RowEnergies } from '../../src/physics/calibration/row-energies.ts';
import { marchDepth } from '../../src/physics/march/march.ts';
import { BEAM, PRIOR } from './synthetic-shop.ts';

const prior: CalibrationPrior = {
  ...PRIOR,
  removalSpread: 0.3,
  focusSpreadMm: 0.5,
  repeat: { pieces: 0.05, focusMm: 0.12, tongues: 0.08 },
};

const coupon = (piece: string, speedMmPerS: number, through: boolean): CouponRow => ({
  beam: BEAM,
  lens: '2in',
  piece,
  passes: [{ powerW: 50, speedMmPerS, focusMm: 0 }],
  thicknessMm: 6,
  through,
  depthMm: null,
});

const sum = (values: ArrayLike<number>) => Array.from(values).reduce((all, each) => all + each, 0);
const mean = (values: ArrayLike<number>, weights: Float64Array) =>
  weights.reduce((all, weight, i) => all + weight * values[i]!, 0);
const deviation = (values: ArrayLike<number>, weights: Float64Array) => {
  const middle = mean(values, weights);
  return Math.sqrt(weights.reduce((all, weight, i) => all + weight * (values[i]! - middle) ** 2, 0));
};

/** A posterior of few values, each weight as a function says. */
function posteriorOf(weightOf: (focus: number, share: number, scatter: number, removal: number) => number): Posterior {
  const logRemovals = Float64Array.from({ length: 241 }, (_, i) => i / 100);
  const [focuses, shares, scatters] = [3, 2, 4];
  const weights = new Float64Array(focuses * shares * scatters * 241);
  let at = 0;
  for (let f = 0; f < focuses; f++)
    for (let s = 0; s < shares; s++)
      for (let c = 0; c < scatters; c++) for (let r = 0; r < 241; r++) weights[at++] = weightOf(f, s, c, r);
  return {
    focusesMm: Float64Array.of(-0.5, 0, 0.5),
    shares: Float64Array.of(0.1, 0.2),
    scatters: [0.02, 0.04, 0.08, 0.16],
    logRemovals,
    weights,
  };
}

describe('what is believed without a coupon', () => {
  const found = weigh(prior, []);

  it('is what was believed before: the energy normal about its middle', () => {
    const removal = marginal(found, 'removal');
    expect(sum(removal)).toBeCloseTo(1, 9);
    expect(mean(found.logRemovals, removal)).toBeCloseTo(Math.log(PRIOR.stock.removalJPerMm3), 6);
    expect(deviation(found.logRemovals, removal)).toBeCloseTo(0.3, 3);
  });

  it('and the scatter in the shares that it has beforehand', () => {
    const scatter = marginal(found, 'scatter');
    for (const [i, weight] of SCATTER_WEIGHTS.entries()) expect(scatter[i]).toBeCloseTo(weight, 9);
    expect(found.scatters.map((each) => each / 0.08)).toEqual(
      [0.3, 0.55, 1, 1.8, 3.3, 6].map((f) => (f * 0.08) / 0.08),
    );
  });

  it('and the focus even to either side, likeliest where it is taken for', () => {
    const focus = marginal(found, 'focus');
    expect([...found.focusesMm]).toEqual([-1.1, -0.55, 0, 0.55, 1.1].map((mm) => expect.closeTo(mm, 12)));
    expect(focus[0]).toBeCloseTo(focus[4]!, 12);
    expect(focus[1]! / focus[2]!).toBeCloseTo(Math.exp(-0.5 * 1.1 ** 2), 9);
    expect(focus[0]! / focus[2]!).toBeCloseTo(Math.exp(-0.5 * 2.2 ** 2), 9);
  });

  it('is searched four deviations to either side, and at least a factor of 4.5', () => {
    const width = (removalSpread: number) => {
      const { logRemovals } = weigh({ ...prior, removalSpread }, []);
      return logRemovals[logRemovals.length - 1]! - logRemovals[0]!;
    };
    expect(width(0.5)).toBeCloseTo(2 * 4 * 0.5, 9);
    expect(width(0.1)).toBeCloseTo(2 * 1.5, 9);
  });

  it('knows one focus where nothing is said of its being off', () => {
    expect([...weigh({ ...prior, focusSpreadMm: 0 }, []).focusesMm]).toEqual([0]);
  });
});

describe('what coupons make of it', () => {
  it('says the same of each focus, share and scatter as that one alone would', () => {
    const rows = [coupon('a', 6, true), coupon('a', 9, true), coupon('a', 13, false)];
    const found = weigh(prior, rows);
    const { focusesMm, shares, scatters, logRemovals, weights } = found;
    // The same by brute force, for one cell of the grid: no pieces differ and the focus is repeated, so nothing is blurred.
    const sharp = weigh({ ...prior, repeat: { ...prior.repeat, pieces: 0, focusMm: 0 } }, rows);
    const [f, s, c] = [3, 6, 1];
    const base = ((f * shares.length + s) * scatters.length + c) * logRemovals.length;
    const cell = sharp.weights.subarray(base, base + logRemovals.length);
    const centre = Math.log(prior.stock.removalJPerMm3);
    const normal = (z: number) => 0.5 * (1 + erf(z / Math.SQRT2));
    const byHand = logRemovals.map((log) => {
      const rowsSay = rows.map((row) => {
        const stock = { ...prior.stock, divergenceShare: shares[s]! };
        const passes = row.passes.map((pass) => ({ ...pass, focusMm: focusesMm[f]! }));
        const parting = logPartingEnergy({ beam: row.beam, stock, passes, depthMm: 6 }, centre);
        const margin = (row.through ? parting - log : log - parting) / scatters[c]!;
        return 0.01 + 0.98 * normal(margin);
      });
      return Math.exp(-0.5 * ((log - centre) / 0.3) ** 2) * rowsSay.reduce((all, each) => all * each, 1);
    });
    const most = Math.max(...cell);
    const mostByHand = Math.max(...byHand);
    for (let r = 0; r < logRemovals.length; r++) expect(cell[r]! / most).toBeCloseTo(byHand[r]! / mostByHand, 3);
    // With pieces that differ the same cell is wider.
    const blurred = weights.slice(base, base + logRemovals.length);
    const shareOf = (values: Float64Array) => values.map((each) => each / sum(values));
    expect(deviation(logRemovals, shareOf(blurred))).toBeGreaterThan(deviation(logRemovals, shareOf(cell.slice())));
  });

  it('is the surer, the more pieces say it', () => {
    const rows = (pieces: readonly string[]) =>
      pieces.flatMap((piece) => [coupon(piece, 8, true), coupon(piece, 10, false)]);
    const spread = (pieces: readonly string[]) => {
      const found = weigh({ ...prior, repeat: { ...prior.repeat, pieces: 0.15 } }, rows(pieces));
      return deviation(found.logRemovals, marginal(found, 'removal'));
    };
    expect(spread(['a', 'b', 'c'])).toBeLessThan(spread(['a', 'a', 'a']));
  });
});

/** The error function (Abramowitz and Stegun 7.1.26, good to 1.5e-7; memory). */
function erf(x: number): number {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const tail =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
    Math.exp(-x * x);
  return x < 0 ? tail - 1 : 1 - tail;
}

describe('the weights of one quantity', () => {
  it('are those of all others summed over', () => {
    const found = posteriorOf((f, s, c, r) => (f + 1) * (s + 2) * (c + 3) * (r % 7));
    const whole = sum(found.weights);
    const share = (of: 'focus' | 'share' | 'scatter' | 'removal') =>
      [...marginal(found, of)].map((each) => each / whole);
    expect(share('focus')).toEqual([1, 2, 3].map((each) => expect.closeTo(each / 6, 12)));
    expect(share('share')).toEqual([2, 3].map((each) => expect.closeTo(each / 5, 12)));
    expect(share('scatter')).toEqual([3, 4, 5, 6].map((each) => expect.closeTo(each / 18, 12)));
    const removal = share('removal');
    expect(removal).toHaveLength(241);
    expect(removal[1]! / removal[6]!).toBeCloseTo(1 / 6, 12);
    expect(removal[7]).toBe(0);
  });
});

describe('a weighted quantile', () => {
  const values = [1, 2, 4];
  const weights = [0.25, 0.5, 0.25];

  it('is a value at the middle of its weight, and straight between two', () => {
    expect(weightedQuantile(values, weights, 0.125)).toBe(1);
    expect(weightedQuantile(values, weights, 0.5)).toBe(2);
    expect(weightedQuantile(values, weights, 0.875)).toBe(4);
    expect(weightedQuantile(values, weights, 0.3125)).toBeCloseTo(1.5, 12);
    expect(weightedQuantile(values, weights, 0.6875)).toBeCloseTo(3, 12);
  });

  it('is the first or last value beyond the middles of their weights', () => {
    expect(weightedQuantile(values, weights, 0)).toBe(1);
    expect(weightedQuantile(values, weights, 0.05)).toBe(1);
    expect(weightedQuantile(values, weights, 0.99)).toBe(4);
    expect(weightedQuantile(values, weights, 1)).toBe(4);
  });

  it('passes over values without weight', () => {
    expect(weightedQuantile([1, 2, 3], [0.5, 0, 0.5], 0.5)).toBe(2);
    expect(weightedQuantile([7], [1], 0.3)).toBe(7);
  });
});

describe('the energy with which a recipe just reaches a depth', () => {
  const passes = [{ powerW: 50, speedMmPerS: 10, focusMm: 0 }];
  it('lets the march end there, wherever the search begins', () => {
    for (const depthMm of [0.5, 3, 6, 12]) {
      for (const near of [-9, 0, Math.log(3.5), 5, 13, 99, -99]) {
        const log = logPartingEnergy({ beam: BEAM, stock: PRIOR.stock, passes, depthMm }, near);
        const reached = marchDepth(BEAM, { ...PRIOR.stock, removalJPerMm3: Math.exp(log) }, passes).depthMm;
        expect(Math.abs(Math.log(reached / depthMm)), `${depthMm} mm from ${near}`).toBeLessThan(3e-4);
      }
    }
  });

  it('stays at an end where no material would do', () => {
    const at = (depthMm: number) => logPartingEnergy({ beam: BEAM, stock: PRIOR.stock, passes, depthMm }, 1);
    expect(at(1e9)).toBeCloseTo(Math.log(1e-4), 2);
    expect(at(1e-8)).toBeGreaterThan(Math.log(1e5));
  });
});

describe('the energies with which rows just part', () => {
  const nodes = (...values: number[]) => ({
    values: Float64Array.from(values),
    logPrior: new Float64Array(values.length),
  });

  it('move with the focus as between the nodes on either side, or the last node and its neighbour', () => {
    const energies = new RowEnergies(prior, [coupon('a', 5, true)], nodes(-2, 0.5, 4), nodes(0.15));
    const [first, middle, last] = [0, 1, 2].map((focus) => energies.at(0, focus, 0)) as [number, number, number];
    expect(energies.perFocusNode(0, 0, 0)).toBe(middle - first);
    expect(energies.perFocusNode(0, 1, 0)).toBe((last - first) / 2);
    expect(energies.perFocusNode(0, 2, 0)).toBe(last - middle);
    expect(new Set([0, 1, 2].map((focus) => energies.perFocusNode(0, focus, 0))).size).toBe(3);
  });

  it('do not move where the focus is known', () => {
    expect(new RowEnergies(prior, [coupon('a', 5, true)], nodes(0), nodes(0.15)).perFocusNode(0, 0, 0)).toBe(0);
  });
});
