import type { Location } from '../source/place.ts';

/** `error`: do not run it. `warning`: a person should look. `note`: good to know. */
export type Severity = 'error' | 'warning' | 'note';

export const SEVERITIES: readonly Severity[] = ['error', 'warning', 'note'];

export interface Related extends Location {
  message: string;
}

export interface Excerpt {
  /** 1-based number of the first line. */
  startLine: number;
  /** Lines as they stand in the file, each at most 200 UTF-16 units; longer ones are cut around the place. */
  lines: string[];
  /** 1-based column at which the lines begin, when they are cut around the place; absent when they begin at column 1. */
  startColumn?: number;
}

/** What a rule reports, checked by the reporter (`reporter.ts`), ready for every format. */
export interface Finding {
  rule: string;
  messageId: string;
  severity: Severity;
  message: string;
  location: Location;
  excerpt: Excerpt | null;
  related: Related[];
  hints: string[];
  /** Path of the rule's page. */
  docs: string;
  fingerprint: string;
  status: 'open' | 'waived' | 'baselined';
  /** Why it is waived. */
  reason?: string;
  /**
   * Only of what whoever sent the job can put right: what the answer to them fills its own sentence with, by name. Numbers stand in it as
   * the message has them.
   */
  values?: Record<string, string | number>;
  /** The numbers behind a remedy, for programs that read the JSON. */
  data?: Record<string, unknown>;
}

/**
 * A rule that did not judge all that it should: it had nothing to look at, it failed, or a search that its answer rests on
 * ended before it had looked at everything. In the last case it may have findings all the same.
 */
export interface NotChecked {
  rule: string;
  kind: 'not-applicable' | 'failed' | 'ended-early';
  reason: string;
}
