import type { SourceKind, Thickness } from '../../job/model.ts';
import { type CutInput, cutProblem } from '../../physics/doubt/predict.ts';
import {
  rememberedPrediction,
  rememberedProbability,
  rememberedProbabilityFrom,
} from '../../physics/doubt/remembered.ts';
import { type CutPass, passesProblem } from '../../physics/march/passes.ts';
import { formatBand, formatCount } from '../../units/format.ts';
import { PLUS_MINUS_SIGMAS } from '../../units/plus-minus.ts';
import { type Grounds, removalSpreadFor } from '../coupons/grounds.ts';
import type { PassFact, Prediction } from './cut-fact.ts';
import { errorLimitOf, limitOf } from './limits.ts';
import { withoutDoubt } from './optics.ts';
import type { Setup } from './setup.ts';

/**
 * 1σ of a thickness that was measured without a stated tolerance, but no more than a tenth of a thin sheet, and share of a nominal
 * one (common practice, no source).
 */
const MEASURED_SPREAD_MM = 0.1;
const THIN_SPREAD = 0.1;
const NOMINAL_SPREAD = 0.05;
/** More passes than this say that the sheet is too thick for the machine (common practice, no source). */
export const MOST_PASSES: Record<SourceKind, number> = { co2: 3, diode: 10, fibre: 10 };

export function thicknessSpreadMm(thickness: Thickness): number {
  if (thickness.plusMinusMm !== null) {
    const stated = thickness.plusMinusMm / PLUS_MINUS_SIGMAS;
    return thickness.nominal ? Math.max(stated, thickness.mm * NOMINAL_SPREAD) : stated;
  }
  const measured = Math.min(MEASURED_SPREAD_MM, thickness.mm * THIN_SPREAD);
  return thickness.nominal ? Math.max(measured, thickness.mm * NOMINAL_SPREAD) : measured;
}

/**
 * What a prediction rests on, with the 5–95 % band of the removal energy: "catalogue, ± 40 %", where that is wide "catalogue, within a
 * factor of 2.7"; "calibrated, 9 coupons" where they met the boundary; else the catalogue's with how many there are.
 */
export function basisOf({ coupons, bracketed, removalSpread, spreadBefore, learned }: Grounds): string {
  const counted = formatCount(coupons.length, 'coupon');
  if (bracketed) return `calibrated, ${counted}`;
  const band = (learned === null ? removalSpread : spreadBefore) * PLUS_MINUS_SIGMAS;
  const beside = coupons.length === 0 ? '' : `, and ${counted} of one side only`;
  return `catalogue, ${formatBand(band)}${beside}`;
}

export interface CutPrediction {
  prediction: Prediction;
  throughWithFocusStep: number | null;
}

/** Predicts cuts of one set-up; a recipe that comes again is looked up. */
export class CutPredictor {
  readonly #setup: Setup;
  readonly #known = new Map<string, CutPrediction | { problem: string }>();

  constructor(setup: Setup) {
    this.#setup = setup;
  }

  get setup(): Setup {
    return this.#setup;
  }

  /** Width of the spot, mm. */
  get spotMm(): number {
    return this.#setup.beam.spotMm;
  }

  /**
   * @param spread 1σ of the power as a fraction.
   * @param wanted whether the cut must part the sheet.
   * @param focusMoves whether the focus could be lowered from pass to pass.
   */
  predict(
    passes: readonly PassFact[],
    spread: number,
    wanted: 'through' | 'depth',
    focusMoves = false,
  ): CutPrediction | { problem: string } {
    const recipe = passes.map((p) => [p.powerW, p.speedMmPerS, p.focusMm]);
    const key = JSON.stringify([recipe, spread, wanted, focusMoves]);
    const known = this.#known.get(key);
    if (known) return known;
    const result = this.#compute(passes, spread, wanted === 'through' && focusMoves);
    this.#known.set(key, result);
    return result;
  }

  #compute(passes: readonly PassFact[], spread: number, mayFollow: boolean): CutPrediction | { problem: string } {
    const { grounds } = this.#setup;
    const input = this.inputFor(passes, spread);
    const { prediction, problem } = rememberedPrediction(input);
    if (!prediction) return { problem };
    const limit = limitOf(grounds);
    const fact: Prediction = {
      depthMm: round(prediction.depthMm, 2),
      depthLowMm: round(prediction.depthLowMm, 2),
      depthHighMm: round(prediction.depthHighMm, 2),
      throughProbability: round(prediction.throughProbability, 3),
      limit,
      errorLimit: errorLimitOf(grounds),
      kerfTopMm: prediction.kerfTopMm > 0 ? round(prediction.kerfTopMm, 3) : null,
      kerfBottomMm: prediction.kerfBottomMm > 0 ? round(prediction.kerfBottomMm, 3) : null,
      taperDeg: Number.isFinite(prediction.taperDeg) ? round(prediction.taperDeg, 2) : null,
      energyRatio: round(prediction.energyRatio, 3),
      depthAfterPassMm: prediction.depthAfterPassMm.map((depth) => round(depth, 2)),
      basis: basisOf(grounds),
    };
    return {
      prediction: fact,
      // Many marches at as many focus positions: worth them only where the cut falls short.
      throughWithFocusStep: mayFollow && fact.throughProbability < limit ? this.#withFocusStep(input) : null,
    };
  }

  /** P(through) alone, rounded as in a prediction; null where it is below a limit, or cannot be predicted. */
  chanceFrom(limit: number, passes: readonly PassFact[], spread: number): number | null {
    const input = this.inputFor(passes, spread);
    if (cutProblem(input) !== null) return null;
    const chance = rememberedProbabilityFrom(limit, input);
    return chance === null ? null : round(chance, 3);
  }

  inputFor(passes: readonly CutPass[], spread: number): CutInput {
    const { beam, grounds, material, thicknessMm, thicknessSpreadMm: thicknessSigma, bowMm } = this.#setup;
    const powerW = Math.max(0, ...passes.map((pass) => pass.powerW));
    return {
      // Where coupons were cut here, what the beam and the power of this machine are off by is in the energy.
      beam: grounds.holdsPower ? withoutDoubt(beam) : beam,
      stock: grounds.stock,
      doubt: {
        learned: grounds.learned,
        removal: removalSpreadFor(grounds, { thicknessMm, powerW }),
        divergence: grounds.divergence,
        // How the power wanders is in the spread.
        power: grounds.holdsPower ? 0 : spread,
        focusMm: grounds.focus.spreadMm,
        thicknessMm: thicknessSigma,
      },
      passes: passes.map(
        (pass): CutPass => ({
          powerW: pass.powerW,
          speedMmPerS: pass.speedMmPerS,
          focusMm: pass.focusMm + grounds.focus.offsetMm,
        }),
      ),
      thicknessMm,
      bowMm,
      kerfThresholdJPerMm2: material.kerfThresholdJPerMm2,
    };
  }

  #withFocusStep(input: CutInput): number | null {
    const { passes, thicknessMm } = input;
    if (passes.length < 2 || passes.some((pass) => pass.focusMm !== passes[0]!.focusMm)) return null;
    const step = thicknessMm / passes.length;
    const stepped = passes.map((pass, i) => ({ ...pass, focusMm: pass.focusMm - i * step }));
    return passesProblem(stepped) === null ? round(rememberedProbability({ ...input, passes: stepped }), 3) : null;
  }
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
