import type { CuredJob } from '../facts/cure/cure-fact.ts';
import { curedJobs, cutsThatFallShort } from '../facts/cure/cured-jobs.ts';
import type { JobFacts } from '../facts/facts.ts';
import type { Finding, NotChecked } from '../findings/finding.ts';
import { descriptorsOf, type Reported, severityOf } from './descriptors.ts';
import type { RuleInForce } from './in-force.ts';

/** The change that may be shown beside the plan, or why there is none. */
export type Cure =
  | { readonly job: CuredJob; readonly without: null }
  /** In words, as the rest of a sentence: "no change of the recipe alone brings its cuts through". */
  | { readonly job: null; readonly without: string };

/**
 * The cheapest change of a job's recipes that brings its cuts through and with which the rules in force find no error any more. Null where the
 * job has no error, or none of its cuts falls short: then there is nothing to propose.
 */
export function cureThatHolds(
  facts: JobFacts,
  judged: {
    /** Whether the job could be judged whole. */
    answered: boolean;
    findings: readonly Finding[];
    rules: readonly RuleInForce[];
  },
): Cure | null {
  const { answered, findings } = judged;
  const stops = findings.some(({ status, severity }) => status === 'open' && severity === 'error');
  if (!stops || cutsThatFallShort(facts.cuts).length === 0) return null;
  if (!answered) return { job: null, without: 'the job could not be judged whole' };
  // The material is asked for by itself, too: its rule can be switched off.
  if (facts.material?.hazard.class === 'never') return { job: null, without: 'this material must not be cut' };
  const rules = judged.rules.filter(({ rule }) => (rule.phase ?? 'job') === 'job');
  let left: Reported | 'failed' | null = null;
  for (const job of curedJobs(facts)) {
    const notChecked: NotChecked[] = [];
    const errors = descriptorsOf(job.facts, rules, notChecked).filter(
      (one) => severityOf(one) === 'error' && !setAside(one, findings),
    );
    const failed = notChecked.some(({ kind }) => kind === 'failed');
    if (errors.length === 0 && !failed) return { job, without: null };
    left ??= errors[0] ?? 'failed';
  }
  if (left === null) return { job: null, without: 'no change of the recipe alone brings its cuts through' };
  const what = left === 'failed' ? 'a rule fails' : `an error stands (${left.rule.id})`;
  return { job: null, without: `with the cuts brought through, ${what} all the same` };
}

/** The job has the same finding, and it is waived. */
function setAside({ rule, descriptor }: Reported, findings: readonly Finding[]): boolean {
  return findings.some(
    ({ status, rule: id, messageId, location }) =>
      status !== 'open' &&
      id === rule.id &&
      messageId === descriptor.messageId &&
      location.file === descriptor.location.file &&
      location.line === descriptor.location.line,
  );
}
