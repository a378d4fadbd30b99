import type { CutChange, TrialAnswer, TrialChange, TrialJudgement, TrialPlan, TrialRecipe } from '../../trial.ts';

/** What of a cut a slider turns. */
export type Turning = 'setting' | 'speedMmPerS' | 'passes' | 'focusMm' | 'focusStepMm';

/** Everything that "what if" knows of a job; what is shown follows from it. */
export interface WhatIfState {
  readonly plan: TrialPlan;
  /** The recipe that is looked at. */
  readonly shown: number;
  /** What is turned. */
  readonly change: TrialChange;
  /** Answers for its least sure cut; null until they are there. */
  readonly planned: TrialAnswer | null;
  readonly turned: TrialAnswer | null;
  /** What a check would say of what is turned; null while nobody has asked. */
  readonly judged: TrialJudgement | null;
}

/** Where it begins: at the through recipe that is least sure, or else the first; with a recipe to start from where nothing is planned. */
export function begun(plan: TrialPlan): WhatIfState {
  const shown = leastSure(plan.recipes);
  return { plan, shown, change: beginning(plan), planned: null, turned: null, judged: null };
}

/** Nothing is turned, but for recipes of which nothing is planned. */
function beginning({ recipes }: TrialPlan): TrialChange {
  const begins = recipes.flatMap(({ begin }) => begin ?? []);
  const [first] = begins;
  const lens = first?.change.lens;
  return { ...(lens === undefined ? {} : { lens }), cuts: begins.flatMap(({ change }) => change.cuts) };
}

function leastSure(recipes: readonly TrialRecipe[]): number {
  let least = -1;
  recipes.forEach(({ aim, throughProbability }, index) => {
    if (aim !== 'through' || throughProbability === null) return;
    if (least < 0 || throughProbability < recipes[least]!.throughProbability!) least = index;
  });
  return Math.max(0, least);
}

export function isTurned({ plan, change }: WhatIfState): boolean {
  return JSON.stringify(change) !== JSON.stringify(beginning(plan));
}

export function lookingAt(state: WhatIfState, shown: number): WhatIfState {
  return { ...state, shown, planned: null, turned: null };
}

/** One thing of the recipe that is looked at is turned. */
export function turnedTo(state: WhatIfState, what: Turning, value: number): WhatIfState {
  const own = new Set(shownRecipe(state)?.cuts);
  const others = state.change.cuts.filter(({ cut }) => !own.has(cut));
  const turned = [...own].map((cut): CutChange => ({ ...changeOf(state, cut), [what]: value }));
  return withChange(state, { ...state.change, cuts: [...others, ...turned] });
}

/** Lens, material or thickness is turned, which all cuts share; back to what is planned is no change. */
export function sheetTurnedTo(
  state: WhatIfState,
  sheet: { lens?: string; material?: string; thicknessMm?: number },
): WhatIfState {
  const { plan } = state;
  const { lens, material, thicknessMm, cuts } = { ...state.change, ...sheet };
  return withChange(state, {
    ...(lens === undefined || lens === plan.lens ? {} : { lens }),
    ...(material === undefined || material === plan.material ? {} : { material }),
    ...(thicknessMm === undefined || thicknessMm === plan.thicknessMm ? {} : { thicknessMm }),
    cuts,
  });
}

/** A proposal is put in: over what the file says, and not over what was turned of that cut before. */
export function taken(state: WhatIfState, proposal: TrialChange): WhatIfState {
  const { lens, material, thicknessMm } = { ...beginning(state.plan), ...proposal };
  const proposed = new Set(proposal.cuts.map(({ cut }) => cut));
  const others = state.change.cuts.filter(({ cut }) => !proposed.has(cut));
  return withChange(state, {
    ...(lens === undefined ? {} : { lens }),
    ...(material === undefined ? {} : { material }),
    ...(thicknessMm === undefined ? {} : { thicknessMm }),
    cuts: [...others, ...proposal.cuts],
  });
}

/** Everything is back to what the file says. */
export function restored(state: WhatIfState): WhatIfState {
  return withChange(state, beginning(state.plan));
}

/** Where a slider stands: what was turned, else what is planned; null where nothing is. */
export function standsAt(state: WhatIfState, what: Turning): number | null {
  const recipe = shownRecipe(state);
  return (recipe && changeOf(state, recipe.leastSure)[what]) ?? recipe?.settings?.[what] ?? null;
}

export function shownRecipe({ plan, shown }: WhatIfState): TrialRecipe | undefined {
  return plan.recipes[shown];
}

function changeOf({ change }: WhatIfState, cut: number): CutChange {
  return change.cuts.find((one) => one.cut === cut) ?? { cut };
}

function withChange(state: WhatIfState, change: TrialChange): WhatIfState {
  // In one order: equal changes are written alike.
  const cuts = [...change.cuts].sort((a, b) => a.cut - b.cut);
  return { ...state, change: { ...change, cuts }, judged: null };
}
