import type { Beam } from './beam.ts';
import { kerfOf } from './cut-kerf.ts';
import { doubtProblem, drawsOf } from './doubt.ts';
import { powerFactorFor } from './inverse.ts';
import { type CutPass, marchDepth, passesProblem } from './march.ts';
import { quantile, shareAboveZero } from './quantile.ts';
import { type Stock, type StockDoubt, stockProblem } from './stock.ts';

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

export interface CutPrediction {
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
export type PredictionResult = { prediction: CutPrediction; problem: null } | { prediction: null; problem: string };

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
  return shareAboveZero(sampleDepths(input).margins);
}

/** Depths, and depths less thickness, at every point of the doubt, both sorted. The input must have no problem. */
export function sampleDepths(input: CutInput): { depths: Float64Array; margins: Float64Array } {
  const focusMm = Math.hypot(input.doubt.focusMm, input.bowMm / 2);
  const draws = drawsOf(input.stock.divergenceShare, { ...input.doubt, focusMm });
  const depths = new Float64Array(draws.length);
  const margins = new Float64Array(draws.length);
  draws.forEach((draw, i) => {
    const stock = {
      ...input.stock,
      removalJPerMm3: input.stock.removalJPerMm3 * draw.removalFactor,
      divergenceShare: draw.divergenceShare,
    };
    const passes = input.passes.map((pass) => ({
      powerW: pass.powerW * draw.powerFactor,
      speedMmPerS: pass.speedMmPerS,
      focusMm: pass.focusMm + draw.focusShiftMm,
    }));
    const depth = marchDepth(input.beam, stock, passes).depthMm;
    depths[i] = depth;
    margins[i] = depth - (input.thicknessMm + draw.thicknessShiftMm);
  });
  return { depths: depths.sort(), margins: margins.sort() };
}
