import type { Machine } from '../../job/model.ts';
import type { HeadLimits } from '../../model/motion/head-limits.ts';
import { type Rerun, rerun } from '../../model/motion/rerun.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import type { StretchList } from '../cuts/passes.ts';
import { followsZ } from '../cuts/toolpath-cuts.ts';
import type { CutChange } from './change.ts';
import { MOST_TIMES, RerunStretches, runsFor } from './pass-order.ts';
import { turnedExtremes } from './turned-extremes.ts';

/** A toolpath with other settings, and what has become of its strokes. */
export interface TurnedToolpath {
  readonly toolpath: Toolpath;
  readonly stretches: StretchList;
  /** Of each old stroke the first that came of it; null where the strokes are the same. */
  readonly rerun: Pick<Rerun, 'firstOf' | 'times' | 'apart'> | null;
}

/** What a toolpath is turned with. */
export interface TurningInput {
  readonly toolpath: Toolpath;
  readonly stretches: StretchList;
  /** Which pass each stroke is over what it runs along. */
  readonly passOf: Uint8Array;
  readonly machine: Machine;
  readonly limits: HeadLimits;
  /** Cuts as programmed. */
  readonly planned: readonly CutFact[];
}

/**
 * The toolpath as it would be read, were the settings of some cuts others in the program. Speeds and passes need its journal: where it has
 * none they stay.
 */
export function turnedToolpath(input: TurningInput, changes: readonly CutChange[]): TurnedToolpath {
  const { toolpath, stretches } = input;
  const { strokes } = toolpath;
  const setting = strokes.setting.slice();
  const speedMmPerS = strokes.speedMmPerS.slice();
  const wanted = new Uint8Array(strokes.count);
  const changeOf = new Int32Array(strokes.count).fill(-1);
  const hasZ = followsZ(input.machine, toolpath);
  let [poweredOtherwise, movesOtherwise] = [false, false];
  changes.forEach((change, index) => {
    const cut = input.planned[change.cut]!;
    const passes = change.passes === cut.passCount ? undefined : change.passes;
    for (const i of cut.strokes) {
      if (change.setting !== undefined) setting[i] = change.setting;
      if (change.speedMmPerS !== undefined) speedMmPerS[i] = change.speedMmPerS;
      if (passes !== undefined) wanted[i] = Math.min(MOST_TIMES, Math.max(1, Math.round(passes)));
      changeOf[i] = index;
    }
    poweredOtherwise ||= change.setting !== undefined;
    movesOtherwise ||= change.speedMmPerS !== undefined || passes !== undefined;
    movesOtherwise ||= hasZ && (change.focusMm !== undefined || change.focusStepMm !== undefined);
  });
  const { journal } = toolpath;
  if (!movesOtherwise || !journal || journal.dropped > 0) {
    if (!poweredOtherwise) return { toolpath, stretches, rerun: null };
    // Power alone moves nothing: every stroke stays where and as fast as it is.
    const powered = { ...strokes, setting };
    return {
      toolpath: { ...toolpath, strokes: powered, ...turnedExtremes(toolpath, powered) },
      stretches,
      rerun: null,
    };
  }
  const made = rerun(toolpath, journal, input.limits, {
    runs: runsFor(strokes, input.passOf, wanted),
    setting,
    speedMmPerS,
    zMm: (stroke, again) => {
      const change = hasZ ? changes[changeOf[stroke]!] : undefined;
      return change ? focusOf(change, input.planned[change.cut]!, input.passOf[stroke]! + again) : null;
    },
  });
  const { strokes: after, time, timeByLabelS, cutLengthMm, travelLengthMm, moves } = made;
  return {
    toolpath: {
      ...toolpath,
      strokes: after,
      time,
      timeByLabelS,
      cutLengthMm,
      travelLengthMm,
      moves,
      ...turnedExtremes(toolpath, after),
    },
    stretches: new RerunStretches(stretches, made),
    rerun: made,
  };
}

/** Where the waist lies in a pass, mm. */
function focusOf(change: CutChange, { passes }: CutFact, pass: number): number | null {
  const [first, second] = passes;
  if (!first) return null;
  const step = change.focusStepMm ?? (second ? second.focusMm - first.focusMm : 0);
  return (change.focusMm ?? first.focusMm) + pass * step;
}
