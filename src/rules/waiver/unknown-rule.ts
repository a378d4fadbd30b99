import { defineRule } from '../rule.ts';
import { quoted } from '../wording.ts';

export default defineRule({
  id: 'waiver/unknown-rule',
  summary: 'A waiver names a rule that does not exist.',
  severity: 'warning',
  phase: 'waiver',
  since: '0.1.0',
  reads: ['sidecar'],
  messages: {
    unknown:
      'There is no rule {rule}, so this waiver covers nothing. Correct the id{meant}; `kerflint rules` lists them all.',
  },
  example:
    'There is no rule "cut/marginl", so this waiver covers nothing. Correct the id (perhaps "cut/marginal"); `kerflint rules` lists them all.',
  options: {},
  why: 'A slip in the id leaves the finding open and the reason unread.',
  remedy: 'Write the id as the finding shows it, area and name with a slash between.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    if (facts.waivers === undefined) return { notApplicable: 'there are no waivers' };
    return facts.waivers
      .filter((one) => !one.known)
      .map(({ rule, suggestion, location }) => ({
        messageId: 'unknown',
        args: { rule: quoted(rule), meant: suggestion === null ? '' : ` (perhaps ${quoted(suggestion)})` },
        location,
        subject: rule,
      }));
  },
});
