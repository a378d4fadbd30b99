import type { ReadJob } from './facts/build.ts';
import type { CuredJob } from './facts/cure/cure-fact.ts';
import type { CutFact, PassFact } from './facts/cuts/cut-fact.ts';
import { whyNeverCut } from './facts/cuts/predictor-of-job.ts';
import type { SectionModel } from './facts/drawing/drawing-model.ts';
import type { JobFacts } from './facts/facts.ts';
import { cutView, timeView, wasteView } from './facts/result-view.ts';
import { expectedWaste } from './facts/waste/waste.ts';
import type { Change } from './facts/what-if/change.ts';
import { type CutKnobs, type Knob, knobsOf, thicknessKnob } from './facts/what-if/knobs.ts';
import { type Proposed, proposedCure, proposedFor, surestFor } from './facts/what-if/proposed.ts';
import { WhatIf } from './facts/what-if/what-if.ts';
import type { CutResult, JobResult } from './findings/result.ts';
import type { FoundJob } from './job/files/job-opener.ts';
import type { Library } from './job/files/library.ts';
import type { HazardClass, Material, SourceVerdict } from './job/model.ts';
import { roundTo } from './units/format.ts';

export type { CutChange } from './facts/what-if/change.ts';
export type { CutKnobs, Knob } from './facts/what-if/knobs.ts';

/** What is turned, as it can be sent from one thread to another: the material by its id. */
export interface TrialChange extends Omit<Change, 'material'> {
  readonly material?: string;
}

/** A change with the words for it. */
export interface TrialProposal {
  readonly text: string;
  readonly change: TrialChange;
}

/** One recipe of the plan, to choose which is turned: all cuts with the same aim and settings. */
export interface TrialRecipe {
  /** Names of the tasks that have it. */
  readonly tasks: readonly string[];
  readonly aim: string;
  /** Its cuts, by their index in the plan, and the one of them that is least sure. */
  readonly cuts: readonly number[];
  readonly leastSure: number;
  readonly lengthMm: number;
  /** Where the least sure cut begins, and how likely it parts; null where that is not predicted. */
  readonly line: number;
  readonly throughProbability: number | null;
  /** As programmed or planned; null where no settings are. */
  readonly settings: TrialSettings | null;
  /**
   * What is proposed. Where cuts of the job fall short, the one change for all of them with which the rules find no error; else the changes that the
   * check proposes for the least sure cut, cheapest first, put in for all cuts of the recipe.
   */
  readonly proposals: readonly TrialProposal[];
  /** Where nothing is planned: the likeliest recipe, to begin with. */
  readonly begin: TrialProposal | null;
}

/** The settings of a cut, of its first pass where passes differ. */
export interface TrialSettings {
  readonly setting: number;
  readonly speedMmPerS: number;
  readonly passes: number;
  readonly focusMm: number;
  readonly focusStepMm: number;
  /** Passes are run with different power or speed: turning one makes them equal. */
  readonly unequal: boolean;
}

/** A material to choose. */
export interface TrialMaterial {
  readonly id: string;
  readonly name: string;
  readonly hazard: HazardClass;
  /** What this machine's kind of source does to it. */
  readonly verdict: SourceVerdict;
}

/** What can be tried on a job. Plain data. */
export interface TrialPlan {
  readonly job: string;
  readonly verdict: string;
  readonly recipes: readonly TrialRecipe[];
  readonly lenses: readonly { readonly id: string; readonly focalMm: number }[];
  readonly lens: string | null;
  readonly material: string | null;
  readonly materials: readonly TrialMaterial[];
  readonly thicknessMm: number | null;
  /** Speeds and passes cannot be tried: the program is too long to plan its motion anew. */
  readonly motionStays: boolean;
  /** Why nothing is proposed although cuts fall short, as the rest of a sentence; null where that is not so. */
  readonly nothingProposed: string | null;
  /** Why nothing can be tried; null when it can. */
  readonly nothingToTry: string | null;
}

