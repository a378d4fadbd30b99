import { defineRule } from '../rule.ts';
import { quoted } from '../wording.ts';

export default defineRule({
  id: 'waiver/expired',
  summary: 'A waiver has run out.',
  severity: 'warning',
  phase: 'waiver',
  since: '0.1.0',
  reads: ['sidecar'],
  messages: {
    expired:
      'The waiver of {rule} ran out on {until} and no longer counts. Put the cause right, or give a new reason and a new date. Today is {today}.',
  },
  example:
    'The waiver of "cut/marginal" ran out on 2026-11-24 and no longer counts. Put the cause right, or give a new reason and a new date. Today is 2026-11-25.',
  options: {},
  why: 'A date on a waiver is a promise to look again. After it the finding stands open, so that the looking happens.',
  remedy: 'Check whether the reason still holds. If it does, set a new `until`.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    if (facts.waivers === undefined) return { notApplicable: 'there are no waivers' };
    return facts.waivers.flatMap(({ rule, until, location }) => {
      if (until === null || until >= facts.today) return [];
      return [
        { messageId: 'expired', args: { rule: quoted(rule), until, today: facts.today }, location, subject: rule },
      ];
    });
  },
});
