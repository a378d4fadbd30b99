import { defineRule } from '../rule.ts';

export default defineRule({
  id: 'input/assumed',
  summary: 'Something was assumed, or a file counted only in part.',
  severity: 'note',
  since: '0.1.0',
  reads: ['sidecar', 'machine', 'material'],
  messages: {
    remark: '{text}',
  },
  example:
    '"birch-plywood" of kerflint/data/materials/birch-plywood.material.yaml stands over birch-plywood.material.yaml: it counts only where it is stricter: clean speed for co2, removal energy',
  options: {},
  why: 'What lies beside a job may only tighten what the shop states. Where such a file was not followed, or something was assumed that the files do not state, that is said, so that nobody takes the result for more than it is.',
  remedy: 'State what was assumed. Put machine profiles and materials that shall count into the shop’s folder.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    return facts.remarks.map(({ text, location }) => ({
      messageId: 'remark',
      args: { text },
      location,
      subject: text,
    }));
  },
});
