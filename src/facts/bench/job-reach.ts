import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import type { CuredJob } from '../cure/cure-fact.ts';
import { leastSure } from '../cuts/least-sure.ts';
import type { ReachGoal } from '../drawing/drawing-model.ts';
import type { JobFacts } from '../facts.ts';
import { type ReachRequest, reachCurves } from './reach.ts';
import type { ReachCurves } from './reach-model.ts';

/** Curves that were computed before, by what they were asked for. */
export type KnownReach = Map<string, ReachCurves | null>;

/** Equal passes of which curves are asked, as far as they are not the speed. */
interface CurvesOf {
  passes: number;
  setting: number;
  focusMm: number;
}

/**
 * What the job's machine reaches in its material under each of its lenses, the fitted one first: with the recipe of the job's least sure cut, and of
 * artwork without settings with the one that is proposed, or comes nearest. Null when that cannot be said. Jobs that ask for the same are
 * computed once: `known` is kept by whoever runs over several jobs.
 */
export function jobReach(facts: JobFacts, known: KnownReach, citedCuts: () => readonly CitedCut[]): ReachCurves | null {
  const { machine, lens } = facts;
  const of = curvesOf(facts);
  if (!machine || !lens || !of) return null;
  const others = machine.lenses.filter(({ id }) => id !== lens.id);
  return curves(facts, { lenses: [lens, ...others], ...of }, known, citedCuts);
}

/** Where the change that is shown lies on that chart, or what is proposed for artwork without settings; null where nothing is. */
export function reachGoal(facts: JobFacts, cured: CuredJob | null, known: KnownReach): ReachGoal | null {
  const goal = cured ? goalOfCure(cured) : goalOfProposal(facts);
  const lens = facts.machine?.lenses.find(({ id }) => id === goal?.lens);
  const chart = curvesOf(facts);
  if (!goal || !lens || !chart) return null;
  const { passes, setting, focusMm, focusStepMm, ...rest } = goal;
  const same = passes === chart.passes && setting === chart.setting && focusMm === chart.focusMm;
  // Curves are of passes at one focus.
  const model =
    same || focusStepMm !== 0 ? null : curves(facts, { lenses: [lens], passes, setting, focusMm }, known, () => []);
  return { ...rest, passes, setting, points: model?.lenses[0]?.points ?? [] };
}

type Goal = Omit<ReachGoal, 'points'> & { focusMm: number; focusStepMm: number };

function goalOfCure({ cure, facts }: CuredJob): Goal | null {
  const cut = leastSure(
    facts.cuts.filter((_, i) => cure.cuts.some(({ index, remedy }) => index === i && remedy !== null)),
  );
  const [first, second] = cut?.passes ?? [];
  if (!cut?.prediction || !first) return null;
  return {
    lens: cure.lens,
    speedMmPerS: first.programmedMmPerS,
    passes: cut.passes.length,
    setting: first.setting,
    probability: cut.prediction.throughProbability,
    focusMm: first.focusMm,
    focusStepMm: second ? second.focusMm - first.focusMm : 0,
  };
}

function goalOfProposal({ proposals }: JobFacts): Goal | null {
  const recipe = proposals[0]?.proposed;
  if (!recipe) return null;
  const { powerW: _watts, throughProbability: probability, ...rest } = recipe;
  return { ...rest, probability };
}

function curvesOf({ cuts, proposals }: JobFacts): CurvesOf | null {
  const passes = leastSure(cuts)?.passes;
  if (passes?.[0]) return { passes: passes.length, setting: passes[0].setting, focusMm: passes[0].focusMm };
  const [proposal] = proposals;
  const recipe = proposal && (proposal.proposed ?? proposal.surest);
  return recipe ? { passes: recipe.passes, setting: recipe.setting, focusMm: recipe.focusMm } : null;
}

function curves(
  { machine, material }: JobFacts,
  asked: Pick<ReachRequest, 'lenses'> & CurvesOf,
  known: KnownReach,
  citedCuts: () => readonly CitedCut[],
): ReachCurves | null {
  const { lenses, passes, setting, focusMm } = asked;
  if (!machine || !material || !(setting > 0)) return null;
  const ids = lenses.map(({ id }) => id);
  const key = JSON.stringify([machine.file, machine.id, ids, material.file, material.id, passes, setting, focusMm]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const model = reachCurves({ machine, material, ...asked, at: null, citedCuts: citedCuts() }).value;
  known.set(key, model);
  return model;
}
