import { describe, expect, it } from 'vitest';
import { weightedQuantile } from '../../src/physics/calibration/posterior.ts';
import { normalCdf, normalQuantile } from '../../src/physics/doubt/normal.ts';
import { quantile, shareAboveZero } from '../../src/physics/doubt/quantile.ts';

// Worked by hand by Hazen's rule: the i-th of n sorted values stands at (i − ½)/n, and between two the way is straight
// (A. Hazen, 1914; rule 5 of Hyndman and Fan, The American Statistician 50, 1996).
describe('the value at a share of a sample', () => {
  const four = [1, 2, 4, 8];
  it.each([
    [0, 1],
    [0.125, 1],
    [0.25, 1.5],
    [0.375, 2],
    [0.5, 3],
    [0.75, 6],
    [0.875, 8],
    [1, 8],
  ])('%d is %d of 1, 2, 4, 8', (share, value) => {
    expect(quantile(four, share)).toBeCloseTo(value, 12);
    expect(weightedQuantile(four, [0.25, 0.25, 0.25, 0.25], share)).toBeCloseTo(value, 12);
  });

  it('of one value is that value', () => {
    expect(quantile([7], 0.2)).toBe(7);
    expect(weightedQuantile([7], [1], 0.9)).toBe(7);
  });

  // Weights 0.1, 0.6, 0.3: the middles stand at 0.05, 0.4 and 0.85.
  it.each([
    [0.04, 10],
    [0.05, 10],
    [0.225, 15],
    [0.4, 20],
    [0.625, 30],
    [0.85, 40],
    [0.99, 40],
  ])('%d is %d where 10, 20 and 40 weigh 0.1, 0.6 and 0.3', (share, value) => {
    expect(weightedQuantile([10, 20, 40], [0.1, 0.6, 0.3], share)).toBeCloseTo(value, 12);
  });
});

describe('the share of a sample above 0', () => {
  // Of four values the i-th stands at (i − ½)/4; where 0 lies between two, the way from one to the other is straight.
  it.each([
    [[-3, -1, 1, 3], 0.5],
    [[-3, -1, 3, 5], 0.5625],
    [[-4, -3, -1, 1], 0.25],
    [[-1, 1, 2, 3], 0.75],
    [[-2, 0, 2, 3], 0.625],
  ])('of %j is %d', (sorted, share) => {
    expect(shareAboveZero(sorted)).toBeCloseTo(share, 12);
  });

  it('fades out over one more step beyond the ends, to nothing and to all', () => {
    // The gap at either end is 2: half of the last stratum is left at 0, none of it from one gap on.
    expect(shareAboveZero([0, 2, 4, 6])).toBeCloseTo(3.5 / 4, 12);
    expect(shareAboveZero([1, 3, 5, 7])).toBeCloseTo(3.75 / 4, 12);
    expect(shareAboveZero([2, 4, 6, 8])).toBe(1);
    expect(shareAboveZero([9, 11, 13, 15])).toBe(1);
    expect(shareAboveZero([-7, -5, -3, -1])).toBeCloseTo(0.25 / 4, 12);
    expect(shareAboveZero([-8, -6, -4, -2])).toBe(0);
    expect(shareAboveZero([-99, -97, -95, -93])).toBe(0);
  });

  it('of values that are all the same is all or nothing', () => {
    expect(shareAboveZero([1, 1, 1])).toBe(1);
    expect(shareAboveZero([-1, -1, -1])).toBe(0);
  });
});

// Tables of the standard normal distribution, as every textbook has them.
describe('the normal distribution', () => {
  it.each([
    [0, 0.5],
    [1, 0.8413447],
    [1.6448536, 0.95],
    [1.959964, 0.975],
    [-1, 0.1586553],
    [-2.3263479, 0.01],
    [3.0902323, 0.999],
  ])('has at %d the share %d below it, and back', (z, p) => {
    expect(normalCdf(z)).toBeCloseTo(p, 6);
    expect(normalQuantile(p)).toBeCloseTo(z, 4);
  });
});
