import { artworkProblems, countOf, inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount } from '../wording.ts';

/** What keeps an element from being seen, in words. */
const WHY: Record<string, string> = {
  display: 'display none',
  visibility: 'visibility hidden',
  opacity: 'opacity 0',
  clip: 'a clip path',
  mask: 'a mask',
  'no-paint': 'neither stroke nor fill',
};

export default defineRule({
  id: 'artwork/hidden-geometry',
  summary: 'The artwork holds shapes that cannot be seen; other programs may cut them all the same.',
  severity: 'note',
  since: '0.1.0',
  reads: ['artwork'],
  messages: {
    hidden:
      '{elements} of the artwork {are} hidden ({why}) and {were} left out here. Delete what is not meant to be cut. The program that writes the toolpath may cut {them} all the same.',
    place: 'hidden as well',
  },
  example:
    '3 elements of the artwork are hidden (display none, visibility hidden) and were left out here. Delete what is not meant to be cut. The program that writes the toolpath may cut them all the same.',
  options: {},
  why: 'Some programs export hidden layers, ignore clip paths and masks, or cut shapes without a stroke: then the machine cuts what nobody saw on the screen.',
  remedy: 'Keep drafts in a file of their own, and apply clips to the geometry before export.',
  sources: ['What SVG 2 does not render', 'That programs differ in what they cut of it: common practice, no source'],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    const hidden = artworkProblems(facts).filter((problem) => problem.code === 'hidden');
    const [first, ...others] = hidden;
    if (first === undefined) return [];
    const count = countOf(hidden);
    const reasons = new Set(hidden.map((problem) => WHY[String(problem.args['why'] ?? '')] ?? 'not rendered'));
    const many = count > 1;
    return [
      {
        messageId: 'hidden',
        args: {
          elements: formatCount(count, 'element'),
          are: many ? 'are' : 'is',
          were: many ? 'were' : 'was',
          them: many ? 'them' : 'it',
          why: [...reasons].join(', '),
        },
        location: inArtwork(facts, first.place),
        related: relatedPlaces(
          others.map((problem) => inArtwork(facts, problem.place)),
          'place',
        ),
      },
    ];
  },
});
