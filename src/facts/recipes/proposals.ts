import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import type { Machine } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { stepsFocus } from '../cuts/focus-step.ts';
import { planOutlines } from '../cuts/planned-outlines.ts';
import type { PredictorOrReason } from '../cuts/predictor-of-job.ts';
import { publishedNear } from '../cuts/published-near.ts';
import { farCorner, type OnBed } from '../match/on-bed.ts';
import type { TaskFact } from '../tasks/task-fact.ts';
import { bestRecipe, NOTHING_STATED, type RecipeQuestion } from './best-recipe.ts';
import type { BestRecipe, ProposalFact, Recipe, StatedSettings } from './recipe-fact.ts';
import { statedBy } from './stated.ts';
import { thinnerSheets } from './thinner-sheets.ts';

/** What proposals are made from. */
interface ProposalInput {
  readonly cuts: readonly CutFact[];
  readonly tasks: readonly TaskFact[];
  readonly machine: Machine | null;
  readonly predicting: PredictorOrReason;
  /** No lens was named: another of the machine's may be fitted. */
  readonly lensAssumed: boolean;
  readonly onBed: OnBed;
  readonly fullW: number;
  readonly artwork: Artwork | null;
  readonly citedCuts: () => readonly CitedCut[];
}

/**
 * What the machine can do about through cuts for which no whole settings are planned: those of artwork that has no toolpath. Tasks
 * that plan the same are answered together.
 */
export function proposalsOf(input: ProposalInput): ProposalFact[] {
  const { machine, predicting, artwork } = input;
  const { predictor } = predicting;
  if (!machine || !predictor || !artwork) return [];
  const open = input.cuts.filter(({ aim, passes }) => aim === 'through' && passes.length === 0);
  return sameStated(open, input).flatMap(({ stated, cuts }): ProposalFact[] => {
    const outlines = Uint32Array.from(cuts.flatMap((cut) => [...cut.strokes]));
    const free = { speedMmPerS: machine.motion.speedMmPerS, passes: 1 };
    const run = planOutlines(artwork, machine, free, outlines);
    const others = machine.lenses.filter(({ id }) => id !== predictor.setup.lens.id);
    const question: RecipeQuestion = {
      setup: predictor.setup,
      otherLenses: input.lensAssumed ? others : [],
      at: input.onBed.shift && run.box ? farCorner(run.box, input.onBed.shift) : null,
      fastestMmPerS: run.reachedMmPerS || machine.motion.speedMmPerS,
      focusMoves: stepsFocus(machine),
      stated,
    };
    const best = bestRecipe(question);
    if (best === null) return [];
    const freed = freedFrom(best, { ...question, otherLenses: others, stated: NOTHING_STATED });
    const published = best.proposed === null ? publishedNear(question.setup, best.surest, input.citedCuts()) : null;
    const thinner = best.proposed === null ? thinnerSheets(question) : null;
    return [{ ...best, cuts, freed, thinner, published }];
  });
}

/** A gain in probability that is worth a word. */
const WORTH_SAYING = 0.02;

function freedFrom({ surest, proposed }: BestRecipe, free: RecipeQuestion): Recipe | null {
  const best = proposed === null ? bestRecipe(free) : null;
  const recipe = best && (best.proposed ?? best.surest);
  return recipe && recipe.throughProbability >= surest.throughProbability + WORTH_SAYING ? recipe : null;
}

interface SameStated {
  stated: StatedSettings;
  cuts: [CutFact, ...CutFact[]];
}

function sameStated(cuts: readonly CutFact[], { tasks, fullW }: ProposalInput): SameStated[] {
  const groups = new Map<string, SameStated>();
  for (const cut of cuts) {
    const stated = statedBy(tasks[cut.taskIndex]?.planned ?? null, fullW);
    const key = JSON.stringify(stated);
    const group = groups.get(key);
    if (group) group.cuts.push(cut);
    else groups.set(key, { stated, cuts: [cut] });
  }
  return [...groups.values()];
}
