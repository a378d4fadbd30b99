import { defineRule } from '../rule.ts';

export default defineRule({
  id: 'focus/lens-assumed',
  summary: 'No lens is named, so the machine’s first was taken.',
  severity: 'note',
  since: '0.1.0',
  oncePerRun: true,
  reads: ['sidecar', 'machine'],
  messages: {
    assumed:
      'No lens is named, so the machine’s first, {lens}, was taken. Name the lens that is fitted, in the sidecar or with --lens.',
  },
  example:
    'No lens is named, so the machine’s first, 2in, was taken. Name the lens that is fitted, in the sidecar or with --lens.',
  options: {},
  why: 'Spot and depth of focus, and with them every predicted depth, belong to one lens. A prediction for another one than is fitted is worth nothing. Reported once a run.',
  remedy:
    'Read the focal length off the lens or its holder and name it. List the lens that is fitted most often first in the machine’s profile.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    if (facts.lens === null) return { notApplicable: 'no lens is known' };
    if (!facts.lensAssumed) return [];
    return [
      { messageId: 'assumed', args: { lens: facts.lens.id }, location: facts.input.home, subject: facts.lens.id },
    ];
  },
});
