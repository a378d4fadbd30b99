import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/feature-below-kerf',
  summary: 'Holes or slots are drawn narrower than the beam cuts.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'prediction', 'sidecar'],
  searches: ['drawn-lines'],
  messages: {
    narrow:
      '{features} {are} drawn narrower than the kerf of {kerf} mm ({origin}), the narrowest a {kind} of {width} mm. Draw {them} wider, or as a single line. The two sides burn into one, and it comes out about a kerf wider than drawn.',
    place: 'as narrow here',
  },
  forCustomers: { narrow: ['kerf', 'width'] },
  example:
    '2 holes or slots are drawn narrower than the kerf of 0.24 mm (predicted), the narrowest a slot of 0.1 mm. Draw them wider, or as a single line. The two sides burn into one, and it comes out about a kerf wider than drawn.',
  options: {
    kerfs: { type: 'number', default: 1, minimum: 0, description: 'Least width of a hole or slot, in kerfs.' },
    kerf: {
      type: 'number',
      default: 0.2,
      unit: 'mm',
      minimum: 0,
      description: 'Kerf to go by when none could be predicted.',
    },
  },
  why: 'The beam itself has a width. A hole or slot no wider than that is burnt twice over the same ground: too wide, charred, and its shape is lost.',
  remedy: 'Draw slits as one line. Draw holes larger than two kerfs, or mark them and drill them.',
  sources: ['The kerf: the cut model, docs/model.md', 'Common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    const geometry = facts.geometry;
    if (geometry === null) return { notApplicable: 'the job has no artwork' };
    const kerf = geometry.kerfMm ?? options.kerf;
    const narrow = geometry.narrow
      .filter((one) => roundTo(one.widthMm, 3) < roundTo(kerf * options.kerfs, 3))
      .sort((a, b) => a.widthMm - b.widthMm);
    const [first, ...others] = narrow;
    if (first === undefined) return [];
    return [
      {
        messageId: 'narrow',
        args: {
          features: formatCount(narrow.length, 'hole or slot', 'holes or slots'),
          are: narrow.length === 1 ? 'is' : 'are',
          them: narrow.length === 1 ? 'it' : 'them',
          kerf: mm(kerf),
          origin: geometry.kerfMm === null ? 'set for this rule' : 'predicted',
          kind: first.kind,
          width: mm(first.widthMm),
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
