import { type ReachRequest, SLOWEST_MM_PER_S } from '../../facts/bench/reach.ts';
import { basisUnder } from '../../facts/bench/reach-basis.ts';
import { reachDepth } from '../../facts/bench/reach-depth.ts';
import type { ReachOverview } from '../../facts/bench/reach-model.ts';
import { done, fullPower, materialProblem, type Outcome, setUp, sourceText } from '../../facts/bench/set-up.ts';
import type { Machine, Material } from '../../job/model.ts';
import { roundTo } from '../../units/format.ts';

export { type ReachRequest, reach } from '../../facts/bench/reach.ts';
export { weakestPlace } from '../../facts/cuts/power.ts';

/** As for one material, of every one. */
interface OverviewOptions extends Pick<ReachRequest, 'lenses' | 'setting' | 'focusMm' | 'at'> {
  passes: number;
}

/** The greatest thickness of each material under each lens, at its clean-speed floor (1 mm/s where it has none). */
export function reachOverview(
  machine: Machine,
  materials: readonly Material[],
  { lenses: named, passes, setting, focusMm, at }: OverviewOptions,
): Outcome<ReachOverview> {
  const power = fullPower(machine, setting, at);
  if (power.value === null) return power;
  const lenses = named.length > 0 ? named : machine.lenses;
  const cut = materials.filter((material) => materialProblem(machine, material) === null);
  return done({
    machine: machine.id,
    source: sourceText(machine, power.value.powerW),
    setting: power.value.setting,
    powerW: roundTo(power.value.powerW, 1),
    passes,
    lenses: lenses.map((lens) => lens.id),
    rows: cut.map((material) => ({
      material: material.id,
      name: material.name,
      hazard: material.hazard.class,
      basis: basisUnder(machine, lenses, material),
      greatest: lenses.map((lens) => {
        const setup = setUp({ machine, lens, material, thickness: { mm: 1, plusMinusMm: null, nominal: true } });
        if (setup.value === null) return null;
        const speedMmPerS = material.cleanSpeedMmPerS[machine.source.kind] ?? SLOWEST_MM_PER_S;
        return reachDepth(setup.value, { ...power.value, speedMmPerS, passes, focusMm });
      }),
    })),
    leftOut: materials.length - cut.length,
  });
}
