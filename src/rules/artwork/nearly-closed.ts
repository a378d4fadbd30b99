import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/nearly-closed',
  summary: 'An outline misses closing by a hair.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'prediction', 'sidecar'],
  searches: ['drawn-lines'],
  messages: {
    gap: '{outlines} {miss} closing, the widest gap is {gap} mm. Close the path in the drawing program. With a kerf of {kerf} mm {effect}.',
    place: 'not quite closed either',
  },
  forCustomers: { gap: ['gap'] },
  example:
    '2 outlines miss closing, the widest gap is 0.6 mm. Close the path in the drawing program. With a kerf of 0.24 mm the part will hang on there.',
  options: {
    kerf: {
      type: 'number',
      default: 0.2,
      unit: 'mm',
      minimum: 0,
      description: 'Kerf to go by when none could be predicted.',
    },
  },
  why: 'Gaps of a few tenths come from snapping that missed or from exports with few decimals. Above the kerf the part hangs on by a thread; below it the beam bridges the gap (a note), but programs that fill, nest or offset shapes take the outline for an open line.',
  remedy:
    'Join the end nodes. A bridge that is meant to hold a part is better drawn on purpose, half a millimetre wide or more.',
  sources: ['The kerf: the cut model, docs/model.md', 'Common practice, no source'],
  check(facts, options) {
    const geometry = facts.geometry;
    if (geometry === null) return { notApplicable: 'the job has no artwork' };
    const kerf = geometry.kerfMm ?? options.kerf;
    const gaps = [...geometry.nearlyClosed].sort((a, b) => b.gapMm - a.gapMm);
    const [widest, ...others] = gaps;
    if (widest === undefined) return [];
    const bridged = roundTo(widest.gapMm, 3) < roundTo(kerf, 3);
    return [
      {
        messageId: 'gap',
        severity: bridged ? 'note' : 'warning',
        args: {
          outlines: formatCount(gaps.length, 'outline'),
          miss: gaps.length === 1 ? 'misses' : 'miss',
          gap: mm(widest.gapMm),
          kerf: mm(kerf),
          effect: bridged ? 'the beam bridges it, other programs may not' : 'the part will hang on there',
        },
        location: widest.location,
        related: relatedPlaces(
          others.map((one) => one.location),
          'place',
        ),
      },
    ];
  },
});
