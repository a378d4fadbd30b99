import type { CutInput } from '../doubt/predict.ts';
import type { CutPass } from '../march/passes.ts';

/** A cut that falls short, and what the machine could do instead. */
export interface RemedyProblem {
  /** As planned. */
  cut: CutInput;
  /** P(through) that a remedy must reach: the limit the cut is judged by. */
  limit: number;
  /** Settings a person could choose and the watts they give here, rising, up to the recommended ceiling. */
  powerChoices: readonly { fraction: number; powerW: number }[];
  /** Below it the material chars, melts or flares; null where there is no floor. */
  cleanSpeedMmPerS: number | null;
  /** More passes than this say that the sheet is too thick for the machine: 3 for CO₂, 10 for a diode (common practice, no source). */
  maxPasses: number;
  /** Whether the focus may be lowered from one pass to the next. */
  focusMoves: boolean;
  /** The machine's other lenses: the cut as planned under each, with what is known of it there, and the limit that it is judged by. */
  otherLenses: readonly { id: string; cut: CutInput; limit: number }[];
  /** Time of the cut as planned, s; weighs the time of setting up against that of cutting. */
  cutTimeS?: number;
}

export interface RemedyCommon {
  throughProbability: number;
  /** Cutting time over that of the plan. */
  relativeTime: number;
  /** The whole recipe after the change. */
  passes: CutPass[];
}

/** One change that gets the cut through; the numbers are such as a person would type. */
export type Remedy =
  | ({ kind: 'slower'; speedMmPerS: number } & RemedyCommon)
  | ({ kind: 'more-power'; fraction: number; powerW: number } & RemedyCommon)
  | ({ kind: 'slower-and-more-power'; speedMmPerS: number; fraction: number; powerW: number } & RemedyCommon)
  | ({ kind: 'other-focus'; focusMm: number } & RemedyCommon)
  | ({
      kind: 'more-passes';
      count: number;
      focusMm: number;
      focusStepMm: number;
      speedMmPerS: number;
      powerW: number;
    } & RemedyCommon)
  | ({ kind: 'other-lens'; lensId: string; focusMm: number; speedMmPerS: number; powerW: number } & RemedyCommon);
