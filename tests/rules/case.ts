import type { JobFacts } from '../../src/facts/facts.ts';
import type { Severity } from '../../src/findings/finding.ts';

/** What one rule is to say about one job. */
export interface Expected {
  messageId: string;
  /** The rule's own severity when left out. */
  severity?: Severity;
  /** Pieces that the message holds. */
  says?: readonly string[];
  /** `file:line` of the finding. */
  at?: string;
  /** Number of related places. */
  related?: number;
  /** All hints, whole. */
  hints?: readonly string[];
}

export interface RuleCase {
  rule: string;
  /** Completes the sentence "it …". */
  it: string;
  facts: JobFacts;
  options?: Record<string, number | boolean | string>;
  /** Findings in order; empty: silent; a text: not applicable, with a reason that holds it. */
  expect: readonly Expected[] | string;
}

/** Cases of one rule, written as a table: [it, facts, expected, options?]. */
export function casesOf(
  rule: string,
  rows: readonly (readonly [it: string, facts: JobFacts, expect: RuleCase['expect'], options?: RuleCase['options']])[],
): RuleCase[] {
  return rows.map(([it, facts, expect, options]) => ({
    rule,
    it,
    facts,
    expect,
    ...(options === undefined ? {} : { options }),
  }));
}
