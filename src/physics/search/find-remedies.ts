import { cutProblem, probabilityFrom } from '../doubt/predict.ts';
import type { Remedy, RemedyProblem } from './remedy.ts';
import { RemedySearch } from './remedy-search.ts';

/** Setting up, s, and the order of effort (common practice, no source). */
const SET_UP_S: Record<Remedy['kind'], number> = {
  'more-power': 0,
  slower: 0,
  'slower-and-more-power': 0,
  'more-passes': 0,
  'other-focus': 30,
  'other-lens': 300,
  'thinner-stacked': 900,
  'out-of-reach': Number.POSITIVE_INFINITY,
};
const USUAL_CUT_TIME_S = 60;

/**
 * The changes that get a cut to the limit it is judged by, cheapest first: by the time they cost, setting up included,
 * then by effort. Another lens is proposed only where it cuts faster than every change without it; thinner sheet in layers is proposed only where nothing else helps, and `out-of-reach` where that does
 * not either. Empty when the cut reaches the limit as planned, or when its input has a problem other than no power.
 */
export function findRemedies(problem: RemedyProblem): Remedy[] {
  const planned = problem.cut.passes;
  const startable = {
    ...problem.cut,
    passes: planned.map((pass) => ({ ...pass, powerW: Math.max(pass.powerW, 1e-9) })),
  };
  if (planned.length === 0 || cutProblem(startable) !== null) return [];
  if (probabilityFrom(problem.limit, problem.cut) !== null) return [];
  const search = new RemedySearch(problem);
  const found = [search.morePower(), search.slower(), search.otherFocus(), search.morePasses()].filter(
    (each) => each !== null,
  );
  if (!found.some((each) => each.kind === 'slower' || each.kind === 'more-power')) {
    const both = search.slowerAndMorePower();
    if (both !== null) found.push(both);
  }
  // Another lens must save cutting time to be worth the change.
  const fastest = Math.min(
    ...found.map((each) => ('relativeTime' in each ? each.relativeTime : Number.POSITIVE_INFINITY)),
  );
  for (const lens of problem.otherLenses) {
    const remedy = search.otherLens(lens);
    if (remedy !== null && 'relativeTime' in remedy && remedy.relativeTime < fastest) found.push(remedy);
  }
  if (found.length === 0) {
    const stacked = search.thinnerStacked();
    return [stacked ?? { kind: 'out-of-reach', throughProbability: search.bestProbability() }];
  }
  const cutTimeS = problem.cutTimeS ?? USUAL_CUT_TIME_S;
  const costS = (each: Remedy) => ('relativeTime' in each ? each.relativeTime * cutTimeS : 0) + SET_UP_S[each.kind];
  const effort = Object.keys(SET_UP_S);
  return found.sort((a, b) => costS(a) - costS(b) || effort.indexOf(a.kind) - effort.indexOf(b.kind));
}
