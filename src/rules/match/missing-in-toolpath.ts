import { where } from '../../units/found.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atLeast, atStart, countFound, mm } from '../wording.ts';

export default defineRule({
  id: 'match/missing-in-toolpath',
  summary: 'Lines of the artwork are not in the toolpath.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'sidecar'],
  searches: ['drawn-lines', 'placement', 'missing-lines'],
  decides: 'through',
  messages: {
    missing:
      '{outlines} of the artwork {are} not in the toolpath, or not all of {them}: {length} of {total} mm will not be cut. Write the toolpath again from this artwork, or take {them} out of the tasks.',
    place: 'missing in the toolpath as well',
  },
  forCustomers: { missing: [] },
  example:
    '2 outlines of the artwork are not in the toolpath, or not all of them: 99.8 of 320.0 mm will not be cut. Write the toolpath again from this artwork, or take them out of the tasks.',
  options: {
    shortest: {
      type: 'number',
      default: 1,
      unit: 'mm',
      minimum: 0,
      description: 'Shorter missing stretches are not reported.',
    },
  },
  why: 'A layer that was switched off, a selection that was too small or an old export leave out a hole or an edge. Once the sheet is moved it cannot be cut in register any more.',
  remedy: 'Export again with everything selected that the tasks name.',
  sources: ['Common practice, no source'],
  check(facts, options) {
    const match = facts.match;
    if (match === null || facts.artwork === null || facts.toolpath === null)
      return { notApplicable: 'the job does not have both toolpath and artwork' };
    if (match.placement === null) return { notApplicable: 'the artwork was not found in the toolpath' };
    // Outlines that run without power are the matter of power/zero-on-cut.
    const unpowered = new Set(facts.tasks.flatMap((task) => task.unpoweredOutlines.items.map((one) => one.outline)));
    const found = where(match.missing, (one) => one.lengthMm >= options.shortest && !unpowered.has(one.outline));
    const missing = [...found.items].sort((a, b) => b.lengthMm - a.lengthMm);
    const [first, ...others] = missing;
    if (first === undefined) return [];
    return [
      {
        messageId: 'missing',
        args: {
          outlines: atStart(countFound(found, 'outline')),
          are: missing.length === 1 ? 'is' : 'are',
          them: missing.length === 1 ? 'it' : 'them',
          length: atLeast(found, mm(missing.reduce((sum, one) => sum + one.lengthMm, 0))),
          total: mm(missing.reduce((sum, one) => sum + one.outlineLengthMm, 0)),
        },
        location: first.location,
        related: relatedPlaces(
          others.map((one) => one.location),
          'place',
        ),
      },
    ];
  },
});
