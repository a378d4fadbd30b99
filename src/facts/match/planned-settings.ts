import type { Sidecar, Task } from '../../job/model.ts';
import { formatBar, formatCount, formatMm, formatPercent, formatSpeed, formatWatts } from '../../units/format.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import type { Assignment } from '../tasks/tasks.ts';
import type { SettingDifference } from './match-fact.ts';

/** Differences below these come from rounding in programs and controllers. */
const SAME_SETTING = 0.006;
const SAME_SPEED = 0.02;
const SAME_FOCUS_MM = 0.05;
/** A stretch this short, or this small a share of its task, is how outlines begin and end, not another recipe. */
const SHORT_MM = 3;
const SMALL_SHARE = 0.05;

/** Where the toolpath does something else than the sidecar plans, by task and setting, each difference once. */
export function settingsThatDiffer(
  sidecar: Sidecar,
  assignment: Assignment,
  cuts: readonly CutFact[],
): SettingDifference[] {
  const found = new Map<string, SettingDifference>();
  const total = new Map<number, number>();
  for (const cut of cuts) total.set(cut.taskIndex, (total.get(cut.taskIndex) ?? 0) + cut.lengthMm);
  // A task that the toolpath does not have was predicted from the plan and has nothing to differ from.
  const inToolpath = new Set(assignment.ofStroke);
  for (const cut of cuts) {
    const task = assignment.tasks[cut.taskIndex]?.planned;
    if (!task || !inToolpath.has(cut.taskIndex)) continue;
    const isOverlap = cut.lengthMm < SHORT_MM || cut.lengthMm < (total.get(cut.taskIndex) ?? 0) * SMALL_SHARE;
    for (const difference of differences(task, cut, isOverlap)) {
      const key = `${cut.taskIndex}|${difference.what}|${difference.found}`;
      const known = found.get(key);
      found.set(key, {
        task: task.name,
        ...difference,
        location: known?.location ?? cut.location,
        plannedAt: sidecar.placeOf(['tasks', cut.taskIndex, difference.what]),
        lengthMm: (known?.lengthMm ?? 0) + cut.lengthMm,
      });
    }
  }
  return [...found.values()];
}

function* differences(
  task: Task,
  cut: CutFact,
  isOverlap: boolean,
): Iterable<Pick<SettingDifference, 'what' | 'planned' | 'found'>> {
  if (task.power && 'fraction' in task.power) {
    const { fraction } = task.power;
    const other = cut.passes.find((pass) => Math.abs(pass.setting - fraction) > SAME_SETTING);
    if (other) yield { what: 'power', planned: formatPercent(fraction), found: formatPercent(other.setting) };
  } else if (task.power && 'watts' in task.power) {
    const { watts } = task.power;
    const other = cut.passes.find((pass) => Math.abs(pass.powerW - watts) > Math.max(1, watts * SAME_SPEED));
    if (other) yield { what: 'power', planned: formatWatts(watts), found: formatWatts(other.powerW) };
  }
  const speed = task.speedMmPerS;
  if (speed !== null) {
    const other = cut.passes.find((pass) => Math.abs(pass.programmedMmPerS - speed) > speed * SAME_SPEED);
    if (other) yield { what: 'speed', planned: formatSpeed(speed), found: formatSpeed(other.programmedMmPerS) };
  }
  if (!isOverlap && task.passes !== null && cut.passes.length !== task.passes) {
    yield {
      what: 'passes',
      planned: formatCount(task.passes, 'pass', 'passes'),
      found: formatCount(cut.passes.length, 'pass', 'passes'),
    };
  }
  if (task.focusMm !== null) {
    const first = cut.passes[0];
    if (first && Math.abs(first.focusMm - task.focusMm) > SAME_FOCUS_MM) {
      yield { what: 'focus', planned: formatMm(task.focusMm), found: formatMm(first.focusMm) };
    }
  }
  if (task.airBar !== null && task.airBar > 0 && cut.passes.some((pass) => !pass.air)) {
    yield { what: 'air', planned: formatBar(task.airBar), found: 'air off' };
  }
}
