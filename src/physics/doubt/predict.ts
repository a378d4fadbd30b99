import type { Beam } from '../beam/focused-beam.ts';
import { powerFactorFor } from '../march/inverse.ts';
import { kerfOf } from '../march/kerf.ts';
import { depthUpToMm, marchDepth } from '../march/march.ts';
import { type CutPass, passesProblem } from '../march/passes.ts';
import { type Stock, type StockDoubt, stockProblem } from '../march/stock.ts';
import { beamSpread } from './beam-doubt.ts';
import { PartingScreen } from './parting-screen.ts';
import { quantile, shareAboveZero } from './quantile.ts';
import { type DoubtSamples, doubtProblem, doubtSamples, SAMPLE_COUNT } from './samples.ts';

/** One recipe on one sheet. */
export interface CutInput {
  beam: Beam;
  stock: Stock;
  doubt: StockDoubt;
  passes: readonly CutPass[];
  thicknessMm: number;
  /** How far the sheet is from flat, from its lowest to its highest; half of it joins the focus as one more 1σ. */
  bowMm: number;
  /** Threshold fluence of the reported kerf; null or left out: the kerf is the width that the march removes. */
  kerfThresholdJPerMm2?: number | null;
}

/** What the beam does to the sheet, of the stated values and with their doubt. Lengths in mm. */
export interface PredictedCut {
  /** Median depth in endless stock: it may exceed the thickness. */
  depthMm: number;
  /** 5th percentile. */
  depthLowMm: number;
  /** 95th percentile. */
  depthHighMm: number;
  /** Share of the doubt in which the sheet parts, 0…1. */
  throughProbability: number;
  kerfTopMm: number;
  /** At the sheet's underside; 0 where the cut does not reach it. */
  kerfBottomMm: number;
  /** Lean of one wall, positive when wider at the top. */
  taperDeg: number;
  /** Power delivered over the power with which the same recipe would just part the sheet. */
  energyRatio: number;
  /** Of the stated values, without doubt. */
  depthAfterPassMm: number[];
}

/** A prediction, or why there is none, in words for a person. */
export type PredictionResult = { prediction: PredictedCut; problem: null } | { prediction: null; problem: string };

/** Why no prediction can be made from this input; null when one can. */
export function cutProblem(input: CutInput): string | null {
  const { beam } = input;
  if (!(Number.isFinite(beam.spotMm) && beam.spotMm > 0)) return `the spot must be above 0 mm, not ${beam.spotMm}`;
  if (!(Number.isFinite(beam.cone) && beam.cone > 0)) return `the beam's cone must be above 0, not ${beam.cone}`;
  if (!(Number.isFinite(input.thicknessMm) && input.thicknessMm > 0)) {
    return `the thickness must be above 0 mm, not ${input.thicknessMm}`;
  }
  if (!(Number.isFinite(input.bowMm) && input.bowMm >= 0)) return `the bow cannot be ${input.bowMm} mm`;
  const problem = stockProblem(input.stock) ?? doubtProblem(input.doubt);
  if (problem !== null) return problem;
  return passesProblem(input.passes);
}

/**
 * Depth, probability and kerf of one recipe, the input's doubts carried through together over fixed points: the same
 * input gives the same numbers. A problem in the input is named and never becomes NaN.
 */
export function predictCut(input: CutInput): PredictionResult {
  const problem = cutProblem(input);
  if (problem !== null) return { prediction: null, problem };
  const { beam, stock, passes, thicknessMm } = input;
  const { depths, margins } = sampleDepths(input);
  const alone = marchDepth(beam, stock, passes);
  return {
    problem: null,
    prediction: {
      depthMm: quantile(depths, 0.5),
      depthLowMm: quantile(depths, 0.05),
      depthHighMm: quantile(depths, 0.95),
      throughProbability: shareAboveZero(margins),
      ...kerfOf(input),
      energyRatio: 1 / powerFactorFor(beam, stock, passes, thicknessMm),
      depthAfterPassMm: alone.depthAfterPassMm,
    },
  };
}

/** P(through) alone, for solvers: the same number as in the whole prediction. The input must have no problem. */
export function throughProbability(input: CutInput): number {
  return probabilityFrom(0, input) ?? 0;
}

/**
 * P(through) of a recipe that reaches a limit; null when it does not, which most recipes that are tried show after few points.
 * The input must have no problem.
 */
export function probabilityFrom(limit: number, input: CutInput): number | null {
  const sample = new Sample(input);
  const margins = new Float64Array(SAMPLE_COUNT);
  // The share is interpolated between two points, so it lies within one point of their count.
  const mostShort = (1 - limit) * SAMPLE_COUNT + 1;
  let short = 0;
  // Those that most probably fall short come first.
  for (let i = 0; i < SAMPLE_COUNT; i++) {
    margins[i] = sample.marginBoundMm(i);
    if (margins[i]! < 0 && ++short > mostShort) return null;
  }
  // Which points part the sheet is settled. The share rests on the margins around 0 besides.
  const whole = (point: number) => sample.marginMm(point, sample.depthMm(point));
  settleNearest(margins, whole, { above: short === 0 ? 2 : 1, below: short === SAMPLE_COUNT ? 2 : 1 });
  const probability = shareAboveZero(margins.sort());
  return probability >= limit ? probability : null;
}

