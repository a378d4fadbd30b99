import type { Lens } from '../../job/model.ts';
import type { CutFact, PassFact, RemedyFact } from '../cuts/cut-fact.ts';
import { leastSure } from '../cuts/least-sure.ts';
import { lensOutlook } from '../cuts/lens-outlook.ts';
import { beamFact, beamOf, widestAcross } from '../cuts/optics.ts';
import type { CutPredictor } from '../cuts/prediction.ts';
import { powerSpreadOf, predictorUnder } from '../cuts/predictor-under.ts';
import type { JobFacts } from '../facts.ts';
import { wasteOf } from '../waste/waste.ts';
import type { CuredCut, CuredJob } from './cure-fact.ts';
import { curedPasses } from './cured-passes.ts';
import { curedTime } from './cured-time.ts';

/** Through cuts that are less sure than they are held to. */
export function cutsThatFallShort(cuts: readonly CutFact[]): CutFact[] {
  return cuts.filter(({ aim, prediction }) => aim === 'through' && prediction !== null && isShort(prediction));
}

const isShort = ({ throughProbability, limit }: NonNullable<CutFact['prediction']>): boolean =>
  throughProbability < limit;

/**
 * The job with its recipes changed so that each through cut is as sure as it is held to, in the order in which the remedies of its least
 * sure cut stand (cheapest first): under the job's lens, or all of it under another one. Each task takes the remedy of its least sure cut.
 * Whether a change passes all rules is not asked here. Other sheets are no change of the recipe: stacking yields nothing.
 */
export function* curedJobs(facts: JobFacts): Generator<CuredJob> {
  const lead = leastSure(facts.cuts);
  const { lens, machine } = facts;
  if (!lead || !lens || !machine) return;
  const worst = worstOfTasks(cutsThatFallShort(facts.cuts));
  if (worst.size === 0) return;
  for (const id of new Set(usable(lead).map((remedy) => remedy.lens))) {
    const under = id === null ? lens : machine.lenses.find((one) => one.id === id);
    const job = under && jobUnder(facts, under, worst);
    if (job) yield job;
  }
}

const usable = ({ remedies }: CutFact): RemedyFact[] =>
  remedies.filter(({ kind }) => kind !== 'none' && kind !== 'stack');

/** The least sure cut of each task that falls short. */
function worstOfTasks(short: readonly CutFact[]): Map<number, CutFact> {
  const worst = new Map<number, CutFact>();
  for (const cut of short) {
    const before = worst.get(cut.taskIndex);
    const surer = before && before.prediction!.throughProbability <= cut.prediction!.throughProbability;
    if (!surer) worst.set(cut.taskIndex, cut);
  }
  return worst;
}

function jobUnder(facts: JobFacts, lens: Lens, worst: ReadonlyMap<number, CutFact>): CuredJob | null {
  const predictor = predictorUnder(facts, lens);
  if (!predictor) return null;
  const otherLens = lens.id !== facts.lens!.id;
  const cuts: CutFact[] = [];
  const changed: CuredCut[] = [];
  for (const [index, cut] of facts.cuts.entries()) {
    const cured = curedCut(facts, cut, { predictor, otherLens, worst: worst.get(cut.taskIndex) });
    if (cured === null) return null;
    cuts.push(cured.cut);
    if (cured.cut !== cut) changed.push({ index, ...cured });
  }
  const time = curedTime(
    facts,
    changed.map(({ index, cut }) => [facts.cuts[index]!, cut] as const),
  );
  const throughProbability = leastSure(cuts)!.prediction!.throughProbability;
  const waste = wasteOf({
    sidecar: facts.input.sidecar,
    machine: facts.machine,
    time,
    box: facts.toolpath ? facts.toolpath.boundsMm : (facts.artwork?.boundsMm ?? null),
    worstThrough: throughProbability,
  });
  return {
    cure: { lens: lens.id, otherLens, cuts: changed, throughProbability, time, waste },
    facts: {
      ...facts,
      ...opticsUnder(facts, lens),
      cuts,
      ...speedsOf(facts, cuts),
      longerLens: lensOutlook(cuts, predictor),
      time,
      waste,
    },
  };
}

/** The beam of the lens that is fitted. */
function opticsUnder({ machine }: JobFacts, lens: Lens): Pick<JobFacts, 'lens' | 'lensAssumed' | 'beam'> {
  const { beam, problem } = beamOf(machine!, lens);
  return { lens, lensAssumed: false, beam: beamFact(machine, { lens, beam: beam && widestAcross(beam), problem }) };
}

/** Speeds as they would be programmed; the shares of length that never reach them stay. */
function speedsOf({ speeds }: JobFacts, cuts: readonly CutFact[]): Pick<JobFacts, 'speeds'> {
  return {
    speeds: speeds.map((speed, i) => {
      const passes = cuts[i]?.passes ?? [];
      const programmedMmPerS = Math.max(0, ...passes.map((pass) => pass.programmedMmPerS)) || speed.programmedMmPerS;
      return { ...speed, programmedMmPerS, reachedMmPerS: Math.min(speed.reachedMmPerS, programmedMmPerS) };
    }),
  };
}

interface UnderLens {
  predictor: CutPredictor;
  otherLens: boolean;
  /** The cut whose remedy its task takes; left out where none of the task falls short. */
  worst: CutFact | undefined;
}

/** A cut with the change; the same object where nothing changes for it; null where the change does not reach it, or it cannot be predicted. */
function curedCut(facts: JobFacts, cut: CutFact, under: UnderLens): Omit<CuredCut, 'index'> | null {
  const { predictor, otherLens, worst } = under;
  if (cut.prediction === null) return { remedy: null, cut };
  const short = cut.aim === 'through' && isShort(cut.prediction);
  if (!short || !worst) {
    return otherLens ? asPredicted(facts, predictor, cut, { passes: cut.passes, remedy: null }) : { remedy: null, cut };
  }
  const fitted = predictor.setup.lens.id;
  const remedy = usable(worst).find(({ lens }) => (otherLens ? lens === fitted : lens === null));
  if (!remedy) return null;
  return asPredicted(facts, predictor, cut, { passes: curedPasses(cut, remedy, worst), remedy });
}

function asPredicted(
  facts: JobFacts,
  predictor: CutPredictor,
  cut: CutFact,
  { passes, remedy }: { passes: readonly PassFact[]; remedy: RemedyFact | null },
): Omit<CuredCut, 'index'> | null {
  const wanted = cut.aim === 'through' ? 'through' : 'depth';
  const answer = predictor.predict(passes, powerSpreadOf(facts, passes), wanted);
  if ('problem' in answer) return null;
  const fastest = Math.max(0, ...passes.map((pass) => pass.programmedMmPerS));
  const slowestMmPerS = Math.min(cut.slowestMmPerS, fastest);
  const constant = passes.some(({ scaled }) => !scaled) && slowestMmPerS > 0;
  return {
    remedy,
    cut: {
      ...cut,
      passes,
      passCount: passes.length,
      prediction: answer.prediction,
      remedies: [],
      published: null,
      slowestMmPerS,
      cornerOverburn: constant ? Math.max(1, fastest / slowestMmPerS) : 1,
      throughWithFocusStep: null,
    },
  };
}
