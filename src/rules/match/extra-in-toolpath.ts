import { where } from '../../units/found.ts';
import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atLeast, countFound, mm } from '../wording.ts';

export default defineRule({
  id: 'match/extra-in-toolpath',
  summary: 'The toolpath burns lines that the artwork does not have.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'artwork'],
  searches: ['drawn-lines', 'placement', 'extra-lines'],
  messages: {
    drawn:
      'The toolpath burns {length} mm ({stretches}) that the artwork does not have. Write the toolpath again from this artwork, or add what is missing there.',
    place: 'not in the artwork either',
  },
  forCustomers: { drawn: [] },
  example:
    'The toolpath burns 42.0 mm (2 stretches) that the artwork does not have. Write the toolpath again from this artwork, or add what is missing there.',
  options: {
    shortest: {
      type: 'number',
      default: 5,
      unit: 'mm',
      minimum: 0,
      description: 'Shorter stretches are taken for lead-ins and lead-outs.',
    },
  },
  why: 'Left-over test lines, a frame or parts of another job cut where nobody expects it: into a finished part, or over the edge of the sheet.',
  remedy:
    'Look at the lines named. Marks that belong to the process, such as a frame, are better drawn in the artwork as a task of their own.',
  sources: ['Common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    const match = facts.match;
    if (match === null || facts.toolpath === null || facts.artwork === null)
      return { notApplicable: 'there is no artwork to hold the toolpath against' };
    if (match.placement === null) return { notApplicable: 'the artwork was not found in the toolpath' };
    const extra = where(match.extra, (one) => one.lengthMm >= options.shortest);
    const [first, ...others] = extra.items;
    if (first === undefined) return [];
    const length = atLeast(extra, mm(extra.items.reduce((sum, one) => sum + one.lengthMm, 0)));
    return [
      {
        messageId: 'drawn',
        args: { length, stretches: countFound(extra, 'stretch', 'stretches') },
        location: first.location,
        related: relatedPlaces(
          others.map((one) => one.location),
          'place',
        ),
      },
    ];
  },
});
