import { everything } from '../../units/found.ts';
import { type FactsInput, factsOf, type ReadJob } from '../build.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { predictedCuts } from '../cuts/cuts.ts';
import { stepsFocus } from '../cuts/focus-step.ts';
import { isFromToolpath } from '../cuts/from-toolpath.ts';
import { leastSure } from '../cuts/least-sure.ts';
import { opticsOf } from '../cuts/optics.ts';
import { type StretchList, stretchesOf } from '../cuts/passes.ts';
import { thicknessSpreadMm } from '../cuts/prediction.ts';
import { type PredictorOrReason, predictorOf } from '../cuts/predictor-of-job.ts';
import { followsZ } from '../cuts/toolpath-cuts.ts';
import type { SectionModel } from '../drawing/drawing-model.ts';
import { sectionModel } from '../drawing/section.ts';
import type { JobFacts } from '../facts.ts';
import { toolpathOptionsOf } from '../input/reader-options.ts';
import { laidOver } from '../match/laid-over.ts';
import { type OnBed, placeOnBed } from '../match/on-bed.ts';
import { scaleDoubtOf, unlessOffScale } from '../power-scale/power-scale.ts';
import { taskFacts } from '../tasks/task-fact.ts';
import type { Assignment } from '../tasks/tasks.ts';
import { jobTime, type TimeFact } from '../time/job-time.ts';
import { type WasteFact, wasteOf } from '../waste/waste.ts';
import type { Change, CutChange } from './change.ts';
import { passOfStrokes } from './pass-order.ts';
import { turnedTasks } from './turned-tasks.ts';
import { type TurnedToolpath, turnedToolpath } from './turned-toolpath.ts';

/** What is known at once of a job with other settings: the numbers, without remedies and without what other rules ask. */
export interface QuickFacts {
  readonly cuts: readonly CutFact[];
  /** Of each planned cut its index among `cuts`: cuts whose settings become equal are one. −1 where none is left. */
  readonly cutOf: readonly number[];
  readonly time: TimeFact | null;
  readonly waste: WasteFact | null;
  readonly lens: string | null;
  readonly thicknessMm: number | null;
}

/** A read job with what was turned put in. */
interface Turned {
  readonly read: ReadJob;
  readonly stretches: StretchList | null;
  readonly rerun: TurnedToolpath['rerun'];
}

/**
 * Tries other settings on a job that has been read. Nothing is read or compared anew: stretches are found once, motion is planned from what
 * the reader kept of it, and each recipe is predicted once. What a raster burns at the ends of its lines stays as the planned lens has it.
 */
export class WhatIf {
  readonly #read: ReadJob;
  readonly #facts: JobFacts;
  readonly #onBed: OnBed;
  readonly #stretches: StretchList | null;
  readonly #passOf: Uint8Array;
  /** The last set-up that was predicted for, with what it is known by. */
  #predicting: { key: string; predicting: PredictorOrReason } | null = null;

  constructor(read: ReadJob, facts: JobFacts) {
    const { toolpath, artwork } = read.files;
    this.#read = read;
    this.#facts = facts;
    this.#onBed = placeOnBed(read.input.job.sidecar, toolpath, artwork);
    this.#stretches = toolpath && stretchesOf(toolpath.strokes, read.work.passes);
    this.#passOf = toolpath ? passOfStrokes(toolpath.strokes, this.#stretches!) : new Uint8Array(0);
  }

  /** Whether speeds and passes can be tried, for which a toolpath must have kept its motion; and whether the focus moves while it runs. */
  get motion(): { turns: boolean; focusMoves: boolean } {
    const { toolpath } = this.#read.files;
    const { machine } = this.#read.input;
    const moves = machine !== null && stepsFocus(machine);
    if (!toolpath || !machine) return { turns: true, focusMoves: moves };
    const turns = toolpath.journal !== undefined && toolpath.journal.dropped === 0;
    return { turns, focusMoves: moves && followsZ(machine, toolpath) };
  }

