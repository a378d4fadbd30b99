import type { LearnedPoint, StockDoubt } from '../march/stock.ts';
import { normalQuantile, Z95 } from './normal.ts';

/** Number of points in the space of what may be off: they put P(through) within about 0.01 of a large random sample (tested). */
export const SAMPLE_COUNT = 251;

const DIMENSIONS = 5;
/** The dimensions beyond those, which what was learned from coupons needs: in which the focus is set anew, and the scatter is taken. */
const REFOCUSED = 5;
const SCATTERED = 6;
/**
 * Steps of the lattice in them. The next powers of the generator would nearly repeat a dimension; of all steps these keep every pair and
 * triple of dimensions most even (worst-case error of the lattice rule for products of periodic Sobolev functions of smoothness 1).
 */
const FURTHER_STEPS: Record<number, number> = { [REFOCUSED]: 113, [SCATTERED]: 34 };

/**
 * Generator of the rank-1 lattice that spreads the points. Of all generators for 251 points it gave the smallest error
 * of the 5th to 95th percentile over 400 random weightings of the five doubts (0.05 standard deviations, r.m.s.).
 */
const GENERATOR = 116;

/** Standard normal scores, SAMPLE_COUNT rows of DIMENSIONS, each column an exact stratification of the normal distribution. */
const STRATA = Float64Array.from({ length: SAMPLE_COUNT }, (_, place) => normalQuantile((place + 0.5) / SAMPLE_COUNT));
const SCORES: Float64Array = fixedScores();

function fixedScores(): Float64Array {
  const scores = new Float64Array(SAMPLE_COUNT * DIMENSIONS);
  for (let i = 0; i < SAMPLE_COUNT; i++) {
    // As `placeOf` has it, each dimension from the one before: this is done whenever the program starts.
    for (let dimension = 0, place = i; dimension < DIMENSIONS; dimension++) {
      scores[i * DIMENSIONS + dimension] = STRATA[place]!;
      place = (place * GENERATOR) % SAMPLE_COUNT;
    }
  }
  return scores;
}

/** Which stratum of a dimension a point lies in. */
function placeOf(point: number, dimension: number): number {
  const further = FURTHER_STEPS[dimension];
  if (further !== undefined) return (point * further) % SAMPLE_COUNT;
  let place = point;
  for (let i = 0; i < dimension; i++) place = (place * GENERATOR) % SAMPLE_COUNT;
  return place;
}

/** Shares of their distributions at which learned quantities are taken, each between 0 and 1. */
export interface LearnedShares {
  removal: number;
  divergence: number;
  focus: number;
  scatter: number;
}

/**
 * The shares of their distributions at which what was learned of removal energy, divergence share and focus is taken at each of the
 * fixed points: between 0 and 1, each quantity an exact stratification.
 */
export function learnedShares(): readonly LearnedShares[] {
  const share = (point: number, dimension: number) => (placeOf(point, dimension) + 0.5) / SAMPLE_COUNT;
  return Array.from({ length: SAMPLE_COUNT }, (_, i) => ({
    removal: share(i, 0),
    divergence: share(i, 2),
    focus: share(i, 3),
    scatter: share(i, SCATTERED),
  }));
}

/** What a point of the doubt says of beam and sheet alone: a divergence share, a shift of focus and of thickness. */
export interface DoubtPlace {
  divergenceShare: number;
  focusShiftMm: number;
  thicknessShiftMm: number;
}

/**
 * The points of a doubt: each is a place with factors on energy and power. In columns, since they are made anew for nearly every setting of a
 * machine, whose power wanders by another share at each.
 */
