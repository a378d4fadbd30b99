import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atLeast, atStart, countFound, mm } from '../wording.ts';

export default defineRule({
  id: 'artwork/duplicate-line',
  summary: 'The same line is drawn more than once and will be burnt more than once.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines', 'duplicates'],
  messages: {
    twice:
      '{length} mm of the lines that are to part the sheet are drawn over others, up to {times} times in all ({places}). Delete the copies; where more than one pass is meant, plan that many passes. Each copy is burnt again.',
    first: 'the line underneath',
    place: 'drawn again as well',
  },
  forCustomers: { twice: ['times'] },
  example:
    '60.0 mm of the lines that are to part the sheet are drawn over others, up to 2 times in all (2 pairs of lines). Delete the copies; where more than one pass is meant, plan that many passes. Each copy is burnt again.',
  options: {
    shortest: {
      type: 'number',
      default: 2,
      unit: 'mm',
      minimum: 0,
      description: 'Shared stretches that are shorter in all are not reported.',
    },
  },
  why: 'Copied layers, borders that neighbouring parts share and strokes on both sides of a shape send the beam over the same line twice: wide kerf, charred edges, small parts that catch fire.',
  remedy: 'Remove doubled lines in the drawing program; where parts share an edge, keep one line.',
  sources: ['Common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    if (facts.geometry === null) return { notApplicable: 'the job has no artwork' };
    const { duplicates } = facts.geometry;
    const all = duplicates.items;
    const [first, ...others] = all;
    if (first === undefined) return [];
    const length = all.reduce((sum, one) => sum + one.lengthMm, 0);
    if (length < options.shortest) return [];
    return [
      {
        messageId: 'twice',
        args: {
          length: atStart(atLeast(duplicates, mm(length))),
          times: all.reduce((most, one) => Math.max(most, one.times), 2),
          places: countFound(duplicates, 'pair of lines', 'pairs of lines'),
        },
        location: first.location,
        related: [
          ...relatedPlaces([first.other], 'first'),
          ...relatedPlaces(
            others.slice(0, 4).map((one) => one.location),
            'place',
          ),
        ],
      },
    ];
  },
});
