import type { Finding } from './finding.ts';
import { SEVERITIES } from './finding.ts';

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What of a finding its place among others rests on. */
export type Ordered = Pick<Finding, 'status' | 'severity' | 'location' | 'rule' | 'messageId' | 'message'>;

/** Order of the files: by file, place, rule, message. Independent of locale, so that the same input gives the same bytes. */
export function compareByPlace(
  a: Omit<Ordered, 'status' | 'severity'>,
  b: Omit<Ordered, 'status' | 'severity'>,
): number {
  return (
    byText(a.location.file, b.location.file) ||
    a.location.line - b.location.line ||
    a.location.column - b.location.column ||
    a.location.endLine - b.location.endLine ||
    a.location.endColumn - b.location.endColumn ||
    byText(a.rule, b.rule) ||
    byText(a.messageId, b.messageId) ||
    byText(a.message, b.message)
  );
}

/** Order in which people read: open before set aside, errors before warnings before notes, then by place. */
export function compareWorstFirst(a: Ordered, b: Ordered): number {
  const open = Number(a.status !== 'open') - Number(b.status !== 'open');
  return open || SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) || compareByPlace(a, b);
}

/** Sorted by place; of equal findings at one place only one is kept. */
export function sortAndDedupe(findings: readonly Finding[]): Finding[] {
  const sorted = [...findings].sort(compareByPlace);
  return sorted.filter((finding, i) => {
    const before = sorted[i - 1];
    return before === undefined || compareByPlace(before, finding) !== 0;
  });
}

/** A copy in the order in which people read. */
export function worstFirst(findings: readonly Finding[]): Finding[] {
  return [...findings].sort(compareWorstFirst);
}
