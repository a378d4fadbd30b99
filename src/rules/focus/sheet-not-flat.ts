import { CRASH } from '../cautions.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'focus/sheet-not-flat',
  summary: 'The sheet bows by more than the focus forgives.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['sidecar', 'machine'],
  messages: {
    bow: 'The sheet bows by {bow} mm. Hold it down with pins, weights or magnets, or turn it over, and measure again. With this lens the beam keeps its focus within {allowed} mm of the waist.',
  },
  example:
    'The sheet bows by 2.0 mm. Hold it down with pins, weights or magnets, or turn it over, and measure again. With this lens the beam keeps its focus within 1.16 mm of the waist.',
  options: {
    'rayleigh-ranges': {
      type: 'number',
      default: 1,
      minimum: 0,
      description: 'How much bow is let pass, in Rayleigh ranges of the lens.',
    },
  },
  why: 'Where the sheet has risen or sunk from the waist the spot is wide and the cut fails in patches, usually in the middle or at the corners. The bow widens the doubt of the prediction as well; this finding says that flattening the sheet would help more than any setting.',
  remedy:
    'Hold the sheet flat and state what bow is left: `bow: 0.5 mm`. Keep the hold-down clear of the head’s travel.',
  sources: [
    'At one Rayleigh range the spot has grown by √2: textbook, ISO 11146 notation',
    'The limit of one Rayleigh range: common practice, no source',
  ],
  caution: CRASH,
  check(facts, options) {
    const bow = facts.input.sidecar?.bowMm ?? null;
    if (bow === null) return { notApplicable: 'no bow is stated' };
    if (facts.beam === null) return { notApplicable: 'machine and lens are not both known' };
    const allowed = roundTo(facts.beam.rayleighMm * options['rayleigh-ranges'], 3);
    if (!(roundTo(bow, 3) > allowed)) return [];
    return [{ messageId: 'bow', args: { bow: mm(bow), allowed: mm(allowed) }, location: inSidecar(facts, ['bow']) }];
  },
});
