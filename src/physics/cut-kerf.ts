import type { Beam } from './beam.ts';
import { taperDeg, thresholdKerfMm } from './kerf.ts';
import { type CutPass, marchDepth } from './march.ts';
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
