import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import { type NearestCuts, nearestCuts } from '../evidence/near-cuts.ts';
import type { Setup } from './setup.ts';

/** What others published that comes nearest to a recipe on a set-up. */
export function publishedNear(
  { machine, material, thicknessMm }: Setup,
  recipe: { readonly powerW: number; readonly speedMmPerS: number; readonly passes: number },
  citedCuts: readonly CitedCut[],
): NearestCuts {
  const { powerW, speedMmPerS, passes } = recipe;
  const { kind } = machine.source;
  return nearestCuts(citedCuts, { kind, material: material.id, thicknessMm, powerW, speedMmPerS, passes });
}
