import type { Machine, Material, Thickness } from '../../job/model.ts';
import type { ScaleMixUp } from '../tasks/power-scale.ts';
import type { Optics } from './optics.ts';
import type { PowerFact } from './power.ts';
import { CutPredictor, stockOf, thicknessSpreadMm } from './prediction.ts';

/** What a job's cuts are predicted from, as far as it is known. */
export interface PredictorInput {
  machine: Machine | null;
  optics: Optics;
  power: PowerFact | null;
  /** Nothing is predicted of a power that may be another. */
  powerScale: ScaleMixUp | null;
  material: Material | null;
  thickness: Thickness | null;
  bowMm: number;
}

/** A predictor, or why cuts cannot be predicted, as the rest of a sentence. */
export type PredictorOrReason =
  | { readonly predictor: CutPredictor; readonly notPredicted: null }
  | { readonly predictor: null; readonly notPredicted: string };

/** Why no recipe of this machine may or can part the material; null when one might. */
export function whyNeverCut(machine: Machine, material: Material): string | null {
  if (material.hazard.class === 'never') return `${material.name} must not be cut`;
  return material.sources[machine.source.kind] === 'cuts' ? null : `this source does not cut ${material.name}`;
}

/** The predictor of a job's cuts; where something is missing, the first thing that is. */
export function predictorOf({
  machine,
  optics,
  power,
  powerScale,
  material,
  thickness,
  bowMm,
}: PredictorInput): PredictorOrReason {
  const refused = (notPredicted: string) => ({ predictor: null, notPredicted });
  const { lens, beam, problem } = optics;
  if (!machine) return refused('the machine is not known');
  if (!lens) return refused('the lens is not known');
  if (!beam) return refused(problem ?? 'the lens gives no beam');
  if (!power) return refused("the profile's power figures cannot be used");
  if (!material) return refused('the material is not known');
  if (!thickness) return refused('the thickness is not known');
  const never = whyNeverCut(machine, material);
  if (never !== null) return refused(never);
  if (powerScale !== null) {
    return refused(
      `the program seems to count full power as ${powerScale.scale}, and the machine's profile as ${machine.controller.power.full}`,
    );
  }
  const stock = stockOf(material, machine.source.kind);
  if (!stock) return refused(`no removal energy is known for ${material.name}`);
  const setup = {
    machine,
    lens,
    beam,
    material,
    stock,
    thicknessMm: thickness.mm,
    thicknessSpreadMm: thicknessSpreadMm(thickness),
    bowMm,
  };
  return { predictor: new CutPredictor(setup), notPredicted: null };
}
