import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atLeast, atStart, countFound, formatCount, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/self-crossing',
  summary: 'An outline crosses itself.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines', 'crossings'],
  messages: {
    crossing:
      '{outlines} of tasks that part the sheet {cross} {self}, the first at {x}, {y} mm on the page ({count} there). Move the nodes, or unite the shape. What lies between falls out, and the part has another shape than meant.',
    place: 'crosses itself as well',
  },
  forCustomers: { crossing: ['x', 'y'] },
  example:
    '2 outlines of tasks that part the sheet cross themselves, the first at 50, 25 mm on the page (1 crossing there). Move the nodes, or unite the shape. What lies between falls out, and the part has another shape than meant.',
  options: {},
  why: 'A crossing cuts the part in two or leaves a sliver. It comes from a node dragged too far, from an offset that folded over, or from a stroke converted to a path. A loop that is narrower than the kerf everywhere and under the kerf squared in area is no finding: the beam burns all of it away, and drawings of joints have such loops at inner corners to relieve them. Where no kerf is known, 0.1 mm is taken.',
  remedy:
    'Look at the place at high zoom. Uniting a path with itself removes most crossings. Knots and stars that are meant can be waived.',
  sources: [
    'The kerf: the cut model, docs/model.md; 0.1 mm as the finest: common practice, no source',
    'Common practice, no source',
  ],
  caution: FIRE,
  check(facts) {
    if (facts.geometry === null) return { notApplicable: 'the job has no artwork' };
    const { selfCrossing } = facts.geometry;
    const [first, ...others] = selfCrossing.items;
    if (first === undefined) return [];
    const many = others.length > 0;
    return [
      {
        messageId: 'crossing',
        args: {
          outlines: atStart(countFound(selfCrossing, 'outline')),
          cross: many ? 'cross' : 'crosses',
          self: many ? 'themselves' : 'itself',
          x: roundTo(first.xMm, 1),
          y: roundTo(first.yMm, 1),
          count: atLeast(selfCrossing, formatCount(first.count, 'crossing')),
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
