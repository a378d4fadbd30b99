import { defineRule } from '../rule.ts';
import { quoted } from '../wording.ts';

export default defineRule({
  id: 'waiver/unused',
  summary: 'A waiver covers nothing.',
  severity: 'note',
  phase: 'waiver',
  since: '0.1.0',
  reads: ['sidecar'],
  messages: {
    unused:
      'The waiver of {rule} covers no finding of this job. Take it out, so that it does not cover a later one unseen.',
  },
  example:
    'The waiver of "cut/marginal" covers no finding of this job. Take it out, so that it does not cover a later one unseen.',
  options: {},
  why: 'A waiver that is left behind when its cause is gone will swallow the next finding of that rule, for which nobody gave a reason.',
  remedy: 'Delete the waiver. If it was meant for another job, move it there.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    if (facts.waivers === undefined) return { notApplicable: 'there are no waivers' };
    return facts.waivers
      .filter((one) => one.counts && one.covered === 0)
      .map(({ rule, location }) => ({ messageId: 'unused', args: { rule: quoted(rule) }, location, subject: rule }));
  },
});
