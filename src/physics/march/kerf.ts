import type { Beam } from '../beam/focused-beam.ts';
import { marchDepth } from './march.ts';
import type { CutPass } from './passes.ts';
import type { Stock } from './stock.ts';

/** What the kerf hangs on. */
export interface KerfInput {
  beam: Beam;
  stock: Stock;
  passes: readonly CutPass[];
  thicknessMm: number;
  kerfThresholdJPerMm2?: number | null;
}

/**
 * Kerf of a cut at the stated values, without doubt: by the threshold fluence where the material has one, at the face with
 * the strongest pass and at the underside with what the last pass has left; else the width that the march removes.
 * The input must have no problem.
 */
export function kerfOf(input: KerfInput): { kerfTopMm: number; kerfBottomMm: number; taperDeg: number } {
  const march = marchDepth(input.beam, input.stock, input.passes, input.thicknessMm);
  const { thicknessMm, kerfThresholdJPerMm2: threshold } = input;
  const through = march.depthMm >= thicknessMm;
  let kerfTopMm = march.topWidthMm;
  let kerfBottomMm = through ? march.bottomWidthMm : 0;
  if (threshold !== null && threshold !== undefined && threshold > 0) {
    const lineEnergies = input.passes.map((pass) => pass.powerW / pass.speedMmPerS);
    kerfTopMm = thresholdKerfMm(march.topWidthMm, Math.max(...lineEnergies), threshold);
    const last = input.passes[input.passes.length - 1]!;
    kerfBottomMm = through ? thresholdKerfMm(march.bottomWidthMm, march.powerLeftW / last.speedMmPerS, threshold) : 0;
  }
  return { kerfTopMm, kerfBottomMm, taperDeg: taperDeg(kerfTopMm, kerfBottomMm, thicknessMm) };
}

/**
 * Width of the kerf where a line scan's Gaussian fluence exceeds the material's threshold: w = d √(½ ln(F₀/F_th)),
 * F₀ = √(8/π) E_L / d. 0 where the fluence stays below the threshold. This is the width that is seen and reported, not
 * the width that the march removes.
 * @param diameterMm 1/e² diameter of the beam where the width is asked for.
 * @param lineEnergyJPerMm power over speed.
 * @param thresholdJPerMm2 a value of the material.
 */
export function thresholdKerfMm(diameterMm: number, lineEnergyJPerMm: number, thresholdJPerMm2: number): number {
  if (!(diameterMm > 0) || !(lineEnergyJPerMm > 0) || !(thresholdJPerMm2 > 0)) return 0;
  const fluence = (Math.sqrt(8 / Math.PI) * lineEnergyJPerMm) / diameterMm;
  return fluence > thresholdJPerMm2 ? diameterMm * Math.sqrt(0.5 * Math.log(fluence / thresholdJPerMm2)) : 0;
}

/** Lean of one wall of the kerf from the vertical, degrees; positive when the kerf is wider at the top. */
export function taperDeg(topMm: number, bottomMm: number, heightMm: number): number {
  return heightMm > 0 ? (Math.atan((topMm - bottomMm) / 2 / heightMm) * 180) / Math.PI : 0;
}
