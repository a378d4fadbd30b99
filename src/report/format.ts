import type { Severity } from '../findings/finding.ts';
import type { RunResult } from '../findings/result.ts';

/** What a report may tell of a rule. */
export interface RuleCard {
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
  readonly rules: readonly RuleCard[];
  /** Columns of the terminal. */
  readonly width: number;
  readonly colour: boolean;
  /** Only errors and what could not be checked; what is hidden is counted. */
  readonly quiet: boolean;
  /** Path from the top of the repository to the run's root, with a `/` at the end; empty when they are one. */
  readonly rootInRepository: string;
  /** Where whole pages of rules can be read on line, with a `/` at the end; null when nowhere. */
  readonly docsUrl: string | null;
}

/** A result in, the whole text of a report out. Pure: the same input gives the same bytes. */
export type Format = (result: RunResult, context: ReportContext) => string;