/** What is known at once of a turned job. Plain data, rounded as in the result. */
export interface TrialAnswer {
  /** The cut that is looked at, as the result has it; null where none came of it. */
  readonly cut: CutResult | null;
  readonly notPredicted: string | null;
  /** The probability that the cut is held to. */
  readonly limit: number | null;
  /** Of all cuts that must part the sheet. */
  readonly leastProbability: number | null;
  readonly time: JobResult['time'];
  readonly waste: JobResult['waste'];
  readonly section: SectionModel | null;
  readonly lens: string | null;
  readonly materialName: string | null;
  readonly hazard: { readonly class: HazardClass; readonly reason: string } | null;
  readonly thicknessMm: number | null;
  readonly thickness: Knob | null;
  /** Null for a material that must not or cannot be cut, and `never` says why. */
  readonly knobs: CutKnobs | null;
  readonly never: string | null;
}

/** What the rules make of a turned job. */
export type TrialJudgement = Pick<JobResult, 'verdict' | 'headline' | 'waste'>;

/** What a trial is made of. */
interface TrialInput {
  readonly job: FoundJob;
  readonly read: ReadJob;
  readonly facts: JobFacts;
  readonly result: JobResult;
  /** The change that brings its cuts through and with which the rules find no error; null where there is none. */
  readonly cured: CuredJob | null;
  /** An error stands that no chance counts: what is at stake is expected to be lost until the whole is judged again. */
  readonly allLost: boolean;
  readonly library: Library;
  readonly judge: (facts: JobFacts) => JobResult;
}

/** Tries other settings on a job that has been judged. Nothing that it does changes the job, and nothing is read again. */
export class Trial {
  readonly #input: TrialInput;
  #whatIf: WhatIf | null = null;

  constructor(input: TrialInput) {
    this.#input = input;
  }

  /** What can be turned, and what is proposed. */
  get plan(): TrialPlan {
    const { facts, result, library, job } = this.#input;
    const kind = facts.machine?.source.kind;
    const { materials } = library.ids();
    return {
      job: result.name,
      verdict: result.verdict,
      recipes: this.#recipes(),
      lenses: (facts.machine?.lenses ?? []).map(({ id, focalMm }) => ({ id, focalMm })),
      lens: facts.lens?.id ?? null,
      material: facts.material?.id ?? null,
      materials: materials.flatMap((id): TrialMaterial[] => {
        const { value } = library.material(id, job.beside);
        return value && kind
          ? [{ id, name: value.name, hazard: value.hazard.class, verdict: value.sources[kind] }]
          : [];
      }),
      thicknessMm: facts.thicknessMm,
      motionStays: !this.#tried.motion.turns,
      nothingProposed: result.noCure ?? null,
      nothingToTry: this.#nothingToTry(),
    };
  }

  /** What comes of a change at once. @param shown the planned cut that is looked at */
  answer(change: TrialChange, shown: number): TrialAnswer {
    const asked = this.#changeOf(change);
    const quick = this.#tried.quick(asked);
    const { facts, allLost } = this.#input;
    const cut = quick.cuts[quick.cutOf[shown] ?? -1];
    const through = quick.cuts.filter(({ aim, prediction }) => aim === 'through' && prediction);
    const material = asked.material ?? facts.material;
    const { machine } = facts;
    const { thicknessMm } = quick;
    const never = machine && material ? whyNeverCut(machine, material) : null;
    return {
      cut: cut ? { ...cutView(cut), remedies: [] } : null,
      notPredicted: cut?.notPredicted ?? null,
      limit: cut?.prediction?.limit ?? null,
      leastProbability: through.length > 0 ? Math.min(...probabilities(through)) : null,
      time: timeView(quick.time),
      waste: wasteView(expectedWaste(quick.waste, allLost)),
      section: this.#tried.section(asked, cut),
      lens: quick.lens,
      materialName: material?.name ?? null,
      hazard: material && { class: material.hazard.class, reason: material.hazard.reason },
      thicknessMm,
      thickness: material && never === null ? thicknessKnob(material) : null,
      knobs:
        machine && material && thicknessMm !== null
          ? knobsOf({ machine, material, thicknessMm }, this.#tried.motion)
          : null,
      never,
    };
  }

  /** What `kerflint check` would say of the job with the change in its files. Takes as long as a check without reading. */
  judged(change: TrialChange): TrialJudgement {
    const { verdict, headline, waste } = this.result(change);
    return { verdict, headline, waste };
  }

  /** The same in full. Findings about settings that were turned stand at the line of their stroke. */
  result(change: TrialChange): JobResult {
    return this.#input.judge(this.#tried.whole(this.#changeOf(change)));
  }

  get #tried(): WhatIf {
    this.#whatIf ??= new WhatIf(this.#input.read, this.#input.facts);
    return this.#whatIf;
  }

