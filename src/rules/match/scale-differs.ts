import { lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { mm, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'match/scale-differs',
  summary: 'The toolpath is not as large as the artwork.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'prediction'],
  searches: ['drawn-lines', 'placement'],
  messages: {
    scaled:
      'The toolpath is {scale} times the size of the artwork: {cause}. Export it again at the artwork’s size, or correct the size of the artwork.',
    offset:
      'The toolpath runs {offset} mm {side} the artwork’s outlines. Make sure that this is meant, and that the artwork was not compensated already. It is about half the predicted kerf of {kerf} mm: kerf compensation, and no mismatch.',
  },
  forCustomers: { scaled: ['scale'] },
  example:
    'The toolpath is 1.33 times the size of the artwork: the drawing counts 72 px to the inch and was read at 96, or the reverse. Export it again at the artwork’s size, or correct the size of the artwork.',
  options: {
    slack: {
      type: 'number',
      default: 0.002,
      minimum: 0,
      maximum: 0.5,
      description: 'Difference in scale that is taken for rounding.',
    },
  },
  why: 'A part at the wrong size is waste, and it is seen only when it does not fit. An offset of half a kerf is no mistake; it is named (as a note) so that it is not applied twice.',
  remedy: 'Check the units and the px per inch of the program that writes the toolpath.',
  sources: ['1 in = 96 px = 25.4 mm: CSS Values and Units; 72 and 90 px per inch: common practice, no source'],
  check(facts, options) {
    const placement = facts.match?.placement ?? null;
    if (facts.toolpath === null || facts.artwork === null)
      return { notApplicable: 'the job does not have both toolpath and artwork' };
    if (placement === null) return { notApplicable: 'the artwork was not found in the toolpath' };
    const line = facts.toolpath.strokes.line[0] ?? 1;
    const location = lineOfToolpath(facts, line);
    if (roundTo(Math.abs(placement.scale - 1), 4) > options.slack) {
      const args = {
        scale: significant(placement.scale),
        cause: facts.match?.scaleCause ?? 'the ratio fits no usual slip of units',
      };
      return [{ messageId: 'scaled', args, location, data: { scale: placement.scale } }];
    }
    const kerf = facts.geometry?.kerfMm ?? null;
    const offset = roundTo(placement.offsetMm, 3);
    if (kerf === null || Math.abs(offset) < kerf / 4 || Math.abs(offset) > kerf) return [];
    const args = { offset: mm(Math.abs(offset)), side: offset > 0 ? 'outside' : 'inside', kerf: mm(kerf) };
    return [{ messageId: 'offset', severity: 'note', args, location }];
  },
});
