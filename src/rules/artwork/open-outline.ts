import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/open-outline',
  summary: 'An outline that looks as if it should set a part free does not close.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines'],
  messages: {
    open: '{outlines} of tasks that part the sheet {end} short of closing, the first by {gap} mm of its {length} mm. Close the path, or leave it if a bridge is meant. The part will hang on there.',
    place: 'open as well',
  },
  forCustomers: { open: ['gap'] },
  example:
    '2 outlines of tasks that part the sheet end short of closing, the first by 8.0 mm of its 212.0 mm. Close the path, or leave it if a bridge is meant. The part will hang on there.',
  options: {
    'turns-back': {
      type: 'number',
      default: 0.1,
      minimum: 0,
      maximum: 1,
      description:
        'An open outline is reported when the gap between its ends is less than this share of its length; straight slits and the tongues of flaps stay out.',
    },
  },
  why: 'A part comes free only where its outline is closed. Slits, hinges and straight cuts are open by nature: only outlines that turn back towards their start are reported, all in one finding. Gaps of a fraction of a millimetre are the matter of artwork/nearly-closed.',
  remedy:
    'Join the end points in the drawing program (“close path”). If the bridge is meant to hold the part, waive the finding with that reason.',
  sources: ['Common practice, no source'],
  check(facts, options) {
    if (facts.geometry === null) return { notApplicable: 'the job has no artwork' };
    const nearly = new Set(facts.geometry.nearlyClosed.map((one) => one.outline));
    const open = facts.geometry.open.filter(
      (one) => !nearly.has(one.outline) && roundTo(one.gapMm, 3) < roundTo(one.lengthMm * options['turns-back'], 3),
    );
    const [first, ...others] = open;
    if (first === undefined) return [];
    return [
      {
        messageId: 'open',
        args: {
          outlines: formatCount(open.length, 'outline'),
          end: open.length === 1 ? 'ends' : 'end',
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
