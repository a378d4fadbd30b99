import { CAUTION } from '../../findings/caution.ts';
import type { Severity } from '../../findings/finding.ts';
import { fnv1a64 } from '../../findings/fingerprint.ts';
import { jsonText, wellFormed } from '../escape.ts';
import type { Format } from '../report-context.ts';
import { type Mark, marksOfJob, marksOfLeftOut } from './marks.ts';

/** Of the five words of the format (info, minor, major, critical, blocker). */
const SEVERITY: Record<Severity, string> = { error: 'critical', warning: 'major', note: 'minor' };

/**
 * A list of issues as GitLab's documentation describes it for merge requests (Code Quality, "Implement a custom tool"): what it
 * says, which check, how bad, where, and a fingerprint by which base and change are compared. Paths go from the top of the
 * repository. The caution and the hints stand in each issue; an empty list has no place for a headline.
 */
export const codequality: Format = {
  open({ rootInRepository }) {
    const seen = new Map<string, number>();
    let count = 0;
    const textOf = (marks: readonly Mark[]) =>
      marks
        .map((mark) => issueText(issueOf(mark, rootInRepository, seen)))
        .map((text) => `${count++ === 0 ? '[' : ','}\n  ${text.replaceAll('\n', '\n  ')}`)
        .join('');
    return {
      job: (job) => textOf(marksOfJob(job)),
      end: ({ leftOut }) => [textOf(marksOfLeftOut(leftOut)), count === 0 ? '[]\n' : '\n]\n'],
    };
  },
};

function issueText(issue: unknown): string {
  return jsonText(JSON.stringify(issue, (_, value) => (typeof value === 'string' ? wellFormed(value) : value), 2));
}

function issueOf(mark: Mark, rootInRepository: string, seen: Map<string, number>) {
  const { level, rule, finding, message, more, at } = mark;
  const path = at === null ? '.' : `${rootInRepository}${at.file}`;
  return {
    type: 'issue',
    check_name: rule,
    description: message,
    content: { body: [...more, CAUTION].join('\n') },
    categories: ['Bug Risk'],
    severity: SEVERITY[level],
    fingerprint: distinct(finding?.fingerprint ?? fnv1a64(`${rule}\u0000${path}\u0000${message}`), seen),
    location: { path, lines: { begin: at?.line ?? 1 } },
  };
}

/** Of two issues of one fingerprint one would be dropped without a word: two jobs that share a file may bring the same finding. */
function distinct(fingerprint: string, seen: Map<string, number>): string {
  const before = seen.get(fingerprint) ?? 0;
  seen.set(fingerprint, before + 1);
  return before === 0 ? fingerprint : fnv1a64(`${fingerprint}\u0000${before}`);
}
