import type { JobPictures } from '../facts/drawing/drawing-model.ts';
import type { Finding, Severity } from '../findings/finding.ts';
import type { JobResult, RunEnd, RunResult, RunStart } from '../findings/result.ts';
import type { FailLevel } from '../findings/verdict.ts';

/** What a report may tell of a rule. */
export interface RuleMetadata {
  readonly id: string;
  readonly summary: string;
  readonly severity: Severity;
  readonly since: string;
  readonly why: string;
  readonly remedy: string;
  readonly sources: readonly string[];
  readonly caution?: string;
  readonly safety?: boolean;
}

/** Where and how a report is shown. */
export interface ReportContext {
  /** All rules, in the order of the registry. */
  readonly rules: readonly RuleMetadata[];
  /** Columns of the terminal. */
  readonly width: number;
  readonly colour: boolean;
  /** Only errors and what could not be checked; what is hidden is counted. */
  readonly quiet: boolean;
  /** What the exit code goes by: from which severity on a finding fails, and how many warnings are allowed. */
  readonly failLevel: FailLevel;
  /** Path from the top of the repository to the run's root, with a `/` at the end; empty when they are one. */
  readonly rootInRepository: string;
  /** Where whole pages of rules can be read on line, with a `/` at the end; null when nowhere. */
  readonly docsUrl: string | null;
  /** What pictures are drawn from, by the job's name; absent where no format of the run draws. */
  readonly pictures?: ReadonlyMap<string, JobPictures>;
  /** The same of the base that a run is held against, by the job's name there; absent where there is none. */
  readonly basePictures?: ReadonlyMap<string, JobPictures>;
  /** Fixes that were proved, by the fingerprint of the finding that they mend; absent where none were sought. */
  readonly fixes?: ReadonlyMap<string, readonly ReportedFix[]>;
  /** ISO date of the run, for what is printed; absent where it is not known. */
  readonly today?: string;
  /** The script of the HTML report; null or absent: the report is read without one. */
  readonly script?: ReportScript | null;
}

/** A change of files that mends a finding. */
export interface ReportedFix {
  readonly what: string;
  readonly changes: readonly {
    readonly file: string;
    /** Places in the file as it is; an empty one is where the text is put in. */
    readonly replacements: readonly { readonly place: Omit<Finding['location'], 'file'>; readonly text: string }[];
  }[];
}

/** The built script of the HTML report, with the hashes that its content security policy names ('sha256-…'). */
export interface ReportScript {
  readonly text: string;
  readonly scriptHash: string;
  readonly styleHash: string;
}

/**
 * A report in the making. It is given each job of the run once, in their order, and last what is told of the run as a whole. Text comes as
 * soon as it is certain; what is not shown is not kept.
 */
export interface ReportWriter {
  /** What can be written of a job at once; empty where all of it has to wait for the end. */
  job(result: JobResult, pictures: JobPictures | null): string;
  /** All that is left to write, in pieces. */
  end(run: RunEnd): Iterable<string>;
}

/** Jobs in, text out. Pure: the same input gives the same bytes. */
export interface Format {
  open(context: ReportContext, start: RunStart): ReportWriter;
}

/** The whole text of a report on a run that is held whole. */
export function reportText(format: Format, { jobs, ...end }: RunResult, context: ReportContext): string {
  const writer = format.open(context, end);
  const ofJobs = jobs.map((job) => writer.job(job, context.pictures?.get(job.name) ?? null));
  return [...ofJobs, ...writer.end(end)].join('');
}
