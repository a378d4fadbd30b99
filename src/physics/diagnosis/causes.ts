import { type CutInput, cutProblem, throughProbability } from '../doubt/predict.ts';
import { powerFactorFor, removalFactorFor } from '../march/inverse.ts';
import { kerfOf } from '../march/kerf.ts';
import { marchedDepthMm } from '../march/march.ts';
import type { CutPass } from '../march/passes.ts';
import type { CauseKind, Observation } from './observation.ts';
import { PLAUSIBILITY } from './plausibility.ts';

/** One explanation with the number that would make the model reach what was seen. */
export interface Cause {
  kind: CauseKind;
  /** Share of the belief among the causes that were weighed, 0…1. */
  weight: number;
  /** Power over what the profile says (power-weak, lens-dirty), or at the far corner over the near one (mirrors-drifting). */
  powerFactor?: number;
  /** Waist above (+) or below (−) where it should be. */
  focusOffMm?: number;
  /** Removal energy over the catalogue's: hidden glue, a denser batch, wet wood. */
  removalFactor?: number;
  /** From lowest to highest. */
  bowMm?: number;
  thicknessMm?: number;
  /** P(through) of the plan as predicted (settings-short). */
  throughProbability?: number;
}

export interface DiagnosisInput {
  /** As planned, with the doubts it was predicted with. */
  cut: CutInput;
  seen: Observation;
  /** The material may hide glue or knots. */
  hiddenGlue: boolean;
}

export type DiagnosisResult =
  | { causes: Cause[]; explainedDepthMm: number; problem: null }
  | { causes: null; problem: string };

/** Hidden glue raises the plausibility of a harder material by this much (common practice, no source). */
const HIDDEN_GLUE = 2;
/** Large faults are rarer than small ones, but not as rare as a normal distribution has them: a tail like Student's. */
const FAULT_TAIL = 1.5;
/** 1σ of the logarithm of a kerf read with a calliper or loupe. */
const KERF_SIGMA = 0.2;
/** Farthest that a waist is looked for, mm. */
const FARTHEST_FOCUS_MM = 30;

/**
 * Ranks what may explain a cut that did not go through: for each cause the number with which the model reaches what was
 * seen, weighed by how plausible that number is and how well it fits where, since when and how the cut failed. Where no
 * depth was measured the least deviation is taken: one that just fails to part the sheet.
 */
export function rankCauses(input: DiagnosisInput): DiagnosisResult {
  const { cut, seen } = input;
  const problem = cutProblem(cut);
  if (problem !== null) return { causes: null, problem };
  if (seen.depthMm !== null && !(Number.isFinite(seen.depthMm) && seen.depthMm > 0)) {
    return { causes: null, problem: `a depth of ${seen.depthMm} mm explains nothing: was there a beam at all?` };
  }
  if (seen.kerfMm !== null && !(Number.isFinite(seen.kerfMm) && seen.kerfMm > 0)) {
    return { causes: null, problem: `the kerf cannot be ${seen.kerfMm} mm` };
  }
  const depthMm = Math.min(seen.depthMm ?? cut.thicknessMm, cut.thicknessMm);
  const weighed = explanations(cut, depthMm).map((each) => ({ ...each, weight: weightOf(each, depthMm, input) }));
  const total = weighed.reduce((sum, each) => sum + each.weight, 0);
  const causes = weighed
    .map(({ passes: _, deviation: __, ...cause }) => ({
      ...cause,
      weight: total > 0 ? cause.weight / total : 1 / weighed.length,
    }))
    .sort((a, b) => b.weight - a.weight);
  return { causes, explainedDepthMm: depthMm, problem: null };
}

/** A cause with how far its number lies from what was assumed, in the unit of its usual size, and the recipe that results, for the kerf. */
interface Explanation extends Omit<Cause, 'weight'> {
  deviation: number;
  passes: readonly CutPass[];
}

