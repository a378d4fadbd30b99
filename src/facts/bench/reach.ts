import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import type { Lens, Machine, Material } from '../../job/model.ts';
import { depthOfFocusMm } from '../../physics/beam/focused-beam.ts';
import { marchedDepthMm } from '../../physics/march/march.ts';
import { reachCurve, speedForProbability } from '../../physics/search/reach-curve.ts';
import { roundTo } from '../../units/format.ts';
import type { Setup } from '../cuts/setup.ts';
import { publishedDots } from '../evidence/published-dots.ts';
import { basisUnder, limitUnder } from './reach-basis.ts';
import type { ReachChoice, ReachDepth, ReachLens, ReachModel } from './reach-model.ts';
import { cutOf, done, fullPower, materialProblem, type Outcome, refused, setUp, sourceText } from './set-up.ts';

/** Thicknesses in which sheet is commonly sold, mm (common practice, no source). */
const SOLD_MM = [0.1, 0.2, 0.3, 0.5, 0.8, 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 18, 20, 25, 30, 40, 50, 75, 100];
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
  passes: number;
  /** Null: the recommended maximum. */
  setting: number | null;
  focusMm: number;
  /** A sheet that is asked about besides those that are commonly sold. */
  sheetMm?: number | null;
  /** Cuts that others published. */
  citedCuts: readonly CitedCut[];
}

/** What a machine and its lenses cut of one material: thickness against speed. */
export function reach(request: ReachRequest): Outcome<ReachModel> {
  const { machine, material, passes, focusMm } = request;
  const unfit = materialProblem(machine, material);
  if (unfit !== null) return refused(unfit);
  const power = fullPower(machine, request.setting);
  if (power.value === null) return power;
  const floorMmPerS = material.cleanSpeedMmPerS[machine.source.kind];
  const soldMm = SOLD_MM.filter((mm) => mm >= material.thicknessMm.min - 1e-9 && mm <= material.thicknessMm.max + 1e-9);
  if (soldMm.length === 0) soldMm.push(material.thicknessMm.max);
  const sheetMm = request.sheetMm ?? null;
  if (sheetMm !== null && !soldMm.includes(sheetMm)) soldMm.push(sheetMm);
  soldMm.sort((a, b) => a - b);
  const lenses: ReachLens[] = [];
  const problems: string[] = [];
  const asked = request.lenses.length > 0 ? request.lenses : machine.lenses;
  const limit = limitUnder(machine, asked, material);
  for (const lens of asked) {
    const one = reachOfLens(request, lens, soldMm, { ...power.value, limit });
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
    basis: basisUnder(machine, asked, material),
    setting: power.value.setting,
    powerW: roundTo(powerW, 1),
    passes,
    focusMm,
    limit,
    floorMmPerS,
    soldMm,
    lenses,
    choices: soldMm.map((thicknessMm, i) => choice(thicknessMm, i, lenses)),
    published: published.dots,
    publishedElse: published.others,
  });
}

function reachOfLens(
  request: ReachRequest,
  lens: Lens,
  soldMm: readonly number[],
  { limit, ...power }: { powerW: number; spread: number; limit: number },
): Outcome<ReachLens> {
  const { machine, material, passes, focusMm } = request;
  const floorMmPerS = material.cleanSpeedMmPerS[machine.source.kind];
  const start = floorMmPerS ?? SLOWEST_MM_PER_S;
  const setupAt = (mm: number) =>
    setUp({ machine, lens, material, thickness: { mm, plusMinusMm: null, nominal: true } });
  const setup = setupAt(soldMm[0]!);
  if (setup.value === null) return setup;
  const depthAt = (speedMmPerS: number) => reachDepth(setup.value, { ...power, speedMmPerS, passes, focusMm });
  const fastest = Math.min(FASTEST_MM_PER_S, machine.motion.speedMmPerS);
  const slowest = floorMmPerS === null ? start : start * BELOW_FLOOR;
  return done({
    id: lens.id,
    spotMm: roundTo(setup.value.beam.spotMm, 3),
    depthOfFocusMm: roundTo(depthOfFocusMm(setup.value.beam, 'sqrt2'), 2),
    points: speedsBetween(slowest, Math.max(fastest, slowest * 2)).map(depthAt),
    greatest: depthAt(start),
    sureSpeedMmPerS: soldMm.map((mm) => {
      const at = setupAt(mm);
      if (at.value === null) return null;
      const cut = cutOf(at.value, { ...power, speedMmPerS: start, passes, focusMm });
      const speed = speedForProbability(cut, limit);
      if (speed === null) return null;
      const typed = Math.min(machine.motion.speedMmPerS, typedDown(speed));
      return typed >= start ? typed : null;
    }),
  });
}

/** A speed that a person would type, never above the one given. */
function typedDown(speedMmPerS: number): number {
  const step = speedMmPerS < 2 ? 0.1 : speedMmPerS < 20 ? 0.5 : speedMmPerS < 100 ? 1 : 10;
  return roundTo(Math.floor(speedMmPerS / step + 1e-9) * step, 1);
}

/** Speeds in even ratios. */
function speedsBetween(slowest: number, fastest: number): number[] {
  const ratio = (fastest / slowest) ** (1 / (POINTS - 1));
  return Array.from({ length: POINTS }, (_, i) => roundTo(slowest * ratio ** i, 3));
}

/** Thinner than any sheet: where a depth vanishes, its doubt is that of this thickness, mm. */
const THINNEST_MM = 0.01;

/**
 * The depth that a recipe reaches, with its band. The doubt is that of a sheet as thick as the depth itself: the farther
 * that lies from the coupons of a calibrated material, the wider it is.
 */
export function reachDepth(setup: Setup, recipe: Parameters<typeof cutOf>[1]): ReachDepth {
  const plain = cutOf(setup, recipe);
  const thicknessMm = Math.max(THINNEST_MM, marchedDepthMm(plain.beam, plain.stock, plain.passes));
  const { powerW, passes, speedMmPerS } = recipe;
  const input = { ...cutOf({ ...setup, thicknessMm }, recipe), powerW, passes, focusMm: plain.passes[0]!.focusMm };
  const point = reachCurve(input, [speedMmPerS])[0]!;
  return {
    speedMmPerS,
    depthMm: roundTo(point.depthMm, 2),
    lowMm: roundTo(point.lowMm, 2),
    highMm: roundTo(point.highMm, 2),
    sureMm: roundTo(point.sureMm, 2),
  };
}

/** The fastest lens; of equally fast ones the first, which the profile names first. */
function choice(thicknessMm: number, index: number, lenses: readonly ReachLens[]): ReachChoice {
  let best: ReachChoice = { thicknessMm, lens: null, speedMmPerS: null };
  for (const lens of lenses) {
    const speedMmPerS = lens.sureSpeedMmPerS[index] ?? null;
    if (speedMmPerS !== null && speedMmPerS > (best.speedMmPerS ?? 0))
      best = { thicknessMm, lens: lens.id, speedMmPerS };
  }
  return best;
}