/** Puts the true margins for those nearest to 0 on either side of it, all of which are as near or nearer before. */
function settleNearest(
  margins: Float64Array,
  whole: (point: number) => number,
  count: { above: number; below: number },
): void {
  const settled = new Set<number>();
  for (const [side, wanted] of [
    [1, count.above],
    [-1, count.below],
  ] as const) {
    for (;;) {
      const open = nearest(margins, side, wanted).find((point) => !settled.has(point));
      if (open === undefined) break;
      margins[open] = whole(open);
      settled.add(open);
    }
  }
}

/** Indices of the margins nearest to 0 above it (side 1: at 0 too) or below it (−1): one or two. */
function nearest(margins: Float64Array, side: 1 | -1, wanted: number): number[] {
  let [first, second] = [-1, -1];
  for (let i = 0; i < margins.length; i++) {
    const margin = margins[i]!;
    if (side > 0 ? !(margin >= 0) : !(margin < 0)) continue;
    const distance = Math.abs(margin);
    if (first < 0 || distance < Math.abs(margins[first]!)) [first, second] = [i, first];
    else if (second < 0 || distance < Math.abs(margins[second]!)) second = i;
  }
  return [first, second].slice(0, wanted).filter((point) => point >= 0);
}

/** Depths, and depths less thickness, at every point of the doubt, both sorted. The input must have no problem. */
export function sampleDepths(input: CutInput): { depths: Float64Array; margins: Float64Array } {
  const sample = new Sample(input);
  const depths = new Float64Array(SAMPLE_COUNT);
  const margins = new Float64Array(SAMPLE_COUNT);
  for (let i = 0; i < SAMPLE_COUNT; i++) {
    depths[i] = sample.depthMm(i);
    margins[i] = sample.marginMm(i, depths[i]!);
  }
  return { depths: depths.sort(), margins: margins.sort() };
}

/** Without a doubt of the beam the very number, to the last digit. */
const withBeam = (removal: number, beam: number): number => (beam === 0 ? removal : Math.hypot(removal, beam));

/** One recipe on one sheet at each point of the doubt. */
class Sample {
  readonly #input: CutInput;
  readonly #samples: DoubtSamples;
  /** Filled anew for each sample. */
  readonly #stock: Stock;
  readonly #passes: CutPass[];
  /** Made when it is asked for; null where only marches tell. */
  #screen: PartingScreen | null | undefined;

  constructor(input: CutInput) {
    const focusMm = Math.hypot(input.doubt.focusMm, input.bowMm / 2);
    const removal = withBeam(input.doubt.removal, beamSpread(input.beam, input.stock, input.passes));
    this.#input = input;
    this.#samples = doubtSamples(input.stock.divergenceShare, { ...input.doubt, removal, focusMm });
    this.#stock = { ...input.stock };
    // All passes get the same object shape (hidden class): the march is the most expensive loop of all.
    this.#passes = input.passes.map(({ powerW, speedMmPerS, focusMm }) => ({ powerW, speedMmPerS, focusMm }));
  }

  /** In endless stock; where it is more than enough, a lower bound of it that is enough too. */
  depthMm(point: number, enoughMm = Number.POSITIVE_INFINITY): number {
    const { beam, stock, passes } = this.#input;
    const { places, removalFactors, powerFactors, order } = this.#samples;
    const place = order[point]!;
    const powerFactor = powerFactors[place]!;
    const { divergenceShare, focusShiftMm } = places[place]!;
    this.#stock.removalJPerMm3 = stock.removalJPerMm3 * removalFactors[place]!;
    this.#stock.divergenceShare = divergenceShare;
    for (let i = 0; i < passes.length; i++) {
      this.#passes[i]!.powerW = passes[i]!.powerW * powerFactor;
      this.#passes[i]!.focusMm = passes[i]!.focusMm + focusShiftMm;
    }
    return depthUpToMm(beam, this.#stock, this.#passes, enoughMm);
  }

  /** Of the sign of depth less thickness and as near to 0 or nearer, for a fraction of the work. */
  marginBoundMm(point: number): number {
    if (this.#screen === undefined) this.#screen = PartingScreen.of(this.#input, this.#samples);
    const bound = this.#screen?.boundMm(point) ?? Number.NaN;
    return Number.isNaN(bound) ? this.marginMm(point, this.depthMm(point, this.#thicknessMm(point))) : bound;
  }

  /** Depth less thickness. */
  marginMm(point: number, depthMm: number): number {
    return depthMm - this.#thicknessMm(point);
  }

  #thicknessMm(point: number): number {
    const { places, order } = this.#samples;
    return this.#input.thicknessMm + places[order[point]!]!.thicknessShiftMm;
  }
}