export interface DoubtSamples {
  /** The same list for every doubt that differs in energy and power alone. */
  places: readonly DoubtPlace[];
  /** By place. */
  removalFactors: Float64Array;
  /** Likewise. */
  powerFactors: Float64Array;
  /** Indices of the places, roughly from the hardest cut to the easiest. */
  order: Uint8Array;
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

/** The fixed points, scaled to a doubt. Spreads of energy and power are logarithmic, so neither can turn negative. */
export function doubtSamples(share: number, doubt: StockDoubt): DoubtSamples {
  const { removal, power, divergence, focusMm, thicknessMm } = doubt;
  const learned = doubt.learned ?? null;
  return ASKED.made(learned, [share, removal, power, focusMm, thicknessMm, divergence.low, divergence.high], () => {
    const places = PLACES.made(learned, [share, focusMm, thicknessMm, divergence.low, divergence.high], () =>
      learned === null ? scaledPlaces(share, doubt) : placesAround(learned, doubt),
    );
    const factors = learned === null ? scaledFactors(doubt) : factorsAround(learned, doubt);
    return { places, ...factors, order: hardestFirst(factors) };
  });
}

/** What was made for the doubts asked for last, the latest first: a search for a better recipe asks for the same dozens of times, and so does job after job. */
class LastMade<T> {
  readonly #entries: { key: readonly number[]; learned: readonly LearnedPoint[] | null; value: T }[] = [];
  static readonly #MOST = 6;

  made(learned: readonly LearnedPoint[] | null, key: readonly number[], make: () => T): T {
    const at = this.#entries.findIndex(
      (one) => one.learned === learned && one.key.every((value, i) => Object.is(value, key[i]!)),
    );
    const [known] = at < 0 ? [] : this.#entries.splice(at, 1);
    const entry = known ?? { key, learned, value: make() };
    this.#entries.unshift(entry);
    if (this.#entries.length > LastMade.#MOST) this.#entries.pop();
    return entry.value;
  }
}

const ASKED = new LastMade<DoubtSamples>();
const PLACES = new LastMade<readonly DoubtPlace[]>();

type Factors = Pick<DoubtSamples, 'removalFactors' | 'powerFactors'>;

const scoreOf = (point: number, dimension: number) => SCORES[point * DIMENSIONS + dimension]!;

function scaledPlaces(share: number, doubt: StockDoubt): DoubtPlace[] {
  return Array.from({ length: SAMPLE_COUNT }, (_, i) => ({
    divergenceShare: shareAt(share, doubt.divergence, scoreOf(i, 2)),
    focusShiftMm: doubt.focusMm * scoreOf(i, 3),
    thicknessShiftMm: doubt.thicknessMm * scoreOf(i, 4),
  }));
}

function scaledFactors(doubt: StockDoubt): Factors {
  const removalFactors = new Float64Array(SAMPLE_COUNT);
  const powerFactors = new Float64Array(SAMPLE_COUNT);
  for (let i = 0; i < SAMPLE_COUNT; i++) {
    removalFactors[i] = Math.exp(doubt.removal * scoreOf(i, 0));
    powerFactors[i] = Math.exp(doubt.power * scoreOf(i, 1));
  }
  return { removalFactors, powerFactors };
}

/** What one setting of the focus and one sheet differ by from the next, on top of what coupons left open. */
function placesAround(learned: readonly LearnedPoint[], doubt: StockDoubt): DoubtPlace[] {
  return learned.map((point, i) => ({
    divergenceShare: point.divergenceShare,
    focusShiftMm: point.focusShiftMm + doubt.focusMm * STRATA[placeOf(i, REFOCUSED)]!,
    thicknessShiftMm: doubt.thicknessMm * STRATA[placeOf(i, 4)]!,
  }));
}

/** Likewise one cut. */
function factorsAround(learned: readonly LearnedPoint[], doubt: StockDoubt): Factors {
  const removalFactors = Float64Array.from(
    learned,
    (point, i) =>
      point.removalFactor * Math.exp(Math.hypot(doubt.removal, doubt.power, point.scatter) * STRATA[placeOf(i, 1)]!),
  );
  return { removalFactors, powerFactors: new Float64Array(learned.length).fill(1) };
}

function hardestFirst({ removalFactors, powerFactors }: Factors): Uint8Array {
  const places = Array.from(removalFactors, (_, place) => place);
  places.sort((a, b) => removalFactors[b]! * powerFactors[a]! - removalFactors[a]! * powerFactors[b]!);
  return Uint8Array.from(places);
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
