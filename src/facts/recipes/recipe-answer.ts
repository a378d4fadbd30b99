import type { Lens, Machine, Material, SourceKind, Thickness } from '../../job/model.ts';
import { depthOfFocusMm, diameterAtMm } from '../../physics/beam/focused-beam.ts';
import { roundToStep, typedSpeeds } from '../../physics/march/passes.ts';
import { roundTo } from '../../units/format.ts';
import { assumedOf } from '../assumed/assumed.ts';
import { passesOfRecipe } from '../assumed/narrowing.ts';
import { fullPower, materialProblem, type Outcome, refused, setUp, sourceText } from '../bench/set-up.ts';
import { stepsFocus } from '../cuts/focus-step.ts';
import { errorLimitOf, limitOf } from '../cuts/limits.ts';
import type { PlaceOnBed } from '../cuts/one-cut.ts';
import { powerFact } from '../cuts/power.ts';
import { basisOf, MOST_PASSES } from '../cuts/prediction.ts';
import { type Setup, setUpUnder } from '../cuts/setup.ts';
import { costOfCutting } from '../waste/cost-of-cutting.ts';
import { airBar } from './air.ts';
import { bestUnderAnyLens, fastestOf, type RecipeQuestion } from './best-recipe.ts';
import { insteadOf } from './instead.ts';
import type { NoRecipe, PricedRecipe, RecipeAnswer, RecipeFound, RecipeSection } from './recipe-answer-model.ts';
import type { BestRecipe, Bound, Recipe, StatedSettings } from './recipe-fact.ts';
import { recipeAndStanding } from './standing.ts';

const MM_PER_M = 1000;
/** What hangs on a scrap is tried again so much slower (common practice, no source). */
const SLOWER = 0.8;
/** A recipe that is likelier than this to part the sheet needs no more (a definition of this project). */
const SURE_ENOUGH = 0.99;
/** A speed this near the slowest is held back by it. */
const NEAR = 1.1;
/** Points of the beam's envelope, and how far it is drawn beyond the sheet, as a share of it. */
const POINTS = 41;
const MARGIN = 0.4;
const KINDS: readonly SourceKind[] = ['co2', 'diode', 'fibre'];

export interface RecipeRequest {
  machine: Machine;
  /** Lenses that may be fitted: the one that is named, or all of the machine's. */
  lenses: readonly Lens[];
  material: Material;
  thickness: Thickness;
  /** How far the sheet is from flat. */
  bowMm: number;
  stated: StatedSettings;
  /** Place on the bed, for the watts that can be counted on; null: the middle. */
  at: PlaceOnBed;
}

/** The best that a machine can do about a sheet, with what there is to choose from; a problem where that cannot be said. */
export function recipeAnswer(request: RecipeRequest): Outcome<RecipeAnswer> {
  const { machine, material, thickness } = request;
  const unfit = materialProblem(machine, material);
  if (unfit !== null) return { value: notCut(request, unfit), problem: null };
  const question = questionOf(request);
  if (question.value === null) return question;
  const power = fullPower(machine, 1, request.at);
  if (power.value === null) return power;
  const best = bestUnderAnyLens(question.value);
  if (best === null) return refused(`the profile of ${machine.id} gives no power: see its source section`);
  const { standing, recipe } = recipeAndStanding(best);
  const priced = (one: Recipe) => pricedRecipe(underLens(question.value, one.lens), one);
  const { fastest, onePass } = alternatives(question.value, best);
  const slower = slowerRecipe(question.value, recipe);
  return {
    problem: null,
    value: {
      ...asked(request),
      standing,
      source: sourceText(machine, power.value.powerW),
      basis: basisOf(underLens(question.value, recipe.lens).grounds),
      limit: best.limit,
      errorLimit: best.errorLimit,
      recipe: priced(recipe),
      fastest: fastest && priced(fastest),
      surest: priced(surestWorthwhile(question.value, best)),
      onePass: onePass && priced(onePass),
      slower: slower && priced(slower),
      airBar: airBar(machine, material),
      limitedBy: heldBackBy(question.value, best, recipe),
      instead: standing === 'sure' ? null : insteadOf(question.value),
      section: sectionOf(question.value, recipe, thickness.mm),
      ...assumptionsOf(underLens(question.value, recipe.lens), recipe),
      inventedMachine: machine.invented,
    },
  };
}

function assumptionsOf(setup: Setup, recipe: Recipe): Pick<RecipeFound, 'assumed' | 'narrows'> {
  const { machine, lens, grounds } = setup;
  const { keys, narrows } = assumedOf({
    machine,
    lens,
    power: powerFact(machine),
    calibratedHere: grounds.holdsPower,
    hasToolpath: false,
    answer: { setup, passes: passesOfRecipe(recipe) },
  });
  return { assumed: keys, narrows };
}

function asked({ machine, material, thickness }: RecipeRequest) {
  return {
    machine: machine.id,
    material: material.name,
    materialId: material.id,
    hazard: { class: material.hazard.class, reason: material.hazard.reason },
    thicknessMm: thickness.mm,
  };
}

function notCut(request: RecipeRequest, reason: string): NoRecipe {
  const { hazard, sources, removal } = request.material;
  const never = hazard.class === 'never';
  return {
    ...asked(request),
    standing: never ? 'never' : 'not-cut',
    reason,
    cutBy: never || removal === null ? [] : KINDS.filter((kind) => sources[kind] === 'cuts'),
  };
}

