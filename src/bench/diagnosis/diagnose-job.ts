import { done, type Outcome, refused } from '../../facts/bench/set-up.ts';
import { buildFacts } from '../../facts/build.ts';
import { type Grounds, groundsOf } from '../../facts/coupons/grounds.ts';
import type { CutFact } from '../../facts/cuts/cut-fact.ts';
import { limitOf } from '../../facts/cuts/limits.ts';
import { beamOf, widestAcross } from '../../facts/cuts/optics.ts';
import { wattsAt } from '../../facts/cuts/power.ts';
import { CutPredictor } from '../../facts/cuts/prediction.ts';
import type { JobFacts } from '../../facts/facts.ts';
import type { LoadedReaders } from '../../facts/input/loaded-readers.ts';
import { type BareOptions, resolveJob } from '../../facts/input/resolve.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import type { Library } from '../../job/files/library.ts';
import type { Lens, Machine, Material, SourceKind } from '../../job/model.ts';
import { type Cause, rankCauses } from '../../physics/diagnosis/causes.ts';
import type { Observation } from '../../physics/diagnosis/observation.ts';
import { type Rescue, rescue } from '../../physics/diagnosis/rescue.ts';
import type { CutInput } from '../../physics/doubt/predict.ts';
import { formatMm, roundTo } from '../../units/format.ts';
import { failedCut, materialsAlike } from './failed-cut.ts';

export type { Observation };
export const WHERE = ['everywhere', 'far-corner', 'patches'] as const;
export const SINCE = ['always', 'gradually', 'suddenly', 'this-sheet'] as const;
export const EDGE = ['clean', 'charred', 'wide'] as const;

export interface DiagnoseRequest {
  job: FoundJob;
  /** With those loaded that the job's files need. */
  readers: LoadedReaders;
  library: Library;
  options: BareOptions;
  today: string;
  /** The task that failed; null: the through cut that was likeliest to. */
  task: string | null;
  seen: Observation;
}

/** Why a job did not go through, and whether its sheet can be rescued. */
export interface Diagnosis {
  job: string;
  task: string;
  thicknessMm: number;
  material: string;
  machine: string;
  lens: string;
  /** Watts at full setting by the profile. */
  fullW: number;
  sourceKind: SourceKind;
  /** The lens that should be in: focal length, waist, and what it is made of as the profile says. */
  focalMm: number;
  spotMm: number;
  lensMaterial: string;
  /** What the material is taken to ask for, and its density by its entry. */
  removalJPerMm3: number;
  densityGPerCm3: number;
  /** Names of the materials that a cause gives the id of. */
  materialNames: Record<string, string>;
  /** Names of materials whose sheets look like this one's and that are never cut. */
  neverCutAlike: string[];
  passes: { powerW: number; speedMmPerS: number; focusMm: number }[];
  depthMm: number;
  depthLowMm: number;
  depthHighMm: number;
  throughProbability: number;
  seen: Observation;
  /** Those that fit first, cheap and likely before others; then those that do not explain it alone. */
  causes: Cause[];
  /** Null when no depth was told, or when no few passes would do. */
  rescue: Rescue | null;
}

/** More passes than this char the sheet more than they cut it (common practice, no source). */
const MOST_EXTRA_PASSES = 5;

