import { type Finding, SEVERITIES } from '../findings/finding.ts';
import type { CutResult, JobResult } from '../findings/result.ts';
import { formatChance } from '../units/format.ts';

const VERDICTS = ['pass', 'fail', 'incomplete'];

/** Why a changed job is worse than before, as a clause; null when nothing is. */
export function worse(before: JobResult, after: JobResult): string | null {
  if (VERDICTS.indexOf(after.verdict) > VERDICTS.indexOf(before.verdict))
    return `the verdict would be ${after.verdict} and not ${before.verdict}`;
  return newFinding(before, after) ?? lessLikely(before.cuts, after.cuts) ?? lessChecked(before, after);
}

/** Findings of before that are gone, each once. */
export function gone(before: JobResult, after: JobResult): Finding[] {
  return paired(openOf(before), openOf(after)).left;
}

function newFinding(before: JobResult, after: JobResult): string | null {
  const { added } = paired(openOf(before), openOf(after));
  const [first] = added;
  if (first === undefined) return null;
  return `${first.rule} (${first.severity}) would be found where it was not`;
}

function openOf({ findings }: JobResult): Finding[] {
  return findings.filter(({ status }) => status === 'open');
}

/**
 * Holds findings against each other: first those that are the same by their fingerprint, then those of the same rule and message, since a line
 * that was changed gives another fingerprint. A finding that has become more severe is a new one.
 */
function paired(before: readonly Finding[], after: readonly Finding[]): { left: Finding[]; added: Finding[] } {
  let left = [...before];
  let added = [...after];
  const keys = [({ fingerprint }: Finding) => fingerprint, ({ rule, messageId }: Finding) => `${rule} ${messageId}`];
  for (const key of keys) {
    const open = new Map<string, Finding[]>();
    for (const one of left) open.set(key(one), [...(open.get(key(one)) ?? []), one]);
    added = added.filter((one) => {
      const same = open.get(key(one)) ?? [];
      const k = same.findIndex(({ severity }) => rank(severity) <= rank(one.severity));
      if (k < 0) return true;
      same.splice(k, 1);
      return false;
    });
    left = [...open.values()].flat();
  }
  return { left, added };
}

const rank = (severity: Finding['severity']): number => SEVERITIES.indexOf(severity);

/** A chance counts as it is told: what reads "over 99 %" both times is not less. */
function lessLikely(before: readonly CutResult[], after: readonly CutResult[]): string | null {
  for (const task of new Set(before.map((cut) => cut.task))) {
    const [a, b] = [least(before, task), least(after, task)];
    if (a === null) continue;
    if (b === null) return `it would no longer be predicted whether task “${task}” parts`;
    if (told(b) < told(a))
      return `task “${task}” would be ${formatChance(b)} likely to part and not ${formatChance(a)}`;
  }
  return null;
}

function least(cuts: readonly CutResult[], task: string): number | null {
  const own = cuts
    .filter((cut) => cut.task === task && cut.aim === 'through')
    .flatMap((cut) => cut.throughProbability ?? []);
  return own.length === 0 ? null : Math.min(...own);
}

/** In whole per cent; all above 99 % is told alike. */
function told(probability: number): number {
  return Math.min(99, Math.floor(probability * 100 + 1e-9));
}

function lessChecked(before: JobResult, after: JobResult): string | null {
  const known = new Set(before.notChecked.map(({ rule, kind }) => `${rule} ${kind}`));
  const unchecked = after.notChecked.find(({ rule, kind }) => !known.has(`${rule} ${kind}`));
  if (unchecked !== undefined) return `${unchecked.rule} would no longer be checked`;
  const open = new Set(before.incomplete);
  const missing = after.incomplete.find((one) => !open.has(one));
  return missing === undefined ? null : `it would be left open: ${missing}`;
}
