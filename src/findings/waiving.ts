import type { Location } from '../source/place.ts';
import type { Finding } from './finding.ts';

/** A waiver as stated in a sidecar (for the whole job) or in a comment of a file (for a line, or the file). */
export interface StatedWaiver {
  rule: string;
  reason: string | null;
  /** ISO date; the waiver counts up to and including that day. */
  until: string | null;
  /** What it covers: everything in the job, the findings of one file, or those on its own line and the next. */
  scope: 'job' | 'file' | 'line';
  location: Location;
}

/** A waiver after it was applied to the findings. */
export interface AppliedWaiver {
  waiver: StatedWaiver;
  /** It has all that it needs and has not run out. */
  counts: boolean;
  /** Findings that it marked. */
  covered: number;
}

/**
 * Marks the findings that waivers cover; nothing is taken away. A waiver counts only with a reason and until its day. A rule
 * about people's safety is waived in the sidecar only, and only with a day.
 */
export function waive(
  findings: readonly Finding[],
  waivers: readonly StatedWaiver[],
  today: string,
  safetyRules: ReadonlySet<string>,
): { findings: Finding[]; held: AppliedWaiver[] } {
  const held = waivers.map((waiver) => ({ waiver, counts: counts(waiver, today, safetyRules), covered: 0 }));
  const marked = findings.map((finding): Finding => {
    if (finding.status !== 'open') return finding;
    const covering = held.filter((one) => one.counts && covers(one.waiver, finding));
    for (const one of covering) one.covered++;
    const reason = covering[0]?.waiver.reason?.trim();
    return reason === undefined ? finding : { ...finding, status: 'waived', reason };
  });
  return { findings: marked, held };
}

function counts(
  { rule, reason, until, scope }: StatedWaiver,
  today: string,
  safetyRules: ReadonlySet<string>,
): boolean {
  if ((reason ?? '').trim() === '') return false;
  if (safetyRules.has(rule) && (scope !== 'job' || until === null)) return false;
  return until === null || until >= today;
}

function covers({ rule, scope, location }: StatedWaiver, finding: Finding): boolean {
  if (rule !== finding.rule) return false;
  if (scope === 'job') return true;
  if (location.file !== finding.location.file) return false;
  return scope === 'file' || finding.location.line === location.line || finding.location.line === location.line + 1;
}
