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

interface FormatEntry {
  readonly summary: string;
  /** Loaded when asked for, so that a plain check pays for no other format. */
  load(): Promise<Format>;
}

/** All formats by name, in the order in which help lists them. */
export const FORMATS = {
  text: { summary: 'for people', load: async () => (await import('./text.ts')).text },
  json: { summary: 'for programs, with a schema', load: async () => (await import('./json.ts')).json },
  annotations: {
    summary: 'workflow commands that mark lines in a pull request',
    load: async () => (await import('./annotations.ts')).annotations,
  },
  sarif: { summary: 'SARIF 2.1.0, for code scanning', load: async () => (await import('./sarif.ts')).sarif },
  summary: { summary: 'Markdown, for a job summary', load: async () => (await import('./summary.ts')).summary },
  csv: { summary: 'one row a job, for a spreadsheet', load: async () => (await import('./csv.ts')).csv },
} as const satisfies Record<string, FormatEntry>;

export type FormatName = keyof typeof FORMATS;

export function isFormatName(name: string): name is FormatName {
  return Object.hasOwn(FORMATS, name);
}
