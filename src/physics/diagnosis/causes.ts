import { cutProblem } from '../doubt/predict.ts';
import { type Explanation, explanationOf, type Fit } from './explanation.ts';
import { CHECK_MINUTES, FAULTS } from './fault-table.ts';
import type { CauseKind, FaultKind, Observation } from './observation.ts';
import { type FailedCut, waysOf } from './ways.ts';
import { depthSigma, REPRODUCED, type WeighedWay, weighWay } from './weigh-way.ts';

/** One cause, and how it would explain what was seen. */
export interface Cause {
  kind: CauseKind;
  fit: Fit;
  /** Share of the belief among the causes that fit, 0…1; 0 for one that does not explain it alone. */
  share: number;
  /** What its check at the machine takes. */
  checkMinutes: number;
  /** What of it fits, the likeliest fault first and of each what comes nearest; where nothing fits, what comes nearest. Never empty. */
  explanations: Explanation[];
}

export type DiagnosisResult = { causes: Cause[]; problem: null } | { causes: null; problem: string };

/** Glue that is known to hide in a material makes it this much likelier to be the fault (memory). */
const HIDDEN_GLUE = 2;
/** So many ways of one fault are told: high and low, or the likeliest lenses and materials. */
const MOST_WAYS = 2;

/**
 * Ranks what may explain a cut that did not go through. A fault is believed by how likely it makes what was seen, over all sizes that it is met
 * with, by how common it is, and by where, since when and with what edge it shows; faults that one check shows are one cause. Those that
 * explain it with a size inside their range come first, in the order of belief over the minutes of their check: checks in that order find
 * the fault soonest on average (the rule of searching in several places for one thing; memory). Those that do not explain it alone come
 * last, the nearest first.
 */
export function rankCauses(failed: FailedCut, seen: Observation): DiagnosisResult {
  const problem = cutProblem(failed.cut) ?? observationProblem(seen);
  if (problem !== null) return { causes: null, problem };
  const sigma = depthSigma(failed.cut);
  const faults = (Object.keys(FAULTS) as FaultKind[]).flatMap((kind) => weighFault(kind, failed, seen, sigma) ?? []);
  const causes = (Object.keys(CHECK_MINUTES) as CauseKind[]).flatMap((kind) => {
    const its = faults.filter((fault) => FAULTS[fault.kind].cause === kind);
    return its.length === 0 ? [] : causeOf(kind, its);
  });
  const fitting = causes.filter(({ cause }) => cause.fit !== 'not-alone');
  const total = fitting.reduce((sum, { belief }) => sum + belief, 0);
  const named = fitting
    .map(({ cause, belief }) => ({ ...cause, share: total > 0 ? belief / total : 1 / fitting.length }))
    .sort((a, b) => b.share / b.checkMinutes - a.share / a.checkMinutes);
  const rest = causes.filter(({ cause }) => cause.fit === 'not-alone').sort((a, b) => a.miss - b.miss);
  return { causes: [...named, ...rest.map(({ cause }) => cause)], problem: null };
}

function observationProblem({ depthMm, kerfMm }: Observation): string | null {
  if (depthMm !== null && !(Number.isFinite(depthMm) && depthMm > 0)) {
    return `a depth of ${depthMm} mm explains nothing: was there a beam at all?`;
  }
  if (kerfMm !== null && !(Number.isFinite(kerfMm) && kerfMm > 0)) return `the kerf cannot be ${kerfMm} mm`;
  return null;
}

interface WeighedFault {
  kind: FaultKind;
  /** Not yet shared out; of a fault that does not fit it does not count. */
  belief: number;
  /** Of the way that comes nearest. */
  miss: number;
  fits: boolean;
  explanations: Explanation[];
}

/** Null where there cannot be such a fault. */
function weighFault(kind: FaultKind, failed: FailedCut, seen: Observation, sigma: number): WeighedFault | null {
  const ways = waysOf(kind, failed).map((way) => weighWay(way, seen, sigma));
  if (ways.length === 0) return null;
  const likelihood = ways.reduce((sum, each) => sum + each.likelihood, 0) / ways.length;
  const nearest = ways.toSorted(byNearness).slice(0, MOST_WAYS);
  const explanations = nearest.map((each) => explanationOf(kind, each, seen));
  const fitting = explanations.filter(({ fit }) => fit !== 'not-alone');
  return {
    kind,
    belief: oddsOf(kind, failed) * signs(kind, seen) * likelihood,
    miss: nearest[0]!.miss,
    fits: fitting.length > 0,
    explanations: fitting.length > 0 ? fitting : explanations.slice(0, 1),
  };
}

/** The cause that these faults are named as: of those that fit, else of the one that comes nearest. */
function causeOf(kind: CauseKind, faults: readonly WeighedFault[]): { cause: Cause; belief: number; miss: number } {
  const fitting = faults.filter(({ fits }) => fits).sort((a, b) => b.belief - a.belief);
  const told = fitting.length > 0 ? fitting : faults.toSorted((a, b) => a.miss - b.miss).slice(0, 1);
  const explanations = told.flatMap((fault) => fault.explanations);
  const fit = explanations.some((each) => each.fit === 'reproduces') ? 'reproduces' : explanations[0]!.fit;
  return {
    cause: { kind, fit, share: 0, checkMinutes: CHECK_MINUTES[kind], explanations },
    belief: fitting.reduce((sum, { belief }) => sum + belief, 0),
    miss: Math.min(...told.map(({ miss }) => miss)),
  };
}

/** Those that reproduce what was seen first, the smaller fault before the larger, else the likelier; then the nearer before the farther. */
function byNearness(a: WeighedWay, b: WeighedWay): number {
  const reproducing = Number(b.miss <= REPRODUCED) - Number(a.miss <= REPRODUCED);
  if (reproducing !== 0) return reproducing;
  if (a.miss > REPRODUCED) return a.miss - b.miss;
  return a.value - b.value || b.likelihood - a.likelihood;
}

function oddsOf(kind: FaultKind, failed: FailedCut): number {
  const { before } = FAULTS[kind];
  if (kind === 'lens-wrong') return before * failed.otherLenses.length;
  return kind === 'glue' && failed.glue === 'hidden' ? before * HIDDEN_GLUE : before;
}

/** How often the fault shows where, since when and with the edge that were seen. */
function signs(kind: FaultKind, seen: Observation): number {
  const { where, since, edge } = FAULTS[kind];
  return (
    (seen.where === null ? 1 : where[seen.where]) *
    (seen.since === null ? 1 : since[seen.since]) *
    (seen.edge === null ? 1 : edge[seen.edge])
  );
}
