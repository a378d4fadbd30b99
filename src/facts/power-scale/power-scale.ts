import type { Machine } from '../../job/model.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';
import { formatPercent, roundTo, significant } from '../../units/format.ts';
import type { PredictorOrReason } from '../cuts/predictor-of-job.ts';
import type { TaskFact } from '../tasks/task-fact.ts';
import { PARTS, type Unanswered } from '../unanswered/unanswered.ts';

/** Numbers that controllers take for full power (common practice, no source). */
const FULL_SCALES = [1, 100, 255, 256, 1000, 1023, 1024, 4095, 4096, 10_000, 12_000, 32_767, 65_535];

/** How far the share on another scale may be from the planned one. */
export const SCALE_SLACK = 0.02;
/** A highest setting so near to the planned one is on the profile's scale. */
const NEAR_THE_PLAN = 0.1;

/** A program that seems to count power on another scale than the profile says. What its strokes get in watts is then not known. */
export interface ScaleDoubt {
  /** planned: the highest setting fits the plan on another scale alone; topped: it is exactly full on another scale. */
  readonly kind: 'planned' | 'topped';
  /** The highest setting as written. */
  readonly raw: number;
  /** What it is of the profile's full. */
  readonly share: number;
  /** The profile's full. */
  readonly full: number;
  /** Full on the scale that fits. */
  readonly scale: number;
  /** Highest planned share; null where none is planned. */
  readonly planned: number | null;
  /** Where the highest setting stands in the toolpath. */
  readonly place: Place;
}

/**
 * Whether a program counts power on another scale than its machine; null where nothing says so, or nothing can.
 * @param slack how far the share on the other scale may be from the planned one.
 */
export function scaleDoubtOf(
  {
    toolpath,
    machine,
    tasks,
  }: { readonly toolpath: Toolpath | null; readonly machine: Machine | null; readonly tasks: readonly TaskFact[] },
  slack = SCALE_SLACK,
): ScaleDoubt | null {
  const highest = toolpath?.highestSetting ?? null;
  const power = machine?.controller.power ?? null;
  // Where the program sets the scale itself, it was followed.
  if (highest === null || power === null || toolpath === null || setsScale(toolpath)) return null;
  const { full } = power;
  const others = FULL_SCALES.filter((scale) => Math.abs(scale / full - 1) > 0.01);
  const planned = highestPlanned(tasks);
  const found = { raw: highest.raw, share: highest.value, full, place: highest.place };
  if (planned !== null) {
    if (Math.abs(highest.value / planned - 1) <= NEAR_THE_PLAN) return null;
    const scale = others.find(
      (one) => roundTo(Math.abs(highest.raw / one - planned), 4) <= slack && highest.raw <= one,
    );
    return scale === undefined ? null : { kind: 'planned', ...found, planned, scale };
  }
  const scale = others.find((one) => one > 1 && highest.raw === one);
  if (scale === undefined) return null;
  // A round share of the profile's own scale is a setting like any other: S100 of 1000 is 10 %.
  if (scale < full && roundTo(highest.value * 100, 6) % 1 === 0) return null;
  return { kind: 'topped', ...found, planned, scale };
}

/** The predictor of a job's cuts, unless nobody knows how strongly they fire. */
export function unlessOffScale(known: PredictorOrReason, doubt: ScaleDoubt | null): PredictorOrReason {
  if (doubt === null) return known;
  const { raw, full, scale } = doubt;
  const notPredicted = `the program seems to count power on another scale: its highest is ${significant(raw)}, which fits a full power of ${scale} and not ${full}`;
  return { predictor: null, notPredicted };
}

function setsScale({ problems }: Toolpath): boolean {
  return problems.some(({ code, args }) => code === 'other-scale' && args['what'] === 'full');
}

/** Highest planned share of full power; null when nothing is planned, or in watts. */
function highestPlanned(tasks: readonly TaskFact[]): number | null {
  let highest: number | null = null;
  for (const { planned } of tasks) {
    const power = planned?.power ?? null;
    if (power === null || !('fraction' in power)) return null;
    highest = Math.max(highest ?? 0, power.fraction);
  }
  return highest;
}

const WHAT = `what power the beam has, and ${PARTS}`;

/** The question that a doubtful scale leaves open; none without one. */
export function ofScaleDoubt(doubt: ScaleDoubt | null): Unanswered[] {
  if (doubt === null) return [];
  const { raw, share, full, scale } = doubt;
  return [
    {
      fact: 'power-scale',
      what: WHAT,
      missing: `the program seems to count power on another scale: its highest is ${significant(raw)}, ${formatPercent(share)} of the machine's ${full}, and fits a full power of ${scale}`,
      remedy: `Export with full power at ${full}, or correct \`controller.power\` in the machine's profile. If the setting is meant, plan it as \`power\` in the sidecar.`,
    },
  ];
}

/**
 * The question that a machine leaves open whose power scale is not stated; none where there is no toolpath, or the scale is known.
 * @param highest the number that the program sets at most; null where it sets none, or could not be read.
 */
export function ofMissingScale(machine: Machine | null, hasToolpath: boolean, highest: number | null): Unanswered[] {
  if (machine === null || !hasToolpath || machine.controller.power !== null) return [];
  const hint = highest === null ? '' : ` The program goes up to ${significant(highest)}.`;
  return [
    {
      fact: 'power-scale',
      what: WHAT,
      missing: `the toolpath was not analysed: the profile of ${machine.id} does not state \`controller.power\`, and it is never assumed`,
      remedy: `${HOW_TO_STATE_THE_SCALE}${hint}`,
    },
  ];
}

/** How to find out what a controller takes for full power and where to write it. */
export const HOW_TO_STATE_THE_SCALE =
  "Write `controller: { power: { word: S, full: 1000 } }` with the value that gives full power: it stands in the controller's settings or manual.";
