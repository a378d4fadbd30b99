import type { Lens, Machine, Material, SourceKind, Thickness } from '../../job/model.ts';
import type { Beam } from '../../physics/beam/focused-beam.ts';
import { Z95 } from '../../physics/doubt/normal.ts';
import { type CutInput, predictCut, throughProbability } from '../../physics/doubt/predict.ts';
import { type CutPass, passesProblem } from '../../physics/march/passes.ts';
import type { Stock } from '../../physics/march/stock.ts';
import { fixed, formatCount, formatPercent } from '../../units/format.ts';
import { isCutHere, removalSpread } from './coupon-span.ts';
import type { PassFact, Prediction } from './cut-fact.ts';
import { errorLimitOf, limitOf } from './limits.ts';
import { removalUnder } from './removal.ts';

/** 1σ of the focus where no ramp was cut, mm (common practice, no source). */
const FOCUS_SPREAD_MM = 0.5;
/**
 * 1σ of a thickness that was measured without a stated tolerance, but no more than a tenth of a thin sheet, and share of a nominal
 * one (common practice, no source).
 */
const MEASURED_SPREAD_MM = 0.1;
const THIN_SPREAD = 0.1;
const NOMINAL_SPREAD = 0.05;
/** A stated ± is read as two standard deviations. */
const TOLERANCE_SIGMAS = 2;
/** 1σ of a source's power from one day to the next, against the day of the coupons (common practice, no source). */
const COUPON_POWER_SPREAD = 0.05;
/** More passes than this say that the sheet is too thick for the machine (common practice, no source). */
export const MOST_PASSES: Record<SourceKind, number> = { co2: 3, diode: 10, fibre: 10 };

export function thicknessSpreadMm(thickness: Thickness): number {
  if (thickness.plusMinusMm !== null) {
    const stated = thickness.plusMinusMm / TOLERANCE_SIGMAS;
    return thickness.nominal ? Math.max(stated, thickness.mm * NOMINAL_SPREAD) : stated;
  }
  const measured = Math.min(MEASURED_SPREAD_MM, thickness.mm * THIN_SPREAD);
  return thickness.nominal ? Math.max(measured, thickness.mm * NOMINAL_SPREAD) : measured;
}

/** Above it the band of the removal energy is told as a factor: a ± would reach to nothing and below. */
const WIDEST_PLUS_MINUS = 0.75;

/**
 * What a prediction rests on, with the 5–95 % band of the removal energy: "catalogue, ± 40 %", where that is wide "catalogue, within a
 * factor of 2.7"; or "calibrated, 9 coupons".
 */
export function basisOf(material: Material, kind: SourceKind): string {
  const removal = removalUnder(material, kind);
  if (removal === null) return 'none';
  const coupons = material.removal?.coupons ?? 0;
  if (coupons > 0) return `calibrated, ${formatCount(coupons, 'coupon')}`;
  const band = removal.spread * Z95;
  if (band <= WIDEST_PLUS_MINUS) return `catalogue, ± ${formatPercent(band, 0)}`;
  return `catalogue, within a factor of ${fixed(Math.exp(band), 1)}`;
}

export function stockOf(material: Material, kind: SourceKind): Stock | null {
  const removal = removalUnder(material, kind);
  if (removal === null) return null;
  return {
    removalJPerMm3: removal.jPerMm3,
    divergenceShare: material.divergence.share,
    conductivityWPerMK: material.thermal?.conductivityWPerMK ?? 0,
    diffusivityMm2PerS: material.thermal?.diffusivityMm2PerS ?? 0,
    temperatureRiseK: material.thermal?.temperatureRiseK ?? 0,
  };
}

/** Everything about one sheet under one lens that stays the same from cut to cut. */
export interface Setup {
  machine: Machine;
  lens: Lens;
  beam: Beam;
  material: Material;
  stock: Stock;
  thicknessMm: number;
  thicknessSpreadMm: number;
  bowMm: number;
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
    const { material } = this.#setup;
    const input = this.inputFor(passes, spread);
    const { prediction, problem } = predictCut(input);
    if (!prediction) return { problem };
    const limit = limitOf(material);
    const fact: Prediction = {
      depthMm: round(prediction.depthMm, 2),
      depthLowMm: round(prediction.depthLowMm, 2),
      depthHighMm: round(prediction.depthHighMm, 2),
      throughProbability: round(prediction.throughProbability, 3),
      limit,
      errorLimit: errorLimitOf(material),
      kerfTopMm: prediction.kerfTopMm > 0 ? round(prediction.kerfTopMm, 3) : null,
      kerfBottomMm: prediction.kerfBottomMm > 0 ? round(prediction.kerfBottomMm, 3) : null,
      taperDeg: Number.isFinite(prediction.taperDeg) ? round(prediction.taperDeg, 2) : null,
      energyRatio: round(prediction.energyRatio, 3),
      depthAfterPassMm: prediction.depthAfterPassMm.map((depth) => round(depth, 2)),
      basis: basisOf(material, this.#setup.machine.source.kind),
    };
    return {
      prediction: fact,
      // Many marches at as many focus positions: worth them only where the cut falls short.
      throughWithFocusStep: mayFollow && fact.throughProbability < limit ? this.#withFocusStep(input) : null,
    };
  }

  inputFor(passes: readonly PassFact[], spread: number): CutInput {
    const { beam, stock, material, thicknessMm, thicknessSpreadMm: thicknessSigma, bowMm } = this.#setup;
    const calibration = material.focusCalibration;
    return {
      beam,
      stock,
      doubt: {
        removal: removalSpread(this.#setup, Math.max(0, ...passes.map((pass) => pass.powerW))),
        divergence: { low: material.divergence.low, high: material.divergence.high },
        // What is left of the power's doubt is its wander.
        power: isCutHere(this.#setup.machine, material) ? Math.min(spread, COUPON_POWER_SPREAD) : spread,
        focusMm: calibration?.spreadMm ?? FOCUS_SPREAD_MM,
        thicknessMm: thicknessSigma,
      },
      passes: passes.map(
        (pass): CutPass => ({
          powerW: pass.powerW,
          speedMmPerS: pass.speedMmPerS,
          focusMm: pass.focusMm + (calibration?.offsetMm ?? 0),
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
    return passesProblem(stepped) === null ? round(throughProbability({ ...input, passes: stepped }), 3) : null;
  }
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
