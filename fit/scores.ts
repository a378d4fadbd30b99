import { binomialDistribution } from 'simple-statistics';
import type { LeftOut } from './leave-out.ts';

/** The lowest and the highest error limit that may be chosen. */
const LEAST_LIMIT = 0.1;
const GREATEST_LIMIT = 0.5;
/** Share of daily settings that may be told "do not run". */
export const ALARMS = 0.05;

/** The probability below which a cut judged by the catalogue alone is an error. */
export interface ErrorLimit {
  limit: number;
  /** Daily settings that fall below it, of how many. */
  below: number;
  of: number;
  /** Between which probabilities, at 95 %, the twentieth of all daily settings lies that the limit should cut off. */
  from: number;
  to: number;
}

/** The highest limit, to two decimals, at which at most one daily setting in twenty falls below. */
export function errorLimit(daily: readonly number[]): ErrorLimit {
  const sorted = [...daily].sort((a, b) => a - b);
  const allowed = Math.floor(ALARMS * sorted.length);
  const highest = Math.floor(100 * (sorted[allowed] ?? GREATEST_LIMIT)) / 100;
  const limit = Math.min(GREATEST_LIMIT, Math.max(LEAST_LIMIT, highest));
  const ranks = central95(sorted.length, ALARMS);
  return {
    limit,
    below: sorted.filter((each) => each < limit).length,
    of: sorted.length,
    from: ranks.from === 0 ? 0 : sorted[ranks.from - 1]!,
    to: sorted[Math.min(ranks.to, sorted.length - 1)]!,
  };
}

/** Counts between which a binomial count lies with 95 % or more, at most 2.5 % being left out on either side. */
export function central95(count: number, probability: number): { from: number; to: number } {
  if (count === 0) return { from: 0, to: 0 };
  if (probability <= 0 || probability >= 1)
    return { from: probability >= 1 ? count : 0, to: probability >= 1 ? count : 0 };
  const chances = binomialDistribution(count, probability)!;
  let from = 0;
  for (let sum = chances[0]!; sum <= 0.025; sum += chances[from]!) from++;
  let to = count;
  for (let sum = chances[count] ?? 0; sum <= 0.025; sum += chances[to] ?? 0) to--;
  return { from, to };
}

/** One line of a reliability table. */
export interface Bin {
  from: number;
  to: number;
  rows: number;
  /** How many were expected and how many were seen. */
  expected: number;
  seen: number;
  /** 95 % of a binomial count. */
  interval: { from: number; to: number };
}

/**
 * In how many shops a recipe would have parted if its power had been turned to where the product gives it a probability. A boundary that
 * ranks at `r` lies where the product gives 1 − r: at a probability `p` those have parted that rank at 1 − p or above.
 */
export function reliability(scored: readonly LeftOut[], probabilities: readonly number[]): Bin[] {
  const ranks = scored.flatMap(({ rank }) => rank ?? []);
  return probabilities.map((p) => ({
    from: p,
    to: p,
    rows: ranks.length,
    expected: p * ranks.length,
    seen: ranks.filter((rank) => rank >= 1 - p).length,
    interval: central95(ranks.length, p),
  }));
}

/** Where the boundaries of daily settings lie among what was held possible: as many in each bin, if the doubt is right. */
export function rankBins(scored: readonly LeftOut[], bins: number): Bin[] {
  const ranks = scored.flatMap(({ rank }) => rank ?? []);
  return Array.from({ length: bins }, (_, i) => {
    const [from, to] = [i / bins, (i + 1) / bins];
    const seen = ranks.filter((rank) => rank >= from && (rank < to || to === 1)).length;
    return {
      from,
      to,
      rows: ranks.length,
      expected: ranks.length / bins,
      seen,
      interval: central95(ranks.length, 1 / bins),
    };
  });
}

/** Single cuts by the probability they were given, and how many parted. */
export function outcomeBins(scored: readonly LeftOut[], bins: number): Bin[] {
  const single = scored.filter(({ rank }) => rank === null);
  return Array.from({ length: bins }, (_, i) => {
    const [from, to] = [i / bins, (i + 1) / bins];
    const inside = single.filter(({ throughProbability: p }) => p >= from && (p < to || to === 1));
    const expected = inside.reduce((sum, each) => sum + each.throughProbability, 0);
    const seen = inside.filter(({ row }) => row.cut.outcome === 'cut').length;
    const mean = inside.length === 0 ? 0 : expected / inside.length;
    return { from, to, rows: inside.length, expected, seen, interval: central95(inside.length, mean) };
  });
}
