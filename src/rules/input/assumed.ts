import type { Draft } from '../../findings/draft.ts';
import { defineRule } from '../rule.ts';

export default defineRule({
  id: 'input/assumed',
  summary: 'Something was assumed, or a file counted only in part.',
  severity: 'note',
  since: '0.1.0',
  reads: ['sidecar', 'machine', 'material'],
  messages: {
    lens: 'No lens is named, so the machine’s first, {lens}, was taken. Name the lens that is fitted: `lens:` in the sidecar, or --lens.',
    remark: '{text}',
  },
  options: {},
  why: 'A prediction for another lens than the one in the machine is worth nothing. And what lies beside a job may only tighten what the shop states: where such a file was not followed, that is said.',
  remedy: 'Name the lens. Put machine profiles and materials that shall count into the shop’s folder.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    const found: Draft[] = facts.remarks.map(({ text, location }) => ({
      messageId: 'remark',
      args: { text },
      location,
      subject: text,
    }));
    if (facts.lensAssumed && facts.lens !== null) {
      found.unshift({ messageId: 'lens', args: { lens: facts.lens.id }, location: facts.input.home, subject: 'lens' });
    }
    return found;
  },
});
