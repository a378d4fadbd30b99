import type { Task } from '../../job/model.ts';
import { settingOf } from '../tasks/selecting.ts';
import type { StatedSettings } from './recipe-fact.ts';

/** What a task's plan has fixed already. */
export function statedBy(planned: Task | null, fullW: number): StatedSettings {
  return {
    setting: planned?.power ? settingOf(planned.power, fullW) : null,
    speedMmPerS: planned?.speedMmPerS ?? null,
    passes: planned?.passes ?? null,
    focusMm: planned?.focusMm ?? null,
    focusStepMm: planned?.focusStepMm ?? 0,
  };
}
