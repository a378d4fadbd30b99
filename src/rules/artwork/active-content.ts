import { artworkProblems, countOf, inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, listed } from '../wording.ts';

export default defineRule({
  id: 'artwork/active-content',
  summary: 'The artwork carries scripts, event handlers or animation.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork'],
  messages: {
    active:
      'The artwork carries {pieces} of active content ({what}). Take it out, and ask where the file comes from. It is not run here, and has no place in a drawing that is to be cut.',
    place: 'active content here as well',
  },
  forCustomers: { active: [] },
  example:
    'The artwork carries 2 pieces of active content ("script", "onload"). Take it out, and ask where the file comes from. It is not run here, and has no place in a drawing that is to be cut.',
  options: {},
  why: 'A script in an SVG runs when the file is opened in a browser, with whatever that browser may do; animation makes the drawing differ from moment to moment. Neither belongs into a cutting job.',
  remedy:
    'Export as plain SVG. Treat a file from a stranger that carries scripts with suspicion, and do not open it in a browser.',
  sources: ['SVG 2, chapters Scripting and Animation', 'Common practice, no source'],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    const active = artworkProblems(facts).filter((problem) => problem.code === 'active-content');
    const [first, ...others] = active;
    if (first === undefined) return [];
    const count = countOf(active);
    const kinds = [...new Set(active.map((problem) => String(problem.args['what'] ?? '')))];
    return [
      {
        messageId: 'active',
        args: { pieces: formatCount(count, 'piece'), what: listed(kinds) },
        location: inArtwork(facts, first.place),
        related: relatedPlaces(
          others.map((problem) => inArtwork(facts, problem.place)),
          'place',
        ),
      },
    ];
  },
});