  /** Cuts, time and waste of the job with what was turned: what `kerflint check` would give were it in its files. */
  quick(change: Change): QuickFacts {
    const { read, stretches, rerun } = this.#turned(change);
    const { input, files, assignment, optics, power, work } = read;
    const { machine, job } = input;
    const { toolpath, artwork } = files;
    const tasks = taskFacts({ assignment, toolpath, artwork, machine, unpowered: everything([]) });
    const predicting = unlessOffScale(this.#predictorFor(read), scaleDoubtOf({ toolpath, machine, tasks }));
    const fullW = power?.fullW ?? 0;
    const found = predictedCuts(
      { job, machine, predicting, onBed: this.#onBed, fullW, toolpath, artwork, assignment, tasks, work },
      stretches ?? undefined,
    );
    const cuts = found.items.map(({ cut }) => cut);
    const time = machine && jobTime(machine, toolpath, artwork, tasks);
    return {
      cuts,
      cutOf: this.#facts.cuts.map((_, index) => this.#cutThatCameOf(index, cuts, rerun)),
      time,
      waste: wasteOf({
        sidecar: job.sidecar,
        machine,
        time,
        box: toolpath ? toolpath.boundsMm : (artwork?.boundsMm ?? null),
        worstThrough: leastSure(cuts)?.prediction?.throughProbability ?? null,
      }),
      lens: optics.lens?.id ?? null,
      thicknessMm: input.thickness?.mm ?? null,
    };
  }

  /** The section under the lens that was turned to, of one of the cuts that `quick` gave; null where it is not predicted, or need not part the sheet. */
  section(change: Change, cut: CutFact | undefined): SectionModel | null {
    const { material, lens, machine, thicknessMm } = this.#sheet(change);
    if (!cut?.prediction || !machine || !lens || thicknessMm === null) return null;
    const alone = { ...machine, lenses: [lens] };
    const { thickness } = this.#inputFor(change);
    const spreadMm = thickness ? thicknessSpreadMm(thickness) : 0;
    return sectionModel({
      ...this.#facts,
      cuts: [cut],
      machine: alone,
      lens,
      material,
      thicknessMm,
      thicknessSpreadMm: spreadMm,
    });
  }

  /** All facts of the job with what was turned: for the rules, once nobody turns any more. */
  whole(change: Change): JobFacts {
    const { read, rerun } = this.#turned(change);
    const { toolpath, artwork } = read.files;
    const laid = rerun && toolpath && artwork ? laidOver(toolpath, artwork, read.work) : read.laid;
    return factsOf({ ...read, laid });
  }

  #sheet(change: Change) {
    const input = this.#inputFor(change);
    const { machine, material, thickness } = input;
    return { machine, material, lens: opticsOf(machine, input.lens).lens, thicknessMm: thickness?.mm ?? null };
  }

  #inputFor({ lens, material, thicknessMm }: Change): FactsInput {
    const { input } = this.#read;
    const { thickness } = input;
    return {
      ...input,
      ...(lens !== undefined ? { lens } : {}),
      ...(material ? { material, materialName: material.id, materialUnknown: false, materialMeant: null } : {}),
      ...(thicknessMm !== undefined
        ? { thickness: { plusMinusMm: null, nominal: false, ...thickness, mm: thicknessMm } }
        : {}),
    };
  }

  #turned(change: Change): Turned {
    const read = this.#read;
    const input = this.#inputFor(change);
    const { machine } = input;
    const { toolpath } = read.files;
    const fromToolpath = (cut: CutFact) => isFromToolpath(this.#facts, cut);
    const cuts = change.cuts.filter(({ cut }) => this.#facts.cuts[cut] !== undefined);
    const tasks = turnedTasks(read.assignment, this.#facts.cuts, cuts, fromToolpath);
    const turned =
      toolpath && machine ? this.#turnedToolpath(cuts.filter(({ cut }) => fromToolpath(this.#facts.cuts[cut]!))) : null;
    const optics = input.lens === read.input.lens ? read.optics : opticsOf(machine, input.lens);
    const assignment = turned?.rerun
      ? { ...read.assignment, tasks, ofStroke: remapped(read.assignment, turned.rerun, turned.toolpath.strokes.count) }
      : { ...read.assignment, tasks };
    const files = turned ? { ...read.files, toolpath: turned.toolpath } : read.files;
    return {
      read: { ...read, input, optics, files, assignment },
      stretches: turned?.stretches ?? this.#stretches,
      rerun: turned?.rerun ?? null,
    };
  }

  #turnedToolpath(changes: readonly CutChange[]): TurnedToolpath {
    const toolpath = this.#read.files.toolpath!;
    const machine = this.#read.input.machine!;
    const limits = toolpathOptionsOf(machine, machine.controller.power!, this.#read.optics.beam?.spotMm ?? null);
    const input = { toolpath, stretches: this.#stretches!, passOf: this.#passOf, machine, limits };
    return turnedToolpath({ ...input, planned: this.#facts.cuts }, changes);
  }

  /**
   * Where the cuts are as many as before they are the same, in their order. Else those that are planned alone are as many as before and stand
   * last; of the others it is the longest of the task that has the first stroke, which is run whatever is turned.
   */
  #cutThatCameOf(index: number, after: readonly CutFact[], made: TurnedToolpath['rerun']): number {
    const { cuts } = this.#facts;
    const cut = cuts[index]!;
    if (cuts.length === after.length) return index;
    if (!isFromToolpath(this.#facts, cut)) return after.length - cuts.length + index;
    const first = cut.strokes[0]!;
    const wanted = made ? made.firstOf[first]! : first;
    let best = -1;
    after.forEach((one, at) => {
      if (one.taskIndex !== cut.taskIndex || !one.strokes.includes(wanted)) return;
      if (best < 0 || one.lengthMm > after[best]!.lengthMm) best = at;
    });
    return best;
  }

  #predictorFor({ input, optics, power }: ReadJob): PredictorOrReason {
    const { machine, material, thickness, job } = input;
    const key = JSON.stringify([material?.id, optics.lens?.id, thickness]);
    if (this.#predicting?.key !== key) {
      const bowMm = job.sidecar?.bowMm ?? 0;
      this.#predicting = { key, predicting: predictorOf({ machine, optics, power, material, thickness, bowMm }) };
    }
    return this.#predicting.predicting;
  }
}

function remapped(
  { ofStroke }: Assignment,
  { firstOf, times, apart }: NonNullable<TurnedToolpath['rerun']>,
  count: number,
): Int32Array {
  const after = new Int32Array(count);
  for (let i = 0; i < ofStroke.length; i++) {
    for (let again = 0; again < times[i]!; again++) after[firstOf[i]! + again * apart[i]!] = ofStroke[i]!;
  }
  return after;
}