/** Ranks what may explain a cut that did not go through. */
export function diagnoseJob(request: DiagnoseRequest): Outcome<Diagnosis> {
  const { job, readers, library, options, today, seen } = request;
  const facts = buildFacts({ ...resolveJob(job, library, options), budget: null, today, readers });
  const chosen = chooseCut(facts, request.task);
  if (chosen.value === null) return chosen;
  const cut = chosen.value;
  const { machine, lens, material } = facts;
  const input = cutInputOf(facts, cut);
  if (machine === null || lens === null || material === null || cut.prediction === null || input === null) {
    return refused(cut.notPredicted ?? 'the cut cannot be predicted');
  }
  if (seen.depthMm !== null && seen.depthMm >= input.thicknessMm) {
    return refused(
      `a depth of ${formatMm(seen.depthMm)} is no less than the ${formatMm(input.thicknessMm)} of the sheet: then it parted, or the sheet is thicker than declared: measure it`,
    );
  }
  const alike = materialsAlike(material, input.thicknessMm, library);
  const result = rankCauses(failedCut({ cut: input, machine, lens, material, alike }), seen);
  if (result.causes === null) return refused(result.problem);
  const spoken = new Set(result.causes.flatMap(({ explanations }) => explanations.map(({ choice }) => choice)));
  return done({
    job: job.name,
    task: cut.task,
    thicknessMm: input.thicknessMm,
    material: material.name,
    machine: machine.id,
    lens: lens.id,
    fullW: facts.power?.fullW ?? 0,
    ...supposed(input, machine, lens, material),
    materialNames: Object.fromEntries(alike.filter(({ id }) => spoken.has(id)).map(({ id, name }) => [id, name])),
    neverCutAlike: alike.filter(({ hazard }) => hazard.class === 'never').map(({ name }) => name),
    passes: cut.passes.map(({ powerW, speedMmPerS, focusMm }) => ({ powerW, speedMmPerS, focusMm })),
    depthMm: cut.prediction.depthMm,
    depthLowMm: cut.prediction.depthLowMm,
    depthHighMm: cut.prediction.depthHighMm,
    throughProbability: cut.prediction.throughProbability,
    seen,
    causes: result.causes,
    rescue: seen.depthMm === null ? null : rescueAsSet(input, seen.depthMm, groundsOf(machine, lens, material)!),
  });
}

/** What the prediction took for granted and a cause puts in doubt. */
function supposed({ beam, stock }: CutInput, machine: Machine, lens: Lens, material: Material) {
  return {
    sourceKind: machine.source.kind,
    focalMm: lens.focalMm,
    spotMm: beam.spotMm,
    lensMaterial: lens.material,
    removalJPerMm3: stock.removalJPerMm3,
    densityGPerCm3: material.densityGPerCm3,
  };
}

/** The rescue with the focus as a person sets it: the offset that a ramp found is in the prediction, not on the gauge. */
function rescueAsSet(cut: CutInput, depthMm: number, grounds: Grounds): Rescue | null {
  const found = rescue(cut, depthMm, limitOf(grounds), MOST_EXTRA_PASSES);
  if (found === null) return null;
  const { offsetMm } = grounds.focus;
  const extraPasses = found.extraPasses.map((pass) => ({ ...pass, focusMm: roundTo(pass.focusMm - offsetMm, 2) }));
  return { ...found, extraPasses };
}

function chooseCut(facts: JobFacts, task: string | null): Outcome<CutFact> {
  const through = facts.cuts.filter((cut) => cut.aim === 'through' && (task === null || cut.task === task));
  const [first] = through;
  if (first === undefined) {
    const problem = facts.inputProblems[0]?.problem.args['text'];
    if (typeof problem === 'string') return refused(problem);
    const names = [...new Set(facts.cuts.filter((cut) => cut.aim === 'through').map((cut) => `"${cut.task}"`))];
    if (task === null || names.length === 0) return refused('the job has no cut that must go through');
    return refused(`no task "${task}" must go through: there are ${names.join(', ')}`);
  }
  const chance = (cut: CutFact) => cut.prediction?.throughProbability ?? 2;
  return done(through.reduce((worst, cut) => (chance(cut) < chance(worst) ? cut : worst), first));
}

/** The cut as it was predicted in the check. */
function cutInputOf(facts: JobFacts, cut: CutFact): CutInput | null {
  const { machine, lens, material, thicknessMm } = facts;
  if (!machine || !lens || !material || thicknessMm === null) return null;
  const { beam } = beamOf(machine, lens);
  const grounds = groundsOf(machine, lens, material);
  const spread = wattsAt(machine, Math.max(0, ...cut.passes.map((pass) => pass.setting)), null)?.spread;
  if (beam === null || grounds === null || spread === undefined) return null;
  const bowMm = facts.input.sidecar?.bowMm ?? 0;
  const { thicknessSpreadMm } = facts;
  const setup = { machine, lens, beam: widestAcross(beam), material, grounds, thicknessMm, thicknessSpreadMm, bowMm };
  return new CutPredictor(setup).inputFor(cut.passes, spread);
}
