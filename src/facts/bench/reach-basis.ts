import type { Lens, Machine, Material } from '../../job/model.ts';
import { groundsOf } from '../coupons/grounds.ts';
import { errorLimitOf, limitOf } from '../cuts/limits.ts';
import { basisOf } from '../cuts/prediction.ts';

/** What reach rests on: one text where all lenses share it, else one for each with its lenses. */
export function basisUnder(machine: Machine, lenses: readonly Lens[], material: Material): string {
  const byBasis = new Map<string, string[]>();
  for (const lens of lenses) {
    const grounds = groundsOf(machine, lens, material);
    const basis = grounds === null ? 'none' : basisOf(grounds);
    byBasis.set(basis, [...(byBasis.get(basis) ?? []), lens.id]);
  }
  if (byBasis.size === 1) return [...byBasis.keys()][0]!;
  return [...byBasis].map(([basis, ids]) => `${ids.join(', ')}: ${basis}`).join('; ');
}

/** The probability that sheets in a chart are held to, and the one below which they count as out of reach: the strictest that one of the lenses is judged by. */
export function limitsUnder(
  machine: Machine,
  lenses: readonly Lens[],
  material: Material,
): { limit: number; errorLimit: number } {
  const grounds = lenses.map((lens) => groundsOf(machine, lens, material) ?? { bracketed: false });
  return { limit: Math.max(...grounds.map(limitOf)), errorLimit: Math.max(...grounds.map(errorLimitOf)) };
}