function explanations(cut: CutInput, depthMm: number): Explanation[] {
  const { beam, stock, passes } = cut;
  const powerFactor = powerFactorFor(beam, stock, passes, depthMm);
  const removalFactor = removalFactorFor(beam, stock, passes, depthMm);
  const weak = passes.map((pass) => ({ ...pass, powerW: pass.powerW * powerFactor }));
  const less = Math.max(0, -Math.log(powerFactor));
  const reached = marchedDepthMm(beam, stock, passes);
  const found: Explanation[] = [
    { kind: 'settings-short', throughProbability: throughProbability(cut), deviation: 0, passes },
    { kind: 'power-weak', powerFactor, deviation: less, passes: weak },
    { kind: 'mirrors-drifting', powerFactor, deviation: less, passes: weak },
    { kind: 'lens-dirty', powerFactor, deviation: less, passes: weak },
    { kind: 'material-harder', removalFactor, deviation: Math.max(0, Math.log(removalFactor)), passes },
  ];
  const shifts = [focusReaching(cut, depthMm, 1), focusReaching(cut, depthMm, -1)].filter((each) => each !== null);
  const moved = (shift: number) => passes.map((pass) => ({ ...pass, focusMm: pass.focusMm + shift }));
  for (const focusOffMm of shifts) {
    found.push({ kind: 'focus-off', focusOffMm, deviation: Math.abs(focusOffMm), passes: moved(focusOffMm) });
  }
  // A sheet may rise or sag: the smaller of the two shifts is what it takes.
  const least = shifts.sort((a, b) => Math.abs(a) - Math.abs(b))[0];
  if (least !== undefined) {
    found.push({ kind: 'sheet-bowed', bowMm: Math.abs(least), deviation: Math.abs(least), passes: moved(least) });
  }
  if (reached > 0 && reached >= cut.thicknessMm) {
    found.push({ kind: 'sheet-thicker', thicknessMm: reached, deviation: Math.log(reached / cut.thicknessMm), passes });
  }
  return found;
}

/** The smallest shift of the waist, in one direction, with which the recipe reaches no deeper than what was seen; null when none within 30 mm. */
function focusReaching(cut: CutInput, depthMm: number, sign: number): number | null {
  const reaches = (shift: number) => {
    const moved = cut.passes.map((pass) => ({ ...pass, focusMm: pass.focusMm + sign * shift }));
    return marchedDepthMm(cut.beam, cut.stock, moved, depthMm) >= depthMm;
  };
  const step = 0.25;
  let far = 0;
  while (reaches(far)) {
    far += step;
    if (far > FARTHEST_FOCUS_MM) return null;
  }
  if (far === 0) return null;
  let near = far - step;
  for (let i = 0; i < 12; i++) {
    const middle = (near + far) / 2;
    if (reaches(middle)) near = middle;
    else far = middle;
  }
  return sign * far;
}

function weightOf(each: Explanation, depthMm: number, { cut, seen, hiddenGlue }: DiagnosisInput): number {
  const { before, usual, where, since, edge } = PLAUSIBILITY[each.kind];
  let weight = before;
  // The doubt alone may explain it: how much of it lies at the depth seen or above, all of it when that is the median.
  if (each.kind === 'settings-short')
    weight *= Math.min(1, 2 * (1 - throughProbability({ ...cut, thicknessMm: depthMm })));
  else weight *= (1 + (each.deviation / usual) ** 2) ** -FAULT_TAIL;
  if (each.kind === 'focus-off') weight /= 2;
  if (each.kind === 'material-harder' && hiddenGlue) weight *= HIDDEN_GLUE;
  if (seen.where !== null) weight *= where[seen.where];
  if (seen.since !== null) weight *= since[seen.since];
  if (seen.edge !== null) weight *= edge[seen.edge];
  if (seen.kerfMm !== null) {
    const kerf = kerfOf({ ...cut, passes: each.passes }).kerfTopMm;
    const miss = kerf > 0 ? Math.log(seen.kerfMm / kerf) / KERF_SIGMA : 3;
    // A kerf that fits no cause must not decide between them.
    weight *= Math.max(1e-3, Math.exp(-0.5 * miss * miss));
  }
  return weight;
}
