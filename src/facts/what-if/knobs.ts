import type { Machine, Material } from '../../job/model.ts';
import { formatCount, formatMm, formatPercent, formatSpeed, roundTo } from '../../units/format.ts';
import { MOST_PASSES } from '../cuts/prediction.ts';
import { whyNeverCut } from '../cuts/predictor-of-job.ts';
import { settingChoices } from '../cuts/setting-choices.ts';
import { SLOWEST_MM_PER_S } from '../recipes/lens-search.ts';

/** The values that one thing can be turned to, rising, and what keeps it from going further. */
export interface Knob {
  readonly values: readonly number[];
  readonly leastBy: string;
  readonly mostBy: string;
}

/** What can be turned of one cut. */
export interface CutKnobs {
  /** mm/s; null where motion cannot be planned anew. */
  readonly speed: Knob | null;
  /** Shares of full power. */
  readonly setting: Knob;
  readonly passes: Knob | null;
  /** Waist above (+) or below (−) the top face in the first pass, mm. */
  readonly focus: Knob;
  /** Change of focus from pass to pass, mm; null where the machine cannot move it while it runs. */
  readonly focusStep: Knob | null;
}

/** Speeds go in steps of about this share of themselves, in numbers that one types. */
const SPEED_STEPS: readonly (readonly [from: number, step: number])[] = [
  [0, 0.1],
  [10, 0.5],
  [50, 1],
  [100, 5],
  [500, 10],
];
/** Steps of focus and thickness, mm. */
const MM_STEP = 0.1;
const FOCUS_STEP_MM = 0.1;
/** The focus is turned up to this share of the sheet above its face; it is no use further up (common practice, no source). */
const ABOVE_FACE = 0.5;

/**
 * The knobs of a cut in a sheet: from the firing floor to the ceiling, from the clean-speed floor to the head's top speed, up to the passes
 * that such a source makes sense with, the focus within the sheet and the travel of Z. Null for a material that must not or cannot be cut.
 */
export function knobsOf(
  { machine, material, thicknessMm }: { machine: Machine; material: Material; thicknessMm: number },
  motion: { turns: boolean; focusMoves: boolean },
): CutKnobs | null {
  if (whyNeverCut(machine, material) !== null) return null;
  const { kind, ceiling, floor } = machine.source;
  const settings = settingChoices(machine, null).map(({ setting }) => setting);
  if (settings.length === 0) return null;
  const passes = Array.from({ length: MOST_PASSES[kind] }, (_, i) => i + 1);
  return {
    speed: motion.turns ? speedKnob(machine, material) : null,
    setting: {
      values: settings,
      leastBy: floor === null ? 'the least power' : `the firing floor of ${formatPercent(floor)}`,
      mostBy: ceiling === null ? 'full power' : `the ceiling of ${formatPercent(ceiling)}`,
    },
    passes: motion.turns
      ? {
          values: passes,
          leastBy: '1 pass',
          mostBy: `${formatCount(passes.length, 'pass', 'passes')} with such a source`,
        }
      : null,
    focus: focusKnob(machine, thicknessMm),
    focusStep: motion.focusMoves
      ? {
          values: mmFrom(-thicknessMm, 0, FOCUS_STEP_MM),
          leastBy: `the sheet of ${formatMm(thicknessMm)}`,
          mostBy: 'no change from pass to pass',
        }
      : null,
  };
}

/** Thicknesses to try: from the thinnest to the thickest sheet sold of the material. */
export function thicknessKnob({ thicknessMm, name }: Material): Knob {
  const { min, max } = thicknessMm;
  return {
    values: mmFrom(min, max, MM_STEP),
    leastBy: `the thinnest ${name} sold, ${formatMm(min)}`,
    mostBy: `the thickest ${name} sold, ${formatMm(max)}`,
  };
}

function speedKnob(machine: Machine, material: Material): Knob {
  const floor = material.cleanSpeedMmPerS[machine.source.kind];
  const most = machine.motion.speedMmPerS;
  const least = Math.min(floor ?? SLOWEST_MM_PER_S, most);
  const values = [least];
  for (let speed = least; ; ) {
    const step = SPEED_STEPS.findLast(([from]) => from <= speed)![1];
    speed = roundTo(Math.floor(speed / step + 1e-9) * step + step, 1);
    if (speed >= most || values.length > MOST_VALUES) break;
    values.push(speed);
  }
  if (most > least) values.push(most);
  return {
    values,
    leastBy:
      floor === null
        ? `the slowest that is tried, ${formatSpeed(least)}`
        : `the clean-speed floor of ${formatSpeed(floor)}`,
    mostBy: `the head's top speed of ${formatSpeed(most)}`,
  };
}

function focusKnob({ travel, controller }: Machine, thicknessMm: number): Knob {
  const travelMm = controller.zZero === 'fixed' ? null : travel.zMm;
  const least = -Math.min(thicknessMm, travelMm ?? thicknessMm);
  const most = Math.min(thicknessMm * ABOVE_FACE, travelMm ?? thicknessMm);
  const by = (limitMm: number, sheet: string) =>
    travelMm !== null && Math.abs(limitMm) >= travelMm ? `the travel of Z, ${formatMm(travelMm)}` : sheet;
  return {
    values: mmFrom(least, most, FOCUS_STEP_MM),
    leastBy: by(least, 'the underside of the sheet'),
    mostBy: by(most, 'half the sheet above its face'),
  };
}

/** A profile may state any travel and any top speed: more values than this are on no slider. */
const MOST_VALUES = 2000;

/** Values on the grid of `step` between two limits, with the limits themselves. */
function mmFrom(least: number, most: number, step: number): number[] {
  const fine = Math.max(step, (most - least) / MOST_VALUES);
  const values = [least];
  const first = Math.floor(least / fine + 1e-9) + 1;
  for (let k = first; k * fine < most - 1e-9; k++) values.push(roundTo(k * fine, 3));
  if (most > least) values.push(most);
  return values;
}
