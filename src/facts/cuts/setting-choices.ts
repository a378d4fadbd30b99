import type { Machine } from '../../job/model.ts';
import { roundToStep } from '../../physics/march/passes.ts';
import type { PlaceOnBed } from './one-cut.ts';
import { wattsAt } from './power.ts';

/** Settings that are proposed, in steps that a person would type. */
const SETTING_STEP = 0.01;

/** A share of full power, and what it gives. */
export interface SettingChoice {
  readonly setting: number;
  /** At the work. */
  readonly powerW: number;
  /** 1σ as a fraction. */
  readonly spread: number;
}

/** Settings to choose from, rising, from the firing floor to the recommended maximum and no further; only such as give power. */
export function settingChoices(machine: Machine, at: PlaceOnBed): SettingChoice[] {
  const { floor, ceiling } = machine.source;
  const highest = ceiling ?? 1;
  const lowest = Math.max(SETTING_STEP, floor ?? 0);
  const steps = Math.floor((highest - lowest) / SETTING_STEP + 1e-9);
  const whole = Array.from({ length: steps + 1 }, (_, i) => roundToStep(lowest + i * SETTING_STEP, 1e-4));
  return choicesOf(machine, whole.at(-1) === highest ? whole : [...whole, highest], at);
}

/** The same of settings that are given. */
export function choicesOf(machine: Machine, settings: readonly number[], at: PlaceOnBed): SettingChoice[] {
  return settings.flatMap((setting): SettingChoice[] => {
    const watts = wattsAt(machine, setting, at);
    return watts && watts.powerW > 0 ? [{ setting, ...watts }] : [];
  });
}
