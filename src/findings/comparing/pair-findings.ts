import type { Finding } from '../finding.ts';
import { normalisedLine } from '../fingerprint.ts';
import type { JobResult } from '../result.ts';
import { groupsBy } from './groups.ts';
import type { JobPair } from './pair-jobs.ts';

/** A finding before and after; null where it was not yet, or is no more. */
export interface FindingPair {
  /** With the files' names of now. */
  before: Finding | null;
  after: Finding | null;
}

/** What makes two findings of a job the same one, from the surest sign to the least. */
const LIKENESSES: readonly ((finding: Finding) => string)[] = [
  // It counts occurrences: a duplicate more has no counterpart.
  ({ fingerprint }) => fingerprint,
  // Programs are written anew by programs, and then the text of every line is another.
  ({ rule, location, message }) => JSON.stringify([rule, location.file, message]),
  ({ rule, messageId, location, message }) =>
    JSON.stringify([rule, messageId, location.file, message.replaceAll(/\d+/g, '0')]),
  (finding) => JSON.stringify([finding.rule, finding.location.file, lineOf(finding)]),
];

/** The findings of a job before and after, each with its counterpart by {@link LIKENESSES}. */
export function pairFindings({ before, after }: JobPair): FindingPair[] {
  const renames = renamesOf(before, after);
  const pairs = (after?.findings ?? []).map((finding): FindingPair => ({ before: null, after: finding }));
  const left = new Set(before?.findings.map((finding) => underNamesOfNow(finding, renames)));
  for (const likeness of LIKENESSES) {
    const groups = groupsBy(left, likeness);
    for (const pair of pairs) {
      if (pair.before !== null) continue;
      pair.before = groups.get(likeness(pair.after!))?.shift() ?? null;
      if (pair.before !== null) left.delete(pair.before);
    }
  }
  return [...pairs, ...[...left].map((finding): FindingPair => ({ before: finding, after: null }))];
}

/** Files of a job that bear another name now. */
function renamesOf(before: JobResult | null, after: JobResult | null): Map<string, string> {
  const renames = new Map<string, string>();
  if (before === null || after === null) return renames;
  const name = (old: string | null | undefined, now: string | null | undefined) => {
    if (old && now && old !== now) renames.set(old, now);
  };
  name(before.sidecar, after.sidecar);
  name(before.files.toolpath, after.files.toolpath);
  name(before.files.artwork, after.files.artwork);
  return renames;
}

function underNamesOfNow(finding: Finding, renames: ReadonlyMap<string, string>): Finding {
  const { location } = finding;
  let { message } = finding;
  for (const [old, now] of renames) message = message.replaceAll(old, () => now);
  return { ...finding, message, location: { ...location, file: renames.get(location.file) ?? location.file } };
}

/** The text of the line that a finding stands at; without an excerpt what no other finding has. */
function lineOf({ excerpt, location, fingerprint }: Finding): string {
  return normalisedLine(excerpt?.lines[location.line - excerpt.startLine] ?? fingerprint);
}
