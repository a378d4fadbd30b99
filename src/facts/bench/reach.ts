import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import type { Lens, Machine, Material } from '../../job/model.ts';
import { depthOfFocusMm } from '../../physics/beam/focused-beam.ts';
import { roundTo } from '../../units/format.ts';
import { stepsFocus } from '../cuts/focus-step.ts';
import type { PlaceOnBed } from '../cuts/one-cut.ts';
import { publishedDots } from '../evidence/published-dots.ts';
import { bestUnderAnyLens } from '../recipes/best-recipe.ts';
import { soldMm } from '../recipes/sold-sheets.ts';
import { recipeAndStanding } from '../recipes/standing.ts';
import { basisUnder, limitsUnder } from './reach-basis.ts';
import { type CurveRecipe, reachDepth } from './reach-depth.ts';
import type { ReachChoice, ReachCurves, ReachLens, ReachModel } from './reach-model.ts';
import { done, fullPower, materialProblem, type OnBench, type Outcome, refused, setUp, sourceText } from './set-up.ts';

/** Slowest speed of the chart where the material has no floor, mm/s. */
export const SLOWEST_MM_PER_S = 1;
/** Points of a curve: enough for a smooth line on a page. */
const POINTS = 33;
/** Room below the floor, so that it shows that slower is no way out. */
const BELOW_FLOOR = 0.5;
/** A chart in which nothing is reached by more than this ends there, mm/s. */
const FASTEST_MM_PER_S = 400;

export interface ReachRequest {
  machine: Machine;
  material: Material;
  /** Lenses to draw; empty: all of the machine's. */
  lenses: readonly Lens[];
  /** Null: 1 for the curves, and as many as each sheet takes. */
  passes: number | null;
  /** Null: the recommended maximum. */
  setting: number | null;
  /** Null: where it serves best. */
  focusMm: number | null;
  /** Place on the bed, for the watts that can be counted on; null: the middle. */
  at: PlaceOnBed;
  /** A sheet that is asked about besides those that can be bought. */
  sheetMm?: number | null;
  /** Cuts that others published. */
  citedCuts: readonly CitedCut[];
}

/** What a machine and its lenses cut of one material: thickness against speed, and what each sheet takes. */
export function reach(request: ReachRequest): Outcome<ReachModel> {
  const curves = reachCurves(request);
  if (curves.value === null) return curves;
  const { machine, material } = request;
  const lenses = lensesOf(request).filter(({ id }) => curves.value.lenses.some((one) => one.id === id));
  const sheetMm = request.sheetMm ?? null;
  const sheets = new Set([...soldMm(material), ...(sheetMm === null ? [] : [sheetMm])]);
  const choices = [...sheets].sort((a, b) => a - b).flatMap((mm) => choiceOf(request, lenses, mm) ?? []);
  const own = `the profile of ${machine.id} gives no power: see its source section`;
  if (choices.length === 0) return refused(own);
  return done({ ...curves.value, ...limitsUnder(machine, lenses, material), choices });
}

/** Depth over speed under each lens. */
export function reachCurves(request: ReachRequest): Outcome<ReachCurves> {
  const { machine, material, focusMm } = request;
  const unfit = materialProblem(machine, material);
  if (unfit !== null) return refused(unfit);
  const power = fullPower(machine, request.setting, request.at);
  if (power.value === null) return power;
  const passes = request.passes ?? 1;
  const lenses: ReachLens[] = [];
  const problems: string[] = [];
  for (const lens of lensesOf(request)) {
    const one = reachOfLens(request, lens, { ...power.value, passes, focusMm });
    if (one.value === null) problems.push(one.problem);
    else lenses.push(one.value);
  }
  if (lenses.length === 0) return refused(problems[0] ?? `${machine.id} has no lens`);
  const { powerW } = power.value;
  const { kind } = machine.source;
  const published = publishedDots(request.citedCuts, { kind, material: material.id, powerW, passes });
  return done({
    machine: machine.id,
    source: sourceText(machine, powerW),
    material: material.name,
    hazard: { class: material.hazard.class, reason: material.hazard.reason },
    onlyIf: material.sourceConditions[kind] ?? null,
    basis: basisUnder(machine, lensesOf(request), material),
    setting: power.value.setting,
    powerW: roundTo(powerW, 1),
    passes,
    focusMm,
    floorMmPerS: material.cleanSpeedMmPerS[kind],
    lenses,
    published: published.dots,
    publishedElse: published.others,
  });
}

const lensesOf = ({ lenses, machine }: ReachRequest): readonly Lens[] => (lenses.length > 0 ? lenses : machine.lenses);

function reachOfLens(
  { machine, material }: ReachRequest,
  lens: Lens,
  recipe: Omit<CurveRecipe, 'speedMmPerS'>,
): Outcome<ReachLens> {
  const floorMmPerS = material.cleanSpeedMmPerS[machine.source.kind];
  const start = floorMmPerS ?? SLOWEST_MM_PER_S;
  const setup = setUp(sheetOf({ machine, material, lens }, 1));
  if (setup.value === null) return setup;
  const depthAt = (speedMmPerS: number) => reachDepth(setup.value, { ...recipe, speedMmPerS });
  const fastest = Math.min(FASTEST_MM_PER_S, machine.motion.speedMmPerS);
  const slowest = floorMmPerS === null ? start : start * BELOW_FLOOR;
  return done({
    id: lens.id,
    spotMm: roundTo(setup.value.beam.spotMm, 3),
    depthOfFocusMm: roundTo(depthOfFocusMm(setup.value.beam, 'sqrt2'), 2),
    points: speedsBetween(slowest, Math.max(fastest, slowest * 2)).map(depthAt),
    greatest: depthAt(start),
  });
}

const sheetOf = (bench: Omit<OnBench, 'thickness'>, mm: number): OnBench => ({
  ...bench,
  thickness: { mm, plusMinusMm: null, nominal: true },
});

/** Speeds in even ratios. */
function speedsBetween(slowest: number, fastest: number): number[] {
  const ratio = (fastest / slowest) ** (1 / (POINTS - 1));
  return Array.from({ length: POINTS }, (_, i) => roundTo(slowest * ratio ** i, 3));
}

/** What the solver says of one sheet; null where the machine gives no power. */
function choiceOf(request: ReachRequest, lenses: readonly Lens[], thicknessMm: number): ReachChoice | null {
  const { machine, material, setting, passes, focusMm, at } = request;
  const [lens, ...otherLenses] = lenses;
  const setup = lens ? setUp(sheetOf({ machine, material, lens }, thicknessMm)) : null;
  if (!setup?.value) return null;
  const best = bestUnderAnyLens({
    setup: setup.value,
    otherLenses,
    at,
    fastestMmPerS: machine.motion.speedMmPerS,
    focusMoves: stepsFocus(machine),
    stated: { setting, speedMmPerS: null, passes, focusMm, focusStepMm: 0 },
  });
  if (best === null) return null;
  const byLens = lenses.map(({ id }) => best.byLens.find((one) => one.lens === id)?.proposed ?? null);
  return { thicknessMm, ...recipeAndStanding(best), byLens };
}