function questionOf(request: RecipeRequest): Outcome<RecipeQuestion> {
  const { machine, material, thickness, lenses, bowMm, stated, at } = request;
  let problem = `${machine.id} has no lens`;
  for (const [index, lens] of lenses.entries()) {
    const setup = setUp({ machine, lens, material, thickness });
    if (setup.value === null) {
      problem = setup.problem;
      continue;
    }
    return {
      problem: null,
      value: {
        setup: { ...setup.value, bowMm },
        otherLenses: lenses.slice(index + 1),
        at,
        fastestMmPerS: machine.motion.speedMmPerS,
        focusMoves: stepsFocus(machine),
        stated,
      },
    };
  }
  return refused(problem);
}

/** The same question with another number of passes. */
const inPasses = (question: RecipeQuestion, passes: number): RecipeQuestion => ({
  ...question,
  stated: { ...question.stated, passes },
});

function alternatives(question: RecipeQuestion, best: BestRecipe): { fastest: Recipe | null; onePass: Recipe | null } {
  const { passes } = question.stated;
  if (passes !== null) return { fastest: best.proposed, onePass: passes === 1 ? recipeAndStanding(best).recipe : null };
  const most = MOST_PASSES[question.setup.machine.source.kind];
  const byPasses = Array.from({ length: most }, (_, i) => bestUnderAnyLens(inPasses(question, i + 1)));
  const once = byPasses[0] ?? null;
  return {
    fastest: fastestOf(byPasses.map((one) => one?.proposed ?? null)),
    onePass: once && recipeAndStanding(once).recipe,
  };
}

/** Slower than for this is only more char and more flame: the fastest that is as likely as that, else the likeliest there is. */
function surestWorthwhile(question: RecipeQuestion, { surest }: BestRecipe): Recipe {
  if (surest.throughProbability < SURE_ENOUGH) return surest;
  return bestUnderAnyLens({ ...question, limit: SURE_ENOUGH })?.proposed ?? surest;
}

/** The recipe a fifth slower, as one would type it; null where the floor or the plan allows none. */
function slowerRecipe(question: RecipeQuestion, recipe: Recipe): Recipe | null {
  const { setup, stated } = question;
  const floor = setup.material.cleanSpeedMmPerS[setup.machine.source.kind] ?? 0;
  const speedMmPerS = typedSpeeds(floor, recipe.speedMmPerS * SLOWER).at(-1);
  if (stated.speedMmPerS !== null || speedMmPerS === undefined) return null;
  const under = underLens(question, recipe.lens);
  const { setting, passes, focusMm, focusStepMm } = recipe;
  const fixed = { setting, passes, focusMm, focusStepMm, speedMmPerS };
  return bestUnderAnyLens({ ...question, setup: under, otherLenses: [], stated: fixed })?.surest ?? null;
}

function underLens({ setup }: RecipeQuestion, id: string): Setup {
  const lens = setup.machine.lenses.find((one) => one.id === id);
  return (lens && setUpUnder(setup, lens)) ?? setup;
}

function pricedRecipe({ machine, grounds }: Setup, recipe: Recipe): PricedRecipe {
  const timeSPerM = (recipe.passes * MM_PER_M) / recipe.speedMmPerS;
  const cost = costOfCutting(machine, timeSPerM);
  const chance = recipe.throughProbability;
  return {
    ...recipe,
    powerW: roundTo(recipe.powerW, 2),
    standing: chance >= limitOf(grounds) ? 'sure' : chance >= errorLimitOf(grounds) ? 'prove' : 'out-of-reach',
    timeSPerM: roundTo(timeSPerM, 2),
    costPerM: cost && { ...cost, amount: roundTo(cost.amount, 4) },
  };
}

/** What keeps this recipe from being surer: of the solver's bounds those that it meets, the lens's depth of focus, and the head. */
function heldBackBy(question: RecipeQuestion, best: BestRecipe, recipe: Recipe): Bound[] {
  const { setup, fastestMmPerS } = question;
  const meets = ({ kind, value }: Bound): boolean => {
    if (kind === 'ceiling' || kind === 'assumed-ceiling') return recipe.setting >= (value ?? 0) - 1e-9;
    if (kind === 'clean-speed' || kind === 'slowest-speed') return recipe.speedMmPerS <= (value ?? 0) * NEAR;
    return kind !== 'most-passes' || recipe.passes >= (value ?? 0);
  };
  const inFocusMm = roundTo(depthOfFocusMm(underLens(question, recipe.lens).beam, 'sqrt2'), 2);
  return [
    ...best.limitedBy.filter(meets),
    ...(setup.thicknessMm > inFocusMm ? [{ kind: 'depth-of-focus' as const, value: inFocusMm }] : []),
    ...(recipe.speedMmPerS > fastestMmPerS / NEAR ? [{ kind: 'fastest-speed' as const, value: fastestMmPerS }] : []),
  ];
}

function sectionOf(question: RecipeQuestion, recipe: Recipe, thicknessMm: number): RecipeSection {
  const { beam } = underLens(question, recipe.lens);
  const { passes, focusMm, focusStepMm } = recipe;
  const step = (thicknessMm * (1 + 2 * MARGIN)) / (POINTS - 1);
  return {
    lens: recipe.lens,
    spotMm: roundTo(beam.spotMm, 3),
    depthOfFocusMm: roundTo(depthOfFocusMm(beam, 'sqrt2'), 2),
    waistsMm: Array.from({ length: passes }, (_, i) => roundToStep(focusMm + i * focusStepMm, 0.01)),
    beam: Array.from({ length: POINTS }, (_, i) => {
      const zMm = thicknessMm * MARGIN - i * step;
      return { zMm: roundTo(zMm, 3), diameterMm: roundTo(diameterAtMm(beam, zMm - focusMm), 4) };
    }),
  };
}
