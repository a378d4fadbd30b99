import type { Finding } from './finding.ts';

/** A waiver as a sidecar states it. */
export interface StatedWaiver {
  rule: string;
  reason: string | null;
  /** ISO date; the waiver counts up to and including that day. */
  until: string | null;
}

/**
 * Marks the findings that waivers cover; nothing is taken away. A waiver counts only with a reason, until its day, and for a
 * safety rule only when it names a day.
 */
export function waive(
  findings: readonly Finding[],
  waivers: readonly StatedWaiver[],
  today: string,
  safetyRules: ReadonlySet<string>,
): Finding[] {
  const inForce = new Map<string, string>();
  for (const { rule, reason, until } of waivers) {
    const said = reason?.trim() ?? '';
    if (said === '' || (until !== null && until < today) || (until === null && safetyRules.has(rule))) continue;
    if (!inForce.has(rule)) inForce.set(rule, said);
  }
  return findings.map((finding) => {
    const reason = finding.status === 'open' ? inForce.get(finding.rule) : undefined;
    return reason === undefined ? finding : { ...finding, status: 'waived', reason };
  });
}