  #changeOf({ material, ...rest }: TrialChange): Change {
    const found = material === undefined ? null : this.#materialOf(material);
    return found ? { ...rest, material: found } : rest;
  }

  #materialOf(id: string): Material | null {
    const { library, job } = this.#input;
    return library.material(id, job.beside).value;
  }

  #nothingToTry(): string | null {
    const { facts } = this.#input;
    if (!facts.machine) return 'the machine is not known';
    if (!facts.material) return 'the material is not known';
    if (facts.thicknessMm === null) return 'the thickness is not known';
    if (facts.material.hazard.class === 'never') return `${facts.material.name} must not be cut`;
    return facts.cuts.length === 0 ? 'there is no cut in it' : null;
  }

  /** The recipes of the plan, in the order in which they are first cut. */
  #recipes(): TrialRecipe[] {
    const { facts } = this.#input;
    const groups = new Map<string, number[]>();
    facts.cuts.forEach((cut, index) => {
      const key = JSON.stringify([cut.aim, cut.passCount, cut.passes.map(asProgrammed), this.#beginOf(index)?.text]);
      groups.set(key, [...(groups.get(key) ?? []), index]);
    });
    return [...groups.values()].map((cuts) => this.#recipe(cuts));
  }

  #recipe(cuts: readonly number[]): TrialRecipe {
    const { facts } = this.#input;
    const chanceOf = (index: number) => facts.cuts[index]!.prediction?.throughProbability ?? 1;
    const leastSure = cuts.reduce((least, index) => (chanceOf(index) < chanceOf(least) ? index : least));
    const cut = facts.cuts[leastSure]!;
    const forAll = ({ text, change }: Proposed): TrialProposal => {
      const { material: _none, cuts: changes, ...sheet } = change;
      return {
        text,
        change: { ...sheet, cuts: changes.flatMap((one) => cuts.map((index) => ({ ...one, cut: index }))) },
      };
    };
    const begin = this.#beginOf(leastSure);
    return {
      tasks: [...new Set(cuts.map((index) => facts.cuts[index]!.task))],
      aim: cut.aim,
      cuts,
      leastSure,
      lengthMm: cuts.reduce((sum, index) => sum + facts.cuts[index]!.lengthMm, 0),
      line: cut.location.line,
      throughProbability: cut.prediction?.throughProbability ?? null,
      settings: settingsOf(cut),
      proposals: this.#proposalsFor(leastSure, forAll),
      begin: begin && forAll(begin),
    };
  }

  #proposalsFor(leastSure: number, forAll: (proposed: Proposed) => TrialProposal): TrialProposal[] {
    const { facts, result, cured } = this.#input;
    if (cured) {
      const { text, change } = proposedCure(facts, cured.cure);
      const { material: _none, ...rest } = change;
      return [{ text, change: rest }];
    }
    return result.noCure === undefined ? proposedFor(facts, leastSure).map(forAll) : [];
  }

  #beginOf(index: number): Proposed | null {
    const { facts } = this.#input;
    return facts.cuts[index]!.passes.length === 0 ? surestFor(facts, index) : null;
  }
}

/** What tells one recipe from another: as it is programmed, however fast the head then gets. */
function asProgrammed({ setting, programmedMmPerS, focusMm, air, scaled }: PassFact): unknown {
  return [setting, programmedMmPerS, focusMm, air, scaled];
}

function settingsOf({ passes, passCount }: CutFact): TrialSettings | null {
  const [first, second] = passes;
  if (!first) return null;
  return {
    setting: roundTo(first.setting, 4),
    speedMmPerS: roundTo(first.programmedMmPerS, 3),
    passes: passCount,
    focusMm: first.focusMm,
    focusStepMm: second ? second.focusMm - first.focusMm : 0,
    unequal: passes.some(
      ({ setting, programmedMmPerS }) => setting !== first.setting || programmedMmPerS !== first.programmedMmPerS,
    ),
  };
}

function probabilities(cuts: readonly CutFact[]): number[] {
  return cuts.flatMap(({ prediction }) => prediction?.throughProbability ?? []);
}
