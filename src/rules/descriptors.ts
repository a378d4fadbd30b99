import type { JobFacts } from '../facts/facts.ts';
import { reasonsEndedEarly } from '../facts/searches.ts';
import { type NotChecked, SEVERITIES, type Severity } from '../findings/finding.ts';
import type { ReportDescriptor } from '../findings/report-descriptor.ts';
import type { RuleInForce } from './in-force.ts';
import type { Rule } from './rule.ts';

/** What a rule says of a job, ahead of being made a finding. */
export interface Reported {
  readonly rule: Rule;
  /** Null: as the rule has it. */
  readonly severity: Severity | null;
  readonly descriptor: ReportDescriptor;
}

/** What the rules say of the facts. A rule that throws has failed and can never read as a pass: it is entered in `notChecked`. */
export function descriptorsOf(facts: JobFacts, rules: readonly RuleInForce[], notChecked: NotChecked[]): Reported[] {
  const reported: Reported[] = [];
  for (const { rule, severity, options } of rules) {
    try {
      const answer = rule.check(facts, options);
      const unfinished = reasonsEndedEarly(facts, rule.searches ?? []);
      for (const reason of unfinished) notChecked.push({ rule: rule.id, kind: 'ended-early', reason });
      if (!('notApplicable' in answer)) {
        for (const descriptor of answer) reported.push({ rule, severity: milder(severity, descriptor), descriptor });
      } else if (unfinished.length === 0) {
        // Where a search ended early it is not known that there is nothing to look at.
        notChecked.push({ rule: rule.id, kind: 'not-applicable', reason: answer.notApplicable });
      }
    } catch (error) {
      notChecked.push({
        rule: rule.id,
        kind: 'failed',
        reason: error instanceof Error ? error.message : String(error),
      });
    }
  }
  return reported;
}

/** The severity that the settings give the rule, unless the finding itself is of a lesser one. */
function milder(severity: Severity | null, descriptor: ReportDescriptor): Severity | null {
  if (severity === null || descriptor.severity === undefined) return severity;
  return SEVERITIES.indexOf(descriptor.severity) > SEVERITIES.indexOf(severity) ? descriptor.severity : severity;
}

/** How severe what a rule says is, as its finding will be. */
export function severityOf({ rule, severity, descriptor }: Reported): Severity {
  return severity ?? descriptor.severity ?? rule.severity;
}
