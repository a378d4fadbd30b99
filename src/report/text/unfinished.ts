import type { JobResult } from '../../findings/result.ts';

/** Rules that were not checked to the end for one reason. */
export interface Unfinished {
  readonly rules: readonly string[];
  readonly reason: string;
}

/** Rules of which a search ended early, by reason, in the order of the job's list. */
export function unfinishedRules(job: JobResult): Unfinished[] {
  const byReason = new Map<string, string[]>();
  for (const { rule, kind, reason } of job.notChecked) {
    if (kind === 'ended-early') byReason.set(reason, [...(byReason.get(reason) ?? []), rule]);
  }
  return [...byReason].map(([reason, rules]) => ({ rules, reason }));
}

/** "not checked to the end (artwork/web-too-thin): so many lines …". */
export function unfinishedText({ rules, reason }: Unfinished): string {
  return `not checked to the end (${rules.join(', ')}): ${reason}`;
}
