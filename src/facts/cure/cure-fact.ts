import type { CutFact, RemedyFact } from '../cuts/cut-fact.ts';
import type { JobFacts } from '../facts.ts';
import type { TimeFact } from '../time/job-time.ts';
import type { WasteFact } from '../waste/waste.ts';

/** A cut as it would be with the change. */
export interface CuredCut {
  /** Index into the job's `cuts`. */
  readonly index: number;
  /** What to do with it, that of its task's least sure cut; null where the cut keeps its recipe and only the lens above it changes. */
  readonly remedy: RemedyFact | null;
  readonly cut: CutFact;
}

/**
 * The recipes with which every through cut of a job would be as sure as it is held to: for each task the remedy of its least sure cut. It is
 * what the report shows beside the plan, and stands in no file of the job.
 */
export interface CureFact {
  /** The lens it is cut under. */
  readonly lens: string;
  /** That lens is another one than the job's. */
  readonly otherLens: boolean;
  /** Cuts that come out otherwise than planned, by rising index. */
  readonly cuts: readonly CuredCut[];
  /** P(through) of the least sure through cut of the whole job. */
  readonly throughProbability: number;
  /** Of the job, its travel as it is in the file. */
  readonly time: TimeFact | null;
  readonly waste: WasteFact | null;
}

/** A change with the facts of the job as they would be. */
export interface CuredJob {
  readonly cure: CureFact;
  readonly facts: JobFacts;
}
