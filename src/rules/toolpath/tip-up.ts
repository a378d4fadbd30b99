import { CRASH } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'toolpath/tip-up',
  summary: 'Small parts are set free that may tip up into the nozzle.',
  severity: 'note',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar'],
  searches: ['tasks'],
  messages: {
    tip: '{parts} between {smallest} and {largest} mm wide {are} set free, the first {width} mm wide. Leave a bridge, cut {them} last, or keep travel moves clear of {them}. A loose part of that size can tip on the bed’s bars and stand in the nozzle’s way.',
    place: 'set free as well',
  },
  example:
    '2 pieces between 8 and 25 mm wide are set free, the first 15.0 mm wide. Leave a bridge, cut them last, or keep travel moves clear of them. A loose part of that size can tip on the bed’s bars and stand in the nozzle’s way.',
  options: {
    smallest: {
      type: 'number',
      default: 8,
      unit: 'mm',
      minimum: 0,
      description: 'Narrower pieces fall through the bed.',
    },
    largest: { type: 'number', default: 25, unit: 'mm', minimum: 0, description: 'Wider pieces lie on several bars.' },
    'standoff-factor': {
      type: 'number',
      default: 1,
      minimum: 0,
      description:
        'Only parts at least this many times as wide as the nozzle stands above the sheet reach it when they tip.',
    },
  },
  why: 'A part that is wider than the gap between two bars and too narrow to rest on three of them tips over one of them when the air hits it. The next travel move then hits it, and the rest of the job is out of place.',
  remedy: 'Leave a small bridge, or cut such parts last. On a honeycomb bed lower `largest` for the shop.',
  sources: ['Common practice, no source'],
  caution: CRASH,
  check(facts, options) {
    if (facts.order === null) return { notApplicable: 'the job has no toolpath' };
    const reach = (facts.lens?.standoffMm ?? 0) * options['standoff-factor'];
    const loose = facts.order.freed.filter((part) => {
      const width = roundTo(part.widthMm, 2);
      // Even depths are outlines of parts, odd ones their holes, whose waste is what is freed: it tips all the same.
      return width >= Math.max(options.smallest, reach) && width <= options.largest;
    });
    const [first, ...others] = loose;
    if (first === undefined) return [];
    return [
      {
        messageId: 'tip',
        args: {
          parts: formatCount(loose.length, 'piece'),
          are: loose.length === 1 ? 'is' : 'are',
          smallest: options.smallest,
          largest: options.largest,
          width: mm(first.widthMm),
          them: loose.length === 1 ? 'it' : 'them',
        },
        location: first.location,
        related: relatedPlaces(
          others.map((part) => part.location),
          'place',
        ),
      },
    ];
  },
});
