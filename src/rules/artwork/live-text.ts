import { artworkProblems, groupOf, inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, quoted } from '../wording.ts';

export default defineRule({
  id: 'artwork/live-text',
  summary: 'Text in the artwork is still text and has no outlines to cut.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork'],
  messages: {
    text: '{pieces} of live text, the first reads {text}. Convert text to paths in the drawing program. What will be cut depends on the fonts of the computer that opens it, and may be nothing.',
    place: 'live text here as well',
  },
  forCustomers: { text: ['text'] },
  example:
    '2 pieces of live text, the first reads "Beans". Convert text to paths in the drawing program. What will be cut depends on the fonts of the computer that opens it, and may be nothing.',
  options: {},
  why: 'Live text holds letters and the name of a font. On a computer without that font the letters come out in another one, wider or narrower, or not at all; many programs that write toolpaths leave text out in silence. It is not part of what is predicted here either.',
  remedy:
    'Convert text to paths and keep an editable copy beside it. Text that is only a remark belongs into a hidden layer or out of the file.',
  sources: [
    'SVG 2, chapter Text: glyphs come from the fonts that the reader of the file finds',
    'Converting text before cutting: common practice, no source',
  ],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    const group = groupOf(artworkProblems(facts), 'live-text');
    if (group === null) return [];
    return [
      {
        messageId: 'text',
        args: { pieces: formatCount(group.count, 'piece'), text: quoted(String(group.first.args['text'] ?? '')) },
        location: inArtwork(facts, group.first.place),
        related: relatedPlaces(
          group.others.map((problem) => inArtwork(facts, problem.place)),
          'place',
        ),
      },
    ];
  },
});
