import type { StockDoubt } from '../march/stock.ts';
import { normalQuantile, Z95 } from './normal.ts';

/** Number of points in the space of what may be off: they put P(through) within about 0.01 of a large random sample (tested). */
export const SAMPLE_COUNT = 251;

const DIMENSIONS = 5;

/**
 * Generator of the rank-1 lattice that spreads the points. Of all generators for 251 points it gave the smallest error
 * of the 5th to 95th percentile over 400 random weightings of the five doubts (0.05 standard deviations, r.m.s.).
 */
const GENERATOR = 116;

/** Standard normal scores, SAMPLE_COUNT rows of DIMENSIONS, each column an exact stratification of the normal distribution. */
const SCORES: Float64Array = fixedScores();

function fixedScores(): Float64Array {
  const strata = Float64Array.from({ length: SAMPLE_COUNT }, (_, place) =>
    normalQuantile((place + 0.5) / SAMPLE_COUNT),
  );
  const scores = new Float64Array(SAMPLE_COUNT * DIMENSIONS);
  for (let i = 0; i < SAMPLE_COUNT; i++) {
    let place = i;
    for (let dimension = 0; dimension < DIMENSIONS; dimension++) {
      scores[i * DIMENSIONS + dimension] = strata[place]!;
      place = (place * GENERATOR) % SAMPLE_COUNT;
    }
  }
  return scores;
}

/** One point of the doubt: factors on energy and power, a divergence share, a shift of focus and of thickness. */
export interface DoubtSample {
  removalFactor: number;
  powerFactor: number;
  divergenceShare: number;
  focusShiftMm: number;
  thicknessShiftMm: number;
}

/** Smallest share that a logarithmic spread can start from; below it the spread is taken as linear. */
const LEAST_SHARE = 1e-3;

/** Divergence share at a normal score: a logarithmic spread on either side of the value, clipped to 0…1. */
export function shareAt(share: number, band: { low: number; high: number }, score: number): number {
  const end = score < 0 ? Math.min(band.low, share) : Math.max(band.high, share);
  const steps = Math.abs(score) / Z95;
  const value = Math.min(share, end) > LEAST_SHARE ? share * (end / share) ** steps : share + (end - share) * steps;
  return Math.min(1, Math.max(0, value));
}

/**
 * The fixed points, scaled to a doubt, roughly from the hardest cut to the easiest. Spreads of energy and power are logarithmic, so neither
 * can turn negative.
 */
export function doubtSamples(share: number, doubt: StockDoubt): readonly DoubtSample[] {
  const key = [share, doubt.removal, doubt.power, doubt.focusMm, doubt.thicknessMm];
  key.push(doubt.divergence.low, doubt.divergence.high);
  if (!key.every((value, i) => Object.is(value, lastSamples.key[i])))
    lastSamples = { key, samples: scaledTo(share, doubt) };
  return lastSamples.samples;
}

/** The samples of the doubt asked for last: a search for a better recipe asks for the same ones dozens of times. */
let lastSamples: { key: number[]; samples: readonly DoubtSample[] } = { key: [], samples: [] };

function scaledTo(share: number, doubt: StockDoubt): DoubtSample[] {
  const samples = Array.from({ length: SAMPLE_COUNT }, (_, i): DoubtSample => {
    const score = (dimension: number) => SCORES[i * DIMENSIONS + dimension]!;
    return {
      removalFactor: Math.exp(doubt.removal * score(0)),
      powerFactor: Math.exp(doubt.power * score(1)),
      divergenceShare: shareAt(share, doubt.divergence, score(2)),
      focusShiftMm: doubt.focusMm * score(3),
      thicknessShiftMm: doubt.thicknessMm * score(4),
    };
  });
  return samples.sort((a, b) => b.removalFactor * a.powerFactor - a.removalFactor * b.powerFactor);
}

/** Why this doubt cannot be computed with, in words for a person; null when it can. */
export function doubtProblem(doubt: StockDoubt): string | null {
  for (const [name, value] of [
    ['removal energy', doubt.removal],
    ['power', doubt.power],
    ['focus', doubt.focusMm],
    ['thickness', doubt.thicknessMm],
  ] as const) {
    if (!(Number.isFinite(value) && value >= 0)) return `the spread of the ${name} cannot be ${value}`;
  }
  const { low, high } = doubt.divergence;
  if (!(low >= 0 && low <= high && high <= 1))
    return `the band of the divergence share runs from ${low} to ${high}; it must rise within 0…1`;
  return null;
}
