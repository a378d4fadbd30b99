import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { defineRule } from '../rule.ts';
import { quoted } from '../wording.ts';

export default defineRule({
  id: 'waiver/no-reason',
  summary: 'A waiver lacks what it needs to count: a reason, a date, or the right place.',
  severity: 'warning',
  phase: 'waiver',
  since: '0.1.0',
  reads: ['sidecar', 'toolpath', 'artwork'],
  messages: {
    noReason:
      'The waiver of {rule} gives no reason and does not count. Say why the finding may stand: `reason: "proved on coupon 12"`.',
    noDate:
      'The waiver of {rule} has no date and does not count without one. Add `until:` with a day on which to look again. The rule is about what can hurt someone.',
    inline:
      'The waiver of {rule} in a comment of a file does not count. Waive it in the sidecar, with a reason and a date. The rule is about what can hurt someone.',
  },
  example:
    'The waiver of "cut/marginal" gives no reason and does not count. Say why the finding may stand: `reason: "proved on coupon 12"`.',
  options: {},
  why: 'A waiver is read by whoever runs the job next. Without a reason it says only that someone did not want to see the finding; for rules about hazards it has to be seen by those who answer for the shop, and to be looked at again.',
  remedy: 'Give rule, reason and, for rules about hazards, a date, in the sidecar’s `waive`.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    if (facts.waivers === undefined) return { notApplicable: 'there are no waivers' };
    return facts.waivers.flatMap(({ rule, known, safety, where, reason, until, location }): ReportDescriptor[] => {
      if (!known) return [];
      const common = { args: { rule: quoted(rule) }, location, subject: rule };
      if (safety && where === 'inline') return [{ messageId: 'inline', ...common }];
      if ((reason ?? '').trim() === '') return [{ messageId: 'noReason', ...common }];
      if (safety && until === null) return [{ messageId: 'noDate', ...common }];
      return [];
    });
  },
});
