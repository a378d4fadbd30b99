import type { Machine, Task } from '../../job/model.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { roundTo } from '../../units/format.ts';

/** Numbers that controllers take for full power. */
const FULL_SCALES = [1, 100, 255, 256, 1000, 1023, 1024, 4095, 4096, 10_000, 12_000, 32_767, 65_535];
/** How far the setting on another scale may be from the planned one. */
export const SCALE_SLACK = 0.02;
/** Settings this near to what is planned are as planned. */
const AS_PLANNED = 0.1;

/** A program that seems to count power on another scale than the controller. */
export interface ScaleMixUp {
  /** The number that it seems to take for full power. */
  readonly scale: number;
  /** Highest planned share of full power; null where none is planned: then its highest number is the full one of that scale. */
  readonly planned: number | null;
}

/** The scale that a program's highest setting fits and the machine's does not; null where the profile's own is as good. */
export function scaleMixUp(
  toolpath: Pick<Toolpath, 'highestSetting'> | null,
  machine: Machine | null,
  tasks: readonly { readonly planned: Pick<Task, 'power'> | null }[],
  slack: number,
): ScaleMixUp | null {
  const highest = toolpath?.highestSetting ?? null;
  if (highest === null || machine === null) return null;
  const { full } = machine.controller.power;
  const others = FULL_SCALES.filter((scale) => Math.abs(scale / full - 1) > 0.01);
  const planned = highestPlanned(tasks);
  if (planned !== null) {
    if (Math.abs(highest.value / planned - 1) <= AS_PLANNED) return null;
    const scale = others.find(
      (one) => roundTo(Math.abs(highest.raw / one - planned), 4) <= slack && highest.raw <= one,
    );
    return scale === undefined ? null : { scale, planned };
  }
  const topped = others.find((scale) => scale > 1 && highest.raw === scale && scale < full);
  // A round share of the profile's own scale is a setting like any other: S100 of 1000 is 10 %.
  if (topped === undefined || roundTo(highest.value * 100, 6) % 1 === 0) return null;
  return { scale: topped, planned: null };
}

/** Highest planned share of full power; null when nothing is planned, or in watts. */
function highestPlanned(tasks: Parameters<typeof scaleMixUp>[2]): number | null {
  let highest: number | null = null;
  for (const { planned } of tasks) {
    const power = planned?.power ?? null;
    if (power === null || !('fraction' in power)) return null;
    highest = Math.max(highest ?? 0, power.fraction);
  }
  return highest;
}
