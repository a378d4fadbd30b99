import type { RemedyFact } from '../facts/cuts/cut-fact.ts';
import type { TaskFact } from '../facts/tasks/task-fact.ts';
import { formatPercent, formatSpeed, formatWatts } from '../units/format.ts';
import type { FixContext, Mirrored } from './fix.ts';

/** What a task plans of speed, power and passes, where it says so and the toolpath does otherwise now. Nothing that it leaves open is added. */
export function mirroredSettings(
  { facts }: Pick<FixContext, 'facts'>,
  { planned }: TaskFact,
  { speedMmPerS, setting, powerW, passes }: RemedyFact,
): Mirrored[] {
  const { sidecar } = facts.input;
  if (sidecar === null || planned === null) return [];
  const index = sidecar.tasks.indexOf(planned);
  const at = (key: string, text: string): Mirrored => ({ location: sidecar.placeOf(['tasks', index, key]), text });
  const mirrored: Mirrored[] = [];
  if (speedMmPerS !== null && planned.speedMmPerS !== null) mirrored.push(at('speed', formatSpeed(speedMmPerS)));
  if (setting !== null && planned.power !== null) {
    const watts = 'watts' in planned.power && powerW !== null;
    mirrored.push(at('power', watts ? formatWatts(powerW) : formatPercent(setting)));
  }
  if (passes !== null && planned.passes !== null) mirrored.push(at('passes', String(passes)));
  return mirrored;
}
