import type { CitedCut } from '../job/evidence/cited-cuts.ts';
import type { Meant } from '../job/material/names/meant.ts';
import type { Machine, Material, Money, Thickness } from '../job/model.ts';
import type { Source } from '../source/source.ts';
import { type WorkBudget, workFor } from '../units/work.ts';
import { artworkGeometry } from './artwork/artwork-geometry.ts';
import { leftOutUnanswered } from './artwork/left-out.ts';
import { assumedOf } from './assumed/assumed.ts';
import { answerOf } from './assumed/narrowing.ts';
import { holdsPower } from './coupons/grounds.ts';
import { cutsOf, widestKerfMm } from './cuts/cuts.ts';
import { leastSure } from './cuts/least-sure.ts';
import { lensOutlook } from './cuts/lens-outlook.ts';
import { beamFact, type Optics, opticsOf } from './cuts/optics.ts';
import { type PowerFact, powerFact } from './cuts/power.ts';
import { thicknessSpreadMm } from './cuts/prediction.ts';
import { predictorOf } from './cuts/predictor-of-job.ts';
import { unclaimedOf } from './cuts/unclaimed.ts';
import type { JobFacts, Questioned } from './facts.ts';
import type { InputProblem, InputRemark, JobOrigin } from './input/job-origin.ts';
import type { LoadedReaders } from './input/loaded-readers.ts';
import { type ReadFiles, readFiles } from './input/read-files.ts';
import { missingOutlines } from './match/differences.ts';
import { type LaidOver, laidOver, outlineOfStrokes } from './match/laid-over.ts';
import { matchFact } from './match/match.ts';
import { placeNotFollowed, placeOnBed } from './match/on-bed.ts';
import { toolpathOnSheet } from './match/on-sheet.ts';
import { runUnpowered } from './match/run-unpowered.ts';
import { areaFacts } from './order/areas.ts';
import { orderFact } from './order/order.ts';
import { ofMissingScale, scaleDoubtOf, unlessOffScale } from './power-scale/power-scale.ts';
import { proposalsOf } from './recipes/proposals.ts';
import { taskFacts } from './tasks/task-fact.ts';
import { type Assignment, assignTasks, unassignedOutlines } from './tasks/tasks.ts';
import { jobTime } from './time/job-time.ts';
import { unansweredOf } from './unanswered/of-job.ts';
import type { Unanswered } from './unanswered/unanswered.ts';
import { budgetInForce, wasteOf } from './waste/waste.ts';

/** Everything the facts of one job are made from; machine and material are already resolved and trusted. */
export interface FactsInput {
  readonly job: JobOrigin;
  readonly machine: Machine | null;
  readonly material: Material | null;
  readonly materialUnknown: boolean;
  readonly materialName: string | null;
  /** What that name may mean where it is not known. */
  readonly materialMeant: Meant | null;
  /** Lens asked for; null: the machine's first. */
  readonly lens: string | null;
  readonly thickness: Thickness | null;
  readonly toolpath: Source | null;
  readonly artwork: Source | null;
  /** With those loaded that the job's files need. */
  readonly readers: LoadedReaders;
  /** Cuts that others published; read when they are asked for. */
  readonly citedCuts: () => readonly CitedCut[];
  readonly inputProblems: readonly InputProblem[];
  readonly remarks: readonly InputRemark[];
  /** What could not be resolved about machine and material. */
  readonly unanswered: readonly Unanswered[];
  readonly fromOptions: boolean;
  readonly budget: Money | null;
  readonly today: string;
  /** Keep what other settings can be tried with (`src/facts/what-if`). */
  readonly keepsMotion?: boolean;
  readonly onProgress?: (file: string, bytes: number, size: number) => void;
}

/** A job with its files read, and what in them belongs to which task: all that the facts are computed from. */
export interface ReadJob {
  readonly input: FactsInput;
  readonly optics: Optics;
  readonly power: PowerFact | null;
  readonly files: ReadFiles;
  /** How much may be searched for a job of its size. */
  readonly work: WorkBudget;
  /** The toolpath laid over the artwork; null where one of them is missing. */
  readonly laid: LaidOver | null;
  readonly assignment: Assignment;
}

/** Reads the files of a job. Never throws on input: what cannot be read becomes an input problem. */
export function readJob(input: FactsInput): ReadJob {
  const { job, machine } = input;
  const optics = opticsOf(machine, input.lens);
  const power = machine && powerFact(machine);
  // How fine the spot is decides which lines make a raster.
  const work = workFor((input.toolpath?.size ?? 0) + (input.artwork?.size ?? 0));
  const files = readFiles({ ...input, spotMm: optics.beam?.spotMm ?? null, work });
  const { toolpath, artwork } = files;
  const laid = toolpath && artwork && laidOver(toolpath, artwork, work);
  const assignment = assignTasks({
    job,
    sidecar: job.sidecar,
    toolpath,
    artwork,
    hexOf: files.colourOf,
    fullW: power?.fullW ?? 0,
    byGeometry: laid && toolpath ? outlineOfStrokes(laid, toolpath.strokes.count) : null,
  });
  return { input, optics, power, files, work, laid, assignment };
}

