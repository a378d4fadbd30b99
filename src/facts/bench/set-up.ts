import { SOURCE_NAMES } from '../../job/machine/source-names.ts';
import type { Lens, Machine, Material, Thickness } from '../../job/model.ts';
import type { CutInput } from '../../physics/doubt/predict.ts';
import { evenPasses } from '../../physics/march/passes.ts';
import { formatPercent, formatWatts } from '../../units/format.ts';
import { groundsOf } from '../coupons/grounds.ts';
import { beamOf, widestAcross } from '../cuts/optics.ts';
import { wattsAt } from '../cuts/power.ts';
import { CutPredictor, thicknessSpreadMm } from '../cuts/prediction.ts';
import type { Setup } from '../cuts/setup.ts';

/** A result, or a sentence that says why there is none and what to do. */
export type Outcome<T> = { value: T; problem: null } | { value: null; problem: string };

export const done = <T>(value: T): Outcome<T> => ({ value, problem: null });
export const refused = (problem: string): { value: null; problem: string } => ({ value: null, problem });

/** What stands on the bench: a machine with one of its lenses, and a sheet. */
export interface OnBench {
  machine: Machine;
  lens: Lens;
  material: Material;
  thickness: Thickness;
}

/** Why testing this material on this machine makes no sense; null when it does. */
export function materialProblem(machine: Machine, material: Material): string | null {
  if (material.hazard.class === 'never') return `${material.name} is never cut: ${material.hazard.reason}`;
  const kind = machine.source.kind;
  if (material.sources[kind] !== 'cuts' || material.removal === null) {
    const reason = material.sourceReasons[kind];
    return `a ${SOURCE_NAMES[kind]} source does not cut ${material.name}${reason === undefined ? '' : `: ${reason}`}`;
  }
  return null;
}

/** The set-up that predictions are made from, or why none can be made. */
export function setUp(bench: OnBench): Outcome<Setup> {
  const unfit = materialProblem(bench.machine, bench.material);
  return unfit === null ? setUpOf(bench) : refused(unfit);
}

/** The same for a cut that others made: whether it ought to be made is not asked. */
export function setUpOf(bench: OnBench): Outcome<Setup> {
  const { machine, lens, material, thickness } = bench;
  const grounds = groundsOf(machine, lens, material);
  if (grounds === null) return refused(`${material.name} has no removal energy`);
  const optics = beamOf(machine, lens);
  if (optics.beam === null) return refused(`lens ${lens.id}: ${optics.problem}`);
  if (!(thickness.mm > 0)) return refused(`the thickness must be above 0 mm, not ${thickness.mm}`);
  return done({
    machine,
    lens,
    beam: widestAcross(optics.beam),
    material,
    grounds,
    thicknessMm: thickness.mm,
    thicknessSpreadMm: thicknessSpreadMm(thickness),
    bowMm: 0,
  });
}

/** One recipe of equal passes on a set-up, as the march takes it: the same doubts as in a check. */
export function cutOf(
  setup: Setup,
  recipe: {
    powerW: number;
    spread: number;
    speedMmPerS: number;
    passes: number;
    focusMm: number;
    focusStepMm?: number;
  },
): CutInput {
  return new CutPredictor(setup).inputFor(evenPasses(recipe), recipe.spread);
}

/** The highest setting that is recommended, and its watts at a place on the bed (null: the middle). */
export function fullPower(
  machine: Machine,
  setting: number | null = null,
  at: { xMm: number; yMm: number } | null = null,
): Outcome<{ setting: number; powerW: number; spread: number }> {
  const share = setting ?? machine.source.ceiling ?? 1;
  const watts = wattsAt(machine, share, at);
  if (watts === null || !(watts.powerW > 0)) {
    return refused(`the profile of ${machine.id} gives no power at ${formatPercent(share)}: see its source section`);
  }
  return done({ setting: share, ...watts });
}

/** "CO₂, 54 W at the work". */
export function sourceText(machine: Machine, powerW: number): string {
  return `${SOURCE_NAMES[machine.source.kind]}, ${formatWatts(powerW)} at the work`;
}
