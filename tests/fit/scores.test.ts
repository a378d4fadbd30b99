import { describe, expect, it } from 'vitest';
import type { LeftOut } from '../../fit/leave-out.ts';
import { central95, errorLimit, outcomeBins, rankBins, reliability } from '../../fit/scores.ts';

/** Only what the scores read. */
const daily = (rank: number) => ({ rank }) as LeftOut;
const single = (throughProbability: number, outcome: 'cut' | 'not') =>
  ({ rank: null, throughProbability, row: { cut: { outcome } } }) as LeftOut;

describe('the error limit', () => {
  it('is the highest at which at most one daily setting in twenty falls below', () => {
    const chances = Array.from({ length: 40 }, (_, i) => 0.2 + i / 100);
    const found = errorLimit(chances);
    expect(found).toMatchObject({ limit: 0.22, below: 2, of: 40 });
    expect(chances.filter((one) => one < found.limit + 0.011).length).toBeGreaterThan(2);
  });

  it('stays between 0.1 and 0.5', () => {
    expect(errorLimit(new Array(40).fill(0.9)).limit).toBe(0.5);
    expect(errorLimit(new Array(40).fill(0.01)).limit).toBe(0.1);
  });
});

/** Probability of so many or fewer, from the formula of the binomial distribution. */
function atMost(most: number, count: number, probability: number): number {
  let sum = 0;
  let choose = 1;
  for (let k = 0; k <= most; k++) {
    sum += choose * probability ** k * (1 - probability) ** (count - k);
    choose = (choose * (count - k)) / (k + 1);
  }
  return sum;
}

describe('the middle 95 % of a binomial count', () => {
  it.each([
    [10, 0.5],
    [36, 0.25],
    [36, 0.9],
    [9, 0.05],
  ])('of %s at %s leaves out at most one in forty on either side, and one count less would leave out more', (n, p) => {
    const { from, to } = central95(n, p);
    expect(from === 0 ? 0 : atMost(from - 1, n, p)).toBeLessThanOrEqual(0.025);
    expect(atMost(from, n, p)).toBeGreaterThan(0.025);
    expect(1 - atMost(to, n, p)).toBeLessThanOrEqual(0.025 + 1e-12);
    expect(1 - atMost(to - 1, n, p)).toBeGreaterThan(0.025);
  });

  it('is one count where nothing is open', () => {
    expect(central95(5, 0)).toEqual({ from: 0, to: 0 });
    expect(central95(5, 1)).toEqual({ from: 5, to: 5 });
    expect(central95(0, 0.5)).toEqual({ from: 0, to: 0 });
  });
});

describe('reliability of daily settings', () => {
  // A boundary of rank r lies where the product gives 1 − r: ranks near 0 are shops to which it promised too much.
  it('counts fewer parted than expected where the product promised too much', () => {
    const tooMuch = [0.02, 0.05, 0.1, 0.2, 0.3].map(daily);
    expect(reliability(tooMuch, [0.5])).toMatchObject([{ rows: 5, expected: 2.5, seen: 0 }]);
    expect(reliability(tooMuch, [0.9])[0]!.seen).toBe(3);
  });

  it('counts more where it promised too little', () => {
    expect(reliability([0.7, 0.8, 0.9, 0.95].map(daily), [0.5])[0]!.seen).toBe(4);
  });

  it('counts as many as expected where ranks are evenly spread, in each quarter too', () => {
    const even = Array.from({ length: 100 }, (_, i) => daily((i + 0.5) / 100));
    for (const bin of reliability(even, [0.1, 0.3, 0.5, 0.7, 0.9])) expect(bin.seen).toBe(Math.round(bin.expected));
    expect(rankBins(even, 4).map(({ seen }) => seen)).toEqual([25, 25, 25, 25]);
  });
});

describe('single cuts', () => {
  it('are counted by the probability that they were given', () => {
    const bins = outcomeBins(
      [single(0.1, 'not'), single(0.2, 'cut'), single(0.8, 'cut'), single(1, 'cut'), daily(0.1)],
      4,
    );
    expect(bins.map(({ rows, seen }) => [rows, seen])).toEqual([
      [2, 1],
      [0, 0],
      [0, 0],
      [2, 2],
    ]);
    expect(bins[0]!.expected).toBeCloseTo(0.3, 9);
  });
});
