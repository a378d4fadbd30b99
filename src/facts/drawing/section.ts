import type { Lens } from '../../job/model.ts';
import { depthOfFocusMm, diameterAtMm } from '../../physics/beam/focused-beam.ts';
import { roundTo } from '../../units/format.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { leastSure } from '../cuts/least-sure.ts';
import { powerSpreadOf, predictorUnder } from '../cuts/predictor-under.ts';
import type { JobFacts } from '../facts.ts';
import { actionText } from './action-text.ts';
import type { SectionLens, SectionModel } from './drawing-model.ts';

/** Points of the beam's envelope: enough for a smooth curve. */
const POINTS = 41;
/** The beam is drawn from this share of the sheet above the face to as much below its underside. */
const MARGIN = 0.3;

/** The least sure cut under the fitted lens and, with the same recipe, under each other lens of the machine. */
export function sectionModel(facts: JobFacts): SectionModel | null {
  const cut = leastSure(facts.cuts);
  if (!cut) return null;
  const others = facts.machine?.lenses.filter((one) => one.id !== facts.lens?.id) ?? [];
  return sectionOf(facts, facts.cuts.indexOf(cut), others);
}

/** The section through one cut under the fitted lens, then under these others with the same recipe. */
export function sectionOf(facts: JobFacts, index: number, others: readonly Lens[]): SectionModel | null {
  const cut = facts.cuts[index];
  const { lens, material, thicknessMm } = facts;
  if (!cut || !lens || !material || thicknessMm === null) return null;
  const lenses = [lens, ...others].flatMap((one) => sectionLens(facts, cut, one, one.id === lens.id) ?? []);
  const action = actionText(cut);
  return { cut: index, task: cut.task, material: material.name, thicknessMm, action, lenses };
}

function sectionLens(facts: JobFacts, cut: CutFact, lens: Lens, fitted: boolean): SectionLens | null {
  const predictor = predictorUnder(facts, lens);
  const answer = predictor?.predict(cut.passes, powerSpreadOf(facts, cut.passes), 'depth');
  if (!predictor || !answer || 'problem' in answer) return null;
  const { beam, thicknessMm } = predictor.setup;
  const { prediction } = answer;
  const focusMm = cut.passes[0]!.focusMm;
  const margin = thicknessMm * MARGIN;
  const step = (thicknessMm + 2 * margin) / (POINTS - 1);
  return {
    id: lens.id,
    fitted,
    focalMm: roundTo(lens.focalMm, 1),
    atLensMm: roundTo(diameterAtMm(beam, lens.focalMm), 2),
    spotMm: roundTo(beam.spotMm, 3),
    depthOfFocusMm: roundTo(depthOfFocusMm(beam, 'sqrt2'), 2),
    standoffMm: lens.standoffMm,
    focusMm: cut.passes.map((pass) => pass.focusMm),
    beam: Array.from({ length: POINTS }, (_, i) => {
      const zMm = margin - i * step;
      return { zMm: roundTo(zMm, 3), diameterMm: roundTo(diameterAtMm(beam, zMm - focusMm), 4) };
    }),
    depthAfterPassMm: prediction.depthAfterPassMm,
    depthMm: prediction.depthMm,
    depthLowMm: prediction.depthLowMm,
    depthHighMm: prediction.depthHighMm,
    probability: prediction.throughProbability,
    limit: prediction.limit,
    kerfTopMm: prediction.kerfTopMm,
    kerfBottomMm: prediction.kerfBottomMm,
  };
}
