import { cutProblem } from '../doubt/predict.ts';
import { rememberedProbabilityFrom } from '../doubt/remembered.ts';
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
};
const USUAL_CUT_TIME_S = 60;

/**
 * The changes that get a cut to the limit it is judged by, cheapest first: by the time they cost, setting up included,
 * then by effort. Another lens is proposed only where it cuts faster than every change without it. Empty when no single change does it, when the
 * cut reaches the limit as planned, or when its input has a problem other than no power.
 */
export function findRemedies(problem: RemedyProblem): Remedy[] {
  const planned = problem.cut.passes;
  const startable = {
    ...problem.cut,
    passes: planned.map((pass) => ({ ...pass, powerW: Math.max(pass.powerW, 1e-9) })),
  };
  if (planned.length === 0 || cutProblem(startable) !== null) return [];
  if (rememberedProbabilityFrom(problem.limit, problem.cut) !== null) return [];
  const search = new RemedySearch(problem);
  const found = [search.morePower(), search.slower(), search.otherFocus(), search.morePasses()].filter(
    (each) => each !== null,
  );
  if (!found.some((each) => each.kind === 'slower' || each.kind === 'more-power')) {
    const both = search.slowerAndMorePower();
    if (both !== null) found.push(both);
  }
  // Another lens must save cutting time to be worth the change.
  const fastest = Math.min(...found.map((each) => each.relativeTime));
  for (const lens of problem.otherLenses) {
    const remedy = search.otherLens(lens, fastest);
    if (remedy !== null) found.push(remedy);
  }
  const cutTimeS = problem.cutTimeS ?? USUAL_CUT_TIME_S;
  const costS = (each: Remedy) => each.relativeTime * cutTimeS + SET_UP_S[each.kind];
  const effort = Object.keys(SET_UP_S);
  return found.sort((a, b) => costS(a) - costS(b) || effort.indexOf(a.kind) - effort.indexOf(b.kind));
}
