import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atStart, countFound, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/overlapping-parts',
  summary: 'Outlines of different parts cross each other.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines', 'crossings'],
  messages: {
    overlap:
      '{pairs} of closed outlines cross each other, the first at {x}, {y} mm on the page. Move the parts apart, or unite the shapes. Each cuts into the other’s part.',
    other: 'the outline that it crosses',
    place: 'crosses another as well',
  },
  forCustomers: { overlap: ['x', 'y'] },
  example:
    '2 pairs of closed outlines cross each other, the first at 70, 30 mm on the page. Move the parts apart, or unite the shapes. Each cuts into the other’s part.',
  options: {},
  why: 'Two parts that share a patch of the sheet are both spoiled. It is what happens when a part is duplicated and not moved far enough, or when two shapes were meant to be united.',
  remedy: 'Nest the parts with a margin of a few millimetres. Unite shapes that form one part.',
  sources: ['Common practice, no source'],
  check(facts) {
    if (facts.geometry === null) return { notApplicable: 'the job has no artwork' };
    const { overlappingParts } = facts.geometry;
    const [first, ...others] = overlappingParts.items;
    if (first === undefined) return [];
    return [
      {
        messageId: 'overlap',
        args: {
          pairs: atStart(countFound(overlappingParts, 'pair')),
          x: roundTo(first.xMm, 1),
          y: roundTo(first.yMm, 1),
        },
        location: first.location,
        related: [
          ...relatedPlaces([first.other], 'other'),
          ...relatedPlaces(
            others.slice(0, 4).map((one) => one.location),
            'place',
          ),
        ],
      },
    ];
  },
});
