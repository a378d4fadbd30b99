import type { Lens, Machine, SourceKind } from '../../job/model.ts';
import { setUpUnder } from '../cuts/setup.ts';
import { bestRecipe, type RecipeQuestion } from './best-recipe.ts';
import type { Instead } from './recipe-answer-model.ts';
import { thinnerSheets } from './thinner-sheets.ts';

/** Focal lengths that lenses are commonly sold with, mm: 1.5, 2, 2.5, 3, 4 and 5 in (memory). */
const FOCAL_MM = [38.1, 50.8, 63.5, 76.2, 101.6, 127];
/** Powers at the work that sources of a kind come with, W (memory). */
const POWERS_W: Readonly<Record<SourceKind, readonly number[]>> = {
  co2: [40, 60, 80, 100, 130, 150, 200, 300],
  diode: [5, 10, 20, 30, 40],
  fibre: [30, 50, 100, 200, 500, 1000],
};

/** What would be sure where no recipe for a sheet is: each way is asked of the solver. */
export function insteadOf(question: RecipeQuestion): Instead {
  return {
    ...thinnerSheets(question),
    lens: anotherLens(question),
    source: strongerSource(question),
  };
}

function anotherLens(question: RecipeQuestion): Instead['lens'] {
  const { setup, otherLenses } = question;
  const asked = new Set([setup.lens.id, ...otherLenses.map(({ id }) => id)]);
  for (const lens of setup.machine.lenses.filter(({ id }) => !asked.has(id))) {
    const recipe = sureUnder(question, lens);
    if (recipe) return { id: lens.id, focalMm: lens.focalMm, recipe };
  }
  // A measured spot is that of its own lens: nothing is known of another's.
  if (setup.lens.spotMm !== null) return null;
  const known = setup.machine.lenses.map(({ focalMm }) => focalMm);
  for (const focalMm of FOCAL_MM) {
    if (known.some((mm) => Math.abs(mm / focalMm - 1) < 0.05)) continue;
    const recipe = sureUnder(question, { ...setup.lens, id: `${focalMm} mm`, focalMm, standoffMm: null });
    if (recipe) return { id: null, focalMm, recipe };
  }
  return null;
}

function sureUnder(question: RecipeQuestion, lens: Lens) {
  const setup = setUpUnder(question.setup, lens);
  return setup && (bestRecipe({ ...question, setup, otherLenses: [] })?.proposed ?? null);
}

function strongerSource(question: RecipeQuestion): Instead['source'] {
  const { machine } = question.setup;
  const { kind, measuredW, ratedW } = machine.source;
  for (const powerW of POWERS_W[kind]) {
    if (powerW <= Math.max(measuredW ?? 0, ratedW)) continue;
    // What is known of this machine's energy is no knowledge of that one: its set-up is made anew.
    const setup = setUpUnder({ ...question.setup, machine: withPower(machine, powerW) }, question.setup.lens);
    const recipe = setup && bestRecipe({ ...question, setup });
    if (recipe?.proposed) return { kind, powerW, recipe: recipe.proposed };
  }
  return null;
}

/** Another machine, alike but for its power: what coupons tell of this one is no knowledge of that. */
function withPower(machine: Machine, powerW: number): Machine {
  const source = { ...machine.source, ratedW: powerW, measuredW: powerW, curve: null };
  return { ...machine, id: '', bench: null, source };
}
