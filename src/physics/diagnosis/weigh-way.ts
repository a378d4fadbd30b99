import { normalCdf, Z95 } from '../doubt/normal.ts';
import { type CutInput, sampleDepths } from '../doubt/predict.ts';
import { quantile } from '../doubt/quantile.ts';
import { kerfOf } from '../march/kerf.ts';
import { marchedDepthMm } from '../march/march.ts';
import type { Observation, Range } from './observation.ts';
import type { Way } from './ways.ts';

/** A way weighed against what was seen: how likely that would be, over all its sizes, and how near it comes. */
export interface WeighedWay {
  way: Way;
  likelihood: number;
  value: number;
  /** |logarithm| of the depth reached over the depth seen, 0 where it is met. */
  miss: number;
}

/** 1σ of the logarithm of a depth that was read from an edge or with a wire (memory). */
export const READING_SIGMA = 0.1;
/** 1σ of the logarithm of a kerf read with a calliper or loupe (memory). */
const KERF_SIGMA = 0.2;
/** A kerf that fits no cause must not decide between them. */
const LEAST_KERF_MATCH = 1e-3;
/** Large faults are rarer than small ones, but not as rare as a normal distribution has them: a tail like Student's. */
const FAULT_TAIL = 1.5;
/** Sizes of a range that are tried. */
const SIZES = 32;
const HALVINGS = 20;
/** A depth within 2 % counts as reproduced: nobody reads one closer. */
export const REPRODUCED = 0.02;

/** How far the depth of a cut is in doubt: 1σ of its logarithm. */
export function depthSigma(cut: CutInput): number {
  const { depths } = sampleDepths(cut);
  const low = quantile(depths, 0.05);
  return low > 0 ? Math.log(quantile(depths, 0.95) / low) / (2 * Z95) : 1;
}

/** The sizes of a way that are tried, from mild to worst, evenly by what they deviate; a single one where it has none. */
function sizesOf(range: Range | null): number[] {
  if (range === null) return [0];
  const from = deviation(range, range.mild);
  const to = deviation(range, range.worst);
  return Array.from({ length: SIZES + 1 }, (_, i) => undeviated(range, from + ((to - from) * i) / SIZES));
}

const isFactor = (range: Range): boolean => range.quantity === 'powerFactor' || range.quantity === 'removalFactor';

/** Of a factor its logarithm, less power counting like more removal energy. */
function deviation(range: Range, value: number): number {
  return isFactor(range) ? Math.abs(Math.log(value)) : value;
}

function undeviated(range: Range, size: number): number {
  if (!isFactor(range)) return size;
  return Math.exp(range.worst < 1 ? -size : size);
}

/** How often a fault has this size, against others of its range. */
function sizeDensity(range: Range, value: number): number {
  return (1 + (deviation(range, value) / range.usual) ** 2) ** -FAULT_TAIL;
}

/** Weighs one way against depth and kerf as seen. `sigma` is the doubt of the depth, see {@link depthSigma}. */
export function weighWay(way: Way, seen: Observation, sigma: number): WeighedWay {
  const sizes = sizesOf(way.range);
  const reached = sizes.map((size) => depthOf(way.cutAt(size)));
  const densities = sizes.map((size) => (way.range === null ? 1 : sizeDensity(way.range, size)));
  const all = densities.reduce((sum, each) => sum + each, 0);
  const likelihood = sizes.reduce((sum, size, i) => {
    const cut = way.cutAt(size);
    const match = depthMatch(way, cut, reached[i]!, seen, sigma) * kerfMatch(cut, seen);
    return sum + (densities[i]! / all) * match;
  }, 0);
  const value = nearestSize(way, sizes, reached, seen);
  return { way, likelihood, value, miss: missOf(way, way.cutAt(value), seen) };
}

const depthOf = ({ beam, stock, passes }: CutInput): number => marchedDepthMm(beam, stock, passes);

/** A thicker sheet changes no depth: it only asks for more of it. */
export const changesThickness = (way: Way): boolean => way.range?.quantity === 'thickerMm';

/** Depth that a cut must not exceed to be what was seen. */
function depthToMeet(way: Way, cut: CutInput, seen: Observation): number {
  return seen.depthMm === null || changesThickness(way) ? cut.thicknessMm : seen.depthMm;
}

/**
 * How likely the depth that was seen is, where the stated values would reach another, up to a factor that is the same for all causes. The
 * doubt of a depth is taken as logarithmic.
 */
function depthMatch(way: Way, cut: CutInput, reachedMm: number, seen: Observation, sigma: number): number {
  const notThrough = reachedMm > 0 ? normalCdf(Math.log(cut.thicknessMm / reachedMm) / Math.max(sigma, 1e-6)) : 1;
  if (seen.depthMm === null) return notThrough;
  if (changesThickness(way)) return notThrough * bell(Math.log(seen.depthMm / declaredMm(way)) / READING_SIGMA);
  return reachedMm > 0 ? bell(Math.log(seen.depthMm / reachedMm) / Math.hypot(sigma, READING_SIGMA)) : 0;
}

const bell = (z: number): number => Math.exp(-0.5 * z * z);

export const declaredMm = (way: Way): number => way.cutAt(0).thicknessMm;

function kerfMatch(cut: CutInput, { kerfMm }: Observation): number {
  if (kerfMm === null) return 1;
  const kerf = kerfOf(cut).kerfTopMm;
  return kerf > 0 ? Math.max(LEAST_KERF_MATCH, bell(Math.log(kerfMm / kerf) / KERF_SIGMA)) : LEAST_KERF_MATCH;
}

/**
 * The mildest size with which just what was seen is reached; where there is none, the one that comes nearest. Depth need not fall with the
 * size: a waist that lies lower may cut deeper at first.
 */
function nearestSize(way: Way, sizes: readonly number[], reached: readonly number[], seen: Observation): number {
  const { range } = way;
  if (range === null) return sizes[0]!;
  const isShort = (size: number, depthMm: number) => depthMm <= depthToMeet(way, way.cutAt(size), seen);
  const short = sizes.map((size, i) => isShort(size, reached[i]!));
  // That it did not part is met by all that fall short.
  if (short[0]! && (seen.depthMm === null || changesThickness(way))) return sizes[0]!;
  const crossing = short.findIndex((each) => each !== short[0]);
  if (crossing < 0) {
    const misses = sizes.map((size) => missOf(way, way.cutAt(size), seen));
    return sizes[misses.indexOf(Math.min(...misses))]!;
  }
  let before = deviation(range, sizes[crossing - 1]!);
  let after = deviation(range, sizes[crossing]!);
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (before + after) / 2;
    const size = undeviated(range, middle);
    if (isShort(size, depthOf(way.cutAt(size))) === short[0]) before = middle;
    else after = middle;
  }
  return undeviated(range, short[0]! ? before : after);
}

function missOf(way: Way, cut: CutInput, seen: Observation): number {
  const reachedMm = depthOf(cut);
  const targetMm = depthToMeet(way, cut, seen);
  // A sheet that was cut less deep than the declared one is thick would have failed at that thickness too.
  const needless = changesThickness(way) && seen.depthMm !== null ? Math.log(declaredMm(way) / seen.depthMm) : 0;
  if (seen.depthMm === null || changesThickness(way)) return Math.max(0, Math.log(reachedMm / targetMm), needless);
  return reachedMm > 0 ? Math.abs(Math.log(reachedMm / targetMm)) : Number.POSITIVE_INFINITY;
}
