import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'toolpath/open-cut',
  summary: 'A contour of the toolpath that turns back to its start does not reach it.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'sidecar'],
  searches: ['drawn-lines', 'tasks'],
  messages: {
    open: '{contours} of through cuts {stop} short of closing, the first by {gap} mm of its {length} mm. Close the contour, or leave it if a bridge is meant. The part will hang on there.',
    place: 'open as well',
  },
  example:
    '2 contours of through cuts stop short of closing, the first by 3.0 mm of its 177.0 mm. Close the contour, or leave it if a bridge is meant. The part will hang on there.',
  options: {
    'turns-back': {
      type: 'number',
      default: 0.1,
      minimum: 0,
      maximum: 1,
      description:
        'A contour is reported when the gap between its ends is less than this share of its length; slits and the tongues of flaps stay out.',
    },
    kerf: {
      type: 'number',
      default: 0.1,
      unit: 'mm',
      minimum: 0,
      description: 'Gap that the width of the cut bridges.',
    },
  },
  why: 'Some programs drop the last move of a contour, or start and end it apart. The part then hangs by a thread that tears the edge. Slits and hinges are open by nature and are not reported; nor are outlines that are as open in the artwork (artwork/open-outline speaks of those).',
  remedy:
    'Write the contour to its start and a little past it. If the bridge is meant to hold the part, waive the finding with that reason.',
  sources: ['Common practice, no source'],
  check(facts, options) {
    if (facts.order === null) return { notApplicable: 'the job has no toolpath' };
    const turnsBack = (one: { gapMm: number; lengthMm: number }) =>
      roundTo(one.gapMm, 3) > options.kerf && roundTo(one.gapMm, 3) < roundTo(one.lengthMm * options['turns-back'], 3);
    const open = facts.order.open.filter(turnsBack);
    const drawnOpen = (facts.geometry?.open ?? []).filter(turnsBack).length;
    const [first, ...others] = open;
    if (first === undefined || open.length <= drawnOpen) return [];
    return [
      {
        messageId: 'open',
        args: {
          contours: formatCount(open.length, 'contour'),
          stop: open.length === 1 ? 'stops' : 'stop',
          gap: mm(first.gapMm),
          length: mm(first.lengthMm),
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
