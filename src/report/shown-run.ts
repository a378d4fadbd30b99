import type { RunResult } from '../findings/result.ts';

/** What of a run is not among the jobs at hand, as far as it is counted. */
export interface Beyond {
  jobs: number;
  /** Findings of any status. */
  findings: number;
  openFindings: number;
  waived: number;
  /** Rules that had nothing to look at. */
  notApplicable: number;
  /** Expected waste by currency. */
  waste: Map<string, number>;
}

/** A run of which only the worst jobs are at hand, in the order of the run. */
export interface ShownRun extends RunResult {
  /** Absent where all is at hand. */
  beyond?: Beyond;
}
