import type { Location } from '../../facts/types.ts';
import { inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, listed } from '../wording.ts';

export default defineRule({
  id: 'artwork/unassigned-stroke',
  summary: 'No task of the sidecar says what is to become of some outlines.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines', 'tasks'],
  messages: {
    unassigned:
      '{outlines} of the artwork belong{s} to no task of the sidecar (strokes {strokes}). Add a task that selects them, or take them out of the artwork. Nothing is planned or predicted for them.',
    place: 'belongs to no task either',
  },
  forCustomers: { unassigned: [] },
  example:
    '3 outlines of the artwork belong to no task of the sidecar (strokes "#e8a33d", "#2f6f73"). Add a task that selects them, or take them out of the artwork. Nothing is planned or predicted for them.',
  options: {},
  why: 'What no task selects is either cut with settings that nobody checked or is left out of the job; both are found out too late. Colours have no meaning of their own here: only the sidecar says what a stroke is for.',
  remedy:
    'Add a task for the strokes named, or let one task go without `strokes`: it takes all that no other task selects.',
  sources: ['A consequence of the sidecar’s own rules; no outside source'],
  check(facts) {
    const { artwork, unassignedOutlines, input } = facts;
    if (artwork === null) return { notApplicable: 'the job has no artwork' };
    if (input.sidecar === null) return { notApplicable: 'there is no sidecar with tasks' };
    const strokes = new Map<string, { count: number; location: Location }>();
    for (const index of unassignedOutlines) {
      const outline = artwork.outlines[index];
      const element = outline === undefined ? undefined : artwork.elements[outline.element];
      if (element === undefined) continue;
      const stroke = element.stroke ?? 'none';
      const known = strokes.get(stroke);
      if (known === undefined) strokes.set(stroke, { count: 1, location: inArtwork(facts, element.place) });
      else known.count++;
    }
    const kinds = [...strokes].sort((a, b) => b[1].count - a[1].count);
    const [first, ...others] = kinds;
    if (first === undefined) return [];
    const count = unassignedOutlines.length;
    return [
      {
        messageId: 'unassigned',
        args: {
          outlines: formatCount(count, 'outline'),
          s: count === 1 ? 's' : '',
          strokes: listed(kinds.map(([stroke]) => stroke)),
        },
        location: first[1].location,
        related: relatedPlaces(
          others.map(([, kind]) => kind.location),
          'place',
        ),
      },
    ];
  },
});
