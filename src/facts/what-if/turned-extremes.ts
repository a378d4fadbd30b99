import { wholeLine } from '../../model/motion/raster.ts';
import type { Strokes } from '../../model/strokes.ts';
import type { Toolpath } from '../../model/toolpath.ts';

type Extremes = Pick<Toolpath, 'highestSetting' | 'lowestPoweredSetting' | 'highestSpeed'>;

/**
 * The highest and lowest power and the highest speed of a toolpath whose strokes were turned. What was commanded without being run along a
 * stroke stays.
 */
export function turnedExtremes(toolpath: Toolpath, after: Strokes): Extremes {
  const { strokes: before, areas, highestSetting, lowestPoweredSetting, highestSpeed } = toolpath;
  const speed = highestSpeed && {
    value: highestSpeed.mmPerS,
    place: highestSpeed.place,
  };
  const fastest = moved(speed, before.speedMmPerS, after, after.speedMmPerS, {
    areas: areas.map((a) => a.speedMmPerS),
    sign: 1,
  });
  return {
    highestSetting: withRaw(
      highestSetting,
      moved(highestSetting, before.setting, after, after.setting, { areas: areas.map((a) => a.maxSetting), sign: 1 }),
    ),
    lowestPoweredSetting: withRaw(
      lowestPoweredSetting,
      moved(lowestPoweredSetting, before.setting, after, after.setting, {
        areas: areas.map((a) => a.minSetting),
        sign: -1,
      }),
    ),
    highestSpeed: fastest && { mmPerS: fastest.value, place: fastest.place },
  };
}

interface Extreme {
  readonly value: number;
  readonly place: Toolpath['end']['place'];
}

/** An extreme of the program after its strokes were turned; `sign` −1 seeks the lowest. */
function moved(
  was: Extreme | null,
  before: Float64Array,
  strokes: Strokes,
  after: Float64Array,
  { areas, sign }: { areas: readonly number[]; sign: 1 | -1 },
): Extreme | null {
  const old = furthest(before, sign);
  const now = furthest(after, sign);
  if (!was || old.value === now.value) return was;
  const beyond = (a: number, b: number) => sign * (a - b) > 0;
  // What strokes asked for is gone with them.
  const others = beyond(was.value, old.value) ? [was.value, ...areas] : areas;
  const rest = others.reduce((most, value) => (beyond(value, most) ? value : most), -sign * Number.POSITIVE_INFINITY);
  if (beyond(rest, now.value)) return { value: rest, place: was.place };
  return { value: now.value, place: wholeLine(strokes.line[now.at]!) };
}

function furthest(values: Float64Array, sign: 1 | -1): { value: number; at: number } {
  let at = 0;
  for (let i = 1; i < values.length; i++) if (sign * (values[i]! - values[at]!) > 0) at = i;
  return { value: values[at] ?? Number.NaN, at };
}

/** The number as the program would write it: on the scale of what was there. */
function withRaw(was: Toolpath['highestSetting'], now: Extreme | null): Toolpath['highestSetting'] {
  if (!was || !now || now.value === was.value) return was;
  return { ...now, raw: was.value > 0 ? (was.raw / was.value) * now.value : was.raw };
}
