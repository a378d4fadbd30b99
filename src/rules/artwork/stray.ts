import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm } from '../wording.ts';

export default defineRule({
  id: 'artwork/stray',
  summary: 'Specks are left in the artwork that are too short to mean anything.',
  severity: 'note',
  since: '0.1.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines'],
  messages: {
    stray:
      '{specks} of tasks that part the sheet {are} left in the artwork, the first {length} mm long. Delete what is not meant. The head goes there and burns a dot.',
    place: 'a speck here as well',
  },
  example:
    '2 specks of tasks that part the sheet are left in the artwork, the first 0.1 mm long. Delete what is not meant. The head goes there and burns a dot.',
  options: {},
  why: 'Single nodes and ends of trimmed lines are invisible on the screen. On the machine each costs a travel move and leaves a burnt dot, often on a finished face.',
  remedy: 'Select short paths in the drawing program and delete them.',
  sources: ['Common practice, no source'],
  caution: FIRE,
  check(facts) {
    if (facts.geometry === null) return { notApplicable: 'the job has no artwork' };
    const [first, ...others] = facts.geometry.strays;
    if (first === undefined) return [];
    const count = facts.geometry.strays.length;
    return [
      {
        messageId: 'stray',
        args: { specks: formatCount(count, 'speck'), are: count === 1 ? 'is' : 'are', length: mm(first.lengthMm) },
        location: first.location,
        related: relatedPlaces(
          others.map((one) => one.location),
          'place',
        ),
      },
    ];
  },
});
