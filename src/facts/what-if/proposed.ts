import type { CureFact } from '../cure/cure-fact.ts';
import type { RemedyFact } from '../cuts/cut-fact.ts';
import type { JobFacts } from '../facts.ts';
import type { Recipe } from '../recipes/recipe-fact.ts';
import { recipeText } from '../recipes/recipe-text.ts';
import type { Change, CutChange } from './change.ts';

/** A change that would bring a cut through, ready to be tried. */
export interface Proposed {
  /** Says what to do: "Slow to 7.5 mm/s". */
  readonly text: string;
  readonly change: Change;
}

/** What the check proposes for a cut, cheapest first; without planned settings, the recipe to run. Empty where there is nothing to propose. */
export function proposedFor(facts: JobFacts, cut: number): Proposed[] {
  const fact = facts.cuts[cut]!;
  const open = facts.proposals.find(({ cuts }) => cuts.includes(fact));
  if (open?.proposed) return [fromRecipe(open.proposed, cut, facts.lens?.id ?? null)];
  return fact.remedies.filter(({ kind }) => kind !== 'none').map((remedy) => fromRemedy(remedy, cut));
}

/**
 * The change with which the rules find no error any more, for the whole job: each cut takes what its task needs. A change that is the same for
 * all is said once, otherwise with the task it is for.
 */
export function proposedCure(facts: JobFacts, { lens, otherLens, cuts }: CureFact): Proposed {
  const changed = cuts.flatMap(({ index, remedy }) => (remedy === null ? [] : [{ index, remedy }]));
  const texts = [...new Set(changed.map(({ remedy }) => remedy.text))];
  const ofTasks = [...new Set(changed.map(({ index, remedy }) => `${facts.cuts[index]!.task}: ${remedy.text}`))];
  return {
    text: (texts.length > 1 ? ofTasks : texts).join('; '),
    change: {
      ...(otherLens ? { lens } : {}),
      cuts: changed.flatMap(({ index, remedy }) => fromRemedy(remedy, index).change.cuts),
    },
  };
}

/** The likeliest recipe for a cut of which nothing is planned; null where settings are planned, or none is known. */
export function surestFor(facts: JobFacts, cut: number): Proposed | null {
  const open = facts.proposals.find(({ cuts }) => cuts.includes(facts.cuts[cut]!));
  return open ? fromRecipe(open.proposed ?? open.surest, cut, facts.lens?.id ?? null) : null;
}

function fromRecipe(recipe: Recipe, cut: number, fitted: string | null): Proposed {
  const { lens, setting, speedMmPerS, passes, focusMm, focusStepMm } = recipe;
  return {
    text: `Cut with ${recipeText(recipe, fitted)}`,
    change: {
      ...(lens === fitted ? {} : { lens }),
      cuts: [{ cut, setting, speedMmPerS, passes, focusMm, focusStepMm }],
    },
  };
}

function fromRemedy(remedy: RemedyFact, cut: number): Proposed {
  const { setting, speedMmPerS, passes, focusMm, focusStepMm, lens, layerThicknessMm } = remedy;
  const change: CutChange = {
    cut,
    ...stated({ setting, speedMmPerS, passes, focusMm, focusStepMm }),
  };
  return { text: remedy.text, change: { ...stated({ lens, thicknessMm: layerThicknessMm }), cuts: [change] } };
}

/** Without what is not stated. */
function stated<T extends Record<string, unknown>>(values: T): { [K in keyof T]?: NonNullable<T[K]> } {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null)) as {
    [K in keyof T]?: NonNullable<T[K]>;
  };
}
