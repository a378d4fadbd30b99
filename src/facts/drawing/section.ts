import type { Lens } from '../../job/model.ts';
import { depthOfFocusMm, diameterAtMm } from '../../physics/beam/focused-beam.ts';
import { roundTo } from '../../units/format.ts';
import { groundsOf } from '../coupons/grounds.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { leastSure } from '../cuts/least-sure.ts';
import { beamOf, widestAcross } from '../cuts/optics.ts';
import { wattsAt } from '../cuts/power.ts';
import { CutPredictor } from '../cuts/prediction.ts';
import type { JobFacts } from '../facts.ts';
import type { SectionLens, SectionModel } from './drawing-model.ts';

/** Points of the beam's envelope: enough for a smooth curve. */
const POINTS = 41;
/** The beam is drawn from this share of the sheet above the face to as much below its underside. */
const MARGIN = 0.5;

/** The least sure cut under the fitted lens and, with the same recipe, under each other lens of the machine. */
export function sectionModel(facts: JobFacts): SectionModel | null {
  const cut = leastSure(facts.cuts);
  const { machine, lens, material, thicknessMm } = facts;
  if (!cut || !machine || !lens || !material || thicknessMm === null) return null;
  const others = machine.lenses.filter((one) => one.id !== lens.id);
  const lenses = [lens, ...others].flatMap((one) => sectionLens(facts, cut, one, one.id === lens.id) ?? []);
  return { cut: facts.cuts.indexOf(cut), task: cut.task, material: material.name, thicknessMm, lenses };
}

function sectionLens(facts: JobFacts, cut: CutFact, lens: Lens, fitted: boolean): SectionLens | null {
  const { material, thicknessMm } = facts;
  const machine = facts.machine!;
  const { beam: round } = beamOf(machine, lens);
  const grounds = groundsOf(machine, lens, material!);
  if (!round || !grounds) return null;
  const beam = widestAcross(round);
  const predictor = new CutPredictor({
    machine,
    lens,
    beam,
    material: material!,
    grounds,
    thicknessMm: thicknessMm!,
    thicknessSpreadMm: facts.thicknessSpreadMm,
    bowMm: facts.input.sidecar?.bowMm ?? 0,
  });
  const spread = Math.max(0, ...cut.passes.map((pass) => wattsAt(machine, pass.setting, null)?.spread ?? 0));
  const answer = predictor.predict(cut.passes, spread, 'depth');
  if ('problem' in answer) return null;
  const { prediction } = answer;
  const focusMm = cut.passes[0]!.focusMm;
  const margin = thicknessMm! * MARGIN;
  const step = (thicknessMm! + 2 * margin) / (POINTS - 1);
  return {
    id: lens.id,
    fitted,
    focalMm: roundTo(lens.focalMm, 1),
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
    kerfTopMm: prediction.kerfTopMm,
    kerfBottomMm: prediction.kerfBottomMm,
  };
}
