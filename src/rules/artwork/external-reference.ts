import { artworkProblems, countOf, inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, quoted } from '../wording.ts';

export default defineRule({
  id: 'artwork/external-reference',
  summary: 'The artwork refers to other files or addresses, which are not followed.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork'],
  messages: {
    outside:
      '{references} to something outside the file, the first to {href} ({what}). Embed it, or take it out. It is not followed here, and may be missing or different at the machine.',
    place: 'refers outside the file as well',
  },
  forCustomers: { outside: [] },
  example:
    'The artwork refers 2 times to something outside the file, the first to "http://example.org/labels.css" ("style"). Embed it, or take it out. It is not followed here, and may be missing or different at the machine.',
  options: {},
  why: 'What lies elsewhere can be missing, change, or tell whoever runs that server that the file was opened. Nothing is fetched here, so nothing of it was checked.',
  remedy: 'Embed images, expand linked symbols and copy style sheets into the file.',
  sources: ['SVG 2, chapter Linking', 'Common practice, no source'],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    const outside = artworkProblems(facts).filter(
      (problem) => problem.code === 'external-reference' || problem.code === 'image-linked',
    );
    const [first, ...others] = outside;
    if (first === undefined) return [];
    const count = countOf(outside);
    return [
      {
        messageId: 'outside',
        args: {
          references: count === 1 ? 'The artwork refers' : `The artwork refers ${formatCount(count, 'time')}`,
          href: quoted(String(first.args['href'] ?? '')),
          what: first.code === 'image-linked' ? 'a linked image' : quoted(String(first.args['tag'] ?? 'style')),
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