/** The facts of one job from its files. */
export function buildFacts(input: FactsInput): JobFacts {
  return factsOf(readJob(input));
}

/** The facts of a job that has been read: each subject is computed from those before it, and none is changed afterwards. */
export function factsOf({ input, optics, power, files, work, laid, assignment }: ReadJob): JobFacts {
  const { job, machine, material, thickness } = input;
  const { sidecar } = job;
  const { lens, beam } = optics;
  const spotMm = beam?.spotMm ?? null;
  const fullW = power?.fullW ?? 0;
  const { toolpath, artwork, colourOf, unreadable, highestUnscaled } = files;
  const missing = missingOutlines(job, artwork, laid, assignment);
  const unpowered = runUnpowered({ toolpath, artwork, laid, missing, work });
  const tasks = taskFacts({ assignment, toolpath, artwork, machine, unpowered });
  const onBed = placeOnBed(sidecar, toolpath, artwork);
  const scaleDoubt = scaleDoubtOf({ toolpath, machine, tasks });
  const known = predictorOf({ machine, optics, power, material, thickness, bowMm: sidecar?.bowMm ?? 0 });
  const predicting = unlessOffScale(known, scaleDoubt);
  const { citedCuts } = input;
  const found = cutsOf({
    job,
    machine,
    predicting,
    onBed,
    fullW,
    toolpath,
    artwork,
    assignment,
    tasks,
    citedCuts,
    work,
  });
  const { cuts, speeds } = found;
  // Where a machine has one lens there was nothing to choose.
  const lensAssumed = input.lens === null && lens !== null && (machine?.lenses.length ?? 0) > 1;
  const proposals = toolpath
    ? []
    : proposalsOf({ cuts, tasks, machine, predicting, lensAssumed, onBed, fullW, artwork, citedCuts });
  const calibratedHere = holdsPower(machine, lens, material);
  const kerfMm = widestKerfMm(cuts) ?? spotMm;
  const match = matchFact({ job, sidecar, toolpath, artwork, laid, assignment, missing, cuts });
  const time = machine && jobTime(machine, toolpath, artwork, tasks);
  const thicknessMm = thickness?.mm ?? null;
  const facts: Questioned = {
    input: job,
    machine,
    lens,
    lensAssumed,
    material,
    materialUnknown: input.materialUnknown,
    materialName: input.materialName,
    materialMeant: input.materialMeant,
    thicknessMm,
    thicknessSpreadMm: thickness ? thicknessSpreadMm(thickness) : 0,
    toolpath,
    artwork,
    tasks,
    tasksEndedEarly: assignment.endedEarly,
    unassignedOutlines: unassignedOutlines(assignment),
    cuts,
    cutsEndedEarly: found.endedEarly,
    unclaimed: unclaimedOf(cuts, assignment.orphans),
    proposals,
    power,
    beam: beamFact(machine, optics),
    longerLens: lensOutlook(cuts, predicting.predictor),
    scaleDoubt,
    assumed: assumedOf({
      machine,
      lens,
      power,
      calibratedHere,
      hasToolpath: toolpath !== null,
      answer: answerOf(predicting.predictor, cuts, proposals),
    }),
    calibratedHere,
    time,
    waste: wasteOf({
      sidecar,
      machine,
      time,
      box: toolpath ? toolpath.boundsMm : (artwork?.boundsMm ?? null),
      worstThrough: leastSure(cuts)?.prediction?.throughProbability ?? null,
    }),
    areas: areaFacts({ job, toolpath, assignment, machine, fullW, spotMm }),
    order: orderFact({ job, toolpath, assignment, fullW }),
    geometry: artworkGeometry({ job, artwork, tasks, kerfMm, thicknessMm, sidecar, toolpath, match, work }),
    match,
    speeds,
    onBed: onBed.box,
    onBedUnknown: onBed.unknown,
    onSheet: toolpathOnSheet(sidecar, toolpath, onBed.unfollowed),
    inputProblems: [...input.inputProblems, ...unreadable],
    remarks: input.remarks,
    fromOptions: input.fromOptions,
    budget: budgetInForce(sidecar?.budget ?? null, input.budget),
    today: input.today,
  };
  return {
    ...facts,
    unanswered: unansweredOf(facts, [
      ...input.unanswered,
      ...ofMissingScale(machine, input.toolpath !== null, highestUnscaled),
      ...placeNotFollowed(onBed),
      ...leftOutUnanswered({ job, artwork, toolpath, hexOf: colourOf }),
    ]),
  };
}
