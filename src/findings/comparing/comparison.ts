import type { Finding, Severity, Verdict } from '../finding.ts';

/**
 * What became of a finding: `new` has no counterpart in the base; `risen` is graver, more often there, or no longer set aside; `changed`
 * says something else, no worse by severity and count; `gone` is only in the base.
 */
export type Change = 'new' | 'risen' | 'changed' | 'gone';

/** A finding that is not as it was. What it says of the finding is of now; of one that is gone, of the base. */
export interface FindingChange {
  change: Change;
  rule: string;
  severity: Severity;
  status: Finding['status'];
  message: string;
  file: string;
  line: number;
  /** That of the finding in the job; of one that is gone, that in the base. */
  fingerprint: string;
  /** How it was; absent where it is new or gone. */
  before?: { severity: Severity; status: Finding['status']; message: string };
}

/** The numbers of a job by which one run is held against another. */
export interface JobMeasures {
  verdict: Verdict;
  /** Of the least likely cut that is to part the sheet; null when there is none that was predicted. */
  throughProbability: number | null;
  /** How deep that cut is predicted to go, which may be beyond the sheet. */
  depthMm: number | null;
  thicknessMm: number | null;
  timeS: number | null;
  /** What a failed run costs, and that times the chance that it fails, in `currency`. */
  atStake: number | null;
  expectedWaste: number | null;
  currency: string | null;
  /** Cut by the toolpath or, without one, drawn in the artwork. */
  lengthMm: number | null;
}

/** What became of one job. */
export interface JobComparison {
  /** Of now; of a job that is gone, its name in the base. */
  name: string;
  /** `same`: a job of that name is in both. */
  is: 'same' | 'renamed' | 'new' | 'gone';
  /** Its name in the base; null for a new one. */
  baseName: string | null;
  /** Null for a new job. */
  before: JobMeasures | null;
  /** Null for a job that is gone. */
  after: JobMeasures | null;
  findings: FindingChange[];
}

/** This run held against one of the same kerflint, settings and shop: what a change does. */
export interface Comparison {
  /** The comparison in a sentence that every format shows. */
  headline: string;
  /** `new`: only what is new or risen fails the run. */
  gate: 'all' | 'new';
  base: { verdict: Verdict; jobs: number; errors: number; warnings: number; notes: number };
  /** Over all jobs, whatever their severity. */
  findings: Record<Change, number> & { same: number };
  /** Jobs of which something is not as it was, in the order of their names. */
  jobs: JobComparison[];
  /** Jobs of this run of which nothing changed. */
  unchangedJobs: number;
  /** Jobs of the base that are still there and were not part of this run. */
  notInRun: number;
}
