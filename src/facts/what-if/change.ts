import type { Material } from '../../job/model.ts';

/** What is turned of one cut; what is left out stays as it is programmed or planned. */
export interface CutChange {
  /** Index into the cuts of the job as it is planned. */
  readonly cut: number;
  /** Share of full power. */
  readonly setting?: number;
  readonly speedMmPerS?: number;
  readonly passes?: number;
  /** Waist above (+) or below (−) the top face in the first pass, mm, and its change from pass to pass. */
  readonly focusMm?: number;
  readonly focusStepMm?: number;
}

/** What is turned of a job; what is left out stays as it is. */
export interface Change {
  readonly lens?: string;
  readonly material?: Material;
  /** The sheet's tolerance stays. */
  readonly thicknessMm?: number;
  readonly cuts: readonly CutChange[];
}
