import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { mm, PLUS_MINUS_SIGMAS } from '../wording.ts';

export default defineRule({
  id: 'material/thickness-unmeasured',
  summary: 'The thickness is the trade size and was not measured.',
  severity: 'note',
  since: '0.1.0',
  oncePerRun: true,
  reads: ['sidecar'],
  messages: {
    nominal:
      'The thickness of {thickness} mm is nominal. Measure the sheet with a calliper and state it, such as `thickness: {thickness} mm ± 0.1 mm`. Until then predictions carry a doubt of ± {spread} mm for it: nine in ten lie within it.',
  },
  example:
    'The thickness of 3.0 mm is nominal. Measure the sheet with a calliper and state it, such as `thickness: 3.0 mm ± 0.1 mm`. Until then predictions carry a doubt of ± 0.25 mm for it: nine in ten lie within it.',
  options: {},
  why: 'Sheets come out thinner or thicker than their name by a tenth and more, and plywood changes within one sheet. Depth and joints both follow the real thickness.',
  remedy: 'Measure at three places and take the thickest for cutting through. Reported once a run.',
  sources: ['That sold sheets differ from their name by a tenth: common practice, no source'],
  check(facts) {
    const thickness = facts.input.sidecar?.thickness ?? null;
    if (thickness === null) return { notApplicable: 'there is no sidecar that could state it' };
    if (!thickness.nominal) return [];
    const args = { thickness: mm(thickness.mm), spread: mm(facts.thicknessSpreadMm * PLUS_MINUS_SIGMAS) };
    return [{ messageId: 'nominal', args, location: inSidecar(facts, ['thickness']) }];
  },
});
