import type { Material } from '../src/job/model.ts';
import { normalCdf } from '../src/physics/doubt/normal.ts';
import type { CutInput } from '../src/physics/doubt/predict.ts';
import { CONDUCTION_EXPONENT, conductionScale } from '../src/physics/march/stock.ts';

/**
 * A width that was tried in the march and not kept: what is removed is the part of a Gaussian beam whose fluence exceeds the material's
 * threshold, and no more than its 1/e² width. It is marched in plain slices, for passes of one power, speed and focus.
 */
export type ThresholdForm =
  /** The width shrinks and all of the power counts: near the threshold less power then cuts deeper. */
  | 'width alone'
  /** Only the power within that width counts: near the threshold the depth is that of the beam's middle. */
  | 'width and power';

/** What has to be removed for the face to be cut: the mass of one 1/e depth of PMMA at 10.6 µm, 0.031 mm × 1.19 g/cm³ (docs/model.md). */
const FACE_G_PER_MM2 = (0.031 * 1.19) / 1000;
const SLICES_PER_MM = 12;
const LEAST_SLICES = 30;
const HALVINGS = 24;
/** ln of the widest factor on the power that is looked for. */
const WIDEST = 8;

/** Factor on every pass's power with which the sheet just parts. */
export function powerFactorByThreshold(
  input: CutInput,
  material: Material,
  form: ThresholdForm,
  thresholdFactor: number,
): number {
  // At the energy per gram that was taken before the evidence: the threshold stays where it is while the energy is fitted.
  const kJPerG = material.removal!.before!.jPerMm3 / material.densityGPerCm3;
  const threshold = kJPerG * 1000 * FACE_G_PER_MM2 * thresholdFactor;
  const parts = marchOf(input, (fluence) => costFactor(fluence / threshold, form));
  let [low, high] = [-WIDEST, WIDEST];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (parts(Math.exp(middle))) high = middle;
    else low = middle;
  }
  return Math.exp((low + high) / 2);
}

/** What removing costs over what the whole 1/e² width would, at a peak fluence over the threshold. */
function costFactor(ratio: number, form: ThresholdForm): number {
  // Below the threshold the beam's middle still has the depth of its limit: heat that is not carried off adds up.
  const log = Math.max(1e-9, Math.log(ratio));
  const width = Math.min(1, Math.sqrt(log / 2));
  if (form === 'width alone') return ratio > 1 ? width : Number.POSITIVE_INFINITY;
  return width / (2 * normalCdf(Math.sqrt(2 * log)) - 1);
}

function marchOf(input: CutInput, factorAt: (fluence: number) => number): (powerFactor: number) => boolean {
  const { beam, stock, passes, thicknessMm } = input;
  const { powerW, speedMmPerS, focusMm } = passes[0]!;
  const slices = Math.max(LEAST_SLICES, Math.ceil(thicknessMm * SLICES_PER_MM));
  const sliceMm = thicknessMm / slices;
  const conduction = conductionScale(stock);
  const widths = Array.from({ length: slices }, (_, i) => {
    const fromWaist = (i + 0.5) * sliceMm + focusMm;
    const free = (beam.cone * fromWaist) ** 2;
    return Math.sqrt(beam.spotMm ** 2 + (fromWaist < 0 ? free : stock.divergenceShare * free));
  });
  return (powerFactor) => {
    const enteringW = powerW * powerFactor;
    const costs = widths.map((widthMm) => {
      const removed = widthMm * factorAt((Math.sqrt(8 / Math.PI) * enteringW) / (speedMmPerS * widthMm));
      const swept = speedMmPerS * removed;
      return (stock.removalJPerMm3 * swept + conduction * swept ** CONDUCTION_EXPONENT) * sliceMm;
    });
    // Every pass spends its whole power below the depth of the last: what counts is the sum.
    return costs.reduce((sum, cost) => sum + cost, 0) <= enteringW * passes.length;
  };
}
