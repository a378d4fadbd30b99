import { lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';

export default defineRule({
  id: 'match/mirrored',
  summary: 'The toolpath is the mirror image of the artwork.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'sidecar'],
  searches: ['drawn-lines', 'placement'],
  messages: {
    mirrored:
      'The toolpath is the mirror image of the artwork. Mirror it back, unless the sheet is worked from behind. The usual turn of the Y axis is taken into account.',
  },
  forCustomers: { mirrored: [] },
  example:
    'The toolpath is the mirror image of the artwork. Mirror it back, unless the sheet is worked from behind. The usual turn of the Y axis is taken into account.',
  options: {},
  why: 'SVG counts Y downwards and machines count it upwards; a program that forgets the turn, or makes it twice, cuts everything the wrong way round. Lettering and handed parts are then waste.',
  remedy:
    'Correct the axis direction in the export. Clear or mirrored sheets that are worked from the back are mirrored on purpose: waive the finding with that reason.',
  sources: ['The direction of Y: SVG 2, chapter Coordinate Systems; common practice for machines, no source'],
  check(facts) {
    const placement = facts.match?.placement ?? null;
    if (facts.toolpath === null || facts.artwork === null)
      return { notApplicable: 'the job does not have both toolpath and artwork' };
    if (placement === null) return { notApplicable: 'the artwork was not found in the toolpath' };
    // A shape that is its own mirror image says nothing of its hand.
    if (!placement.mirrored || placement.ambiguous) return [];
    return [{ messageId: 'mirrored', args: {}, location: lineOfToolpath(facts, facts.toolpath.strokes.line[0] ?? 1) }];
  },
});
