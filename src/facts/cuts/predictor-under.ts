import type { Lens } from '../../job/model.ts';
import { groundsOf } from '../coupons/grounds.ts';
import type { JobFacts } from '../facts.ts';
import type { PassFact } from './cut-fact.ts';
import { beamOf, widestAcross } from './optics.ts';
import { wattsAt } from './power.ts';
import { CutPredictor } from './prediction.ts';

/** What a job's facts say of its sheet and machine, as far as cuts are predicted from it. */
export type SheetOfJob = Pick<JobFacts, 'machine' | 'material' | 'thicknessMm' | 'thicknessSpreadMm' | 'input'>;

/** Predicts cuts of the job's sheet under one of its machine's lenses; null where something is not known. */
export function predictorUnder(facts: SheetOfJob, lens: Lens): CutPredictor | null {
  const { machine, material, thicknessMm, thicknessSpreadMm } = facts;
  if (!machine || !material || thicknessMm === null) return null;
  const { beam } = beamOf(machine, lens);
  const grounds = groundsOf(machine, lens, material);
  if (!beam || !grounds) return null;
  return new CutPredictor({
    machine,
    lens,
    beam: widestAcross(beam),
    material,
    grounds,
    thicknessMm,
    thicknessSpreadMm,
    bowMm: facts.input.sidecar?.bowMm ?? 0,
  });
}

/** 1σ of the power of these passes, as a fraction: that of the least steady one. */
export function powerSpreadOf({ machine }: Pick<JobFacts, 'machine'>, passes: readonly PassFact[]): number {
  return Math.max(0, ...passes.map((pass) => (machine && wattsAt(machine, pass.setting, null)?.spread) || 0));
}
