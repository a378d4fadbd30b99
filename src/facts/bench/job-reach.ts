import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import { leastSure } from '../cuts/least-sure.ts';
import type { JobFacts } from '../facts.ts';
import { type ReachRequest, reachCurves } from './reach.ts';
import type { ReachCurves } from './reach-model.ts';

/**
 * What the job's machine and lenses reach in its material with the recipe of the job's least sure cut; null when that
 * cannot be said. Jobs that ask for the same are computed once: `known` is kept by whoever runs over several jobs.
 */
export function jobReach(
  facts: JobFacts,
  known: Map<string, ReachCurves | null>,
  citedCuts: () => readonly CitedCut[],
): ReachCurves | null {
  const { machine, lens, material } = facts;
  const pass = leastSure(facts.cuts)?.passes[0];
  if (!machine || !lens || !material || !pass || !(pass.setting > 0)) return null;
  const request: Omit<ReachRequest, 'citedCuts'> = {
    machine,
    material,
    lenses: [lens],
    passes: leastSure(facts.cuts)?.passes.length ?? 1,
    setting: pass.setting,
    focusMm: pass.focusMm,
    at: null,
  };
  const { passes, setting, focusMm } = request;
  const key = JSON.stringify([machine.file, machine.id, lens.id, material.file, material.id, passes, setting, focusMm]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const model = reachCurves({ ...request, citedCuts: citedCuts() }).value;
  known.set(key, model);
  return model;
}
