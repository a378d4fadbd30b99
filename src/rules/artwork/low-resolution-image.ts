import { artworkProblems, countOf, inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, significant } from '../wording.ts';

export default defineRule({
  id: 'artwork/low-resolution-image',
  summary: 'An embedded image is too coarse for the size at which it is laid out.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork'],
  messages: {
    coarse:
      '{images} {have} fewer than {limit} pixels per inch at {their} size, the first {ppi}: {widthPx} × {heightPx} px on {width} × {height} mm. Use a larger original, or lay it out smaller. Single pixels will show.',
    place: 'too coarse as well',
  },
  forCustomers: { coarse: ['ppi', 'limit'] },
  example:
    '2 images have fewer than 100 pixels per inch at their size, the first 42: 100 × 80 px on 60.0 × 48.0 mm. Use a larger original, or lay it out smaller. Single pixels will show.',
  options: {
    ppi: {
      type: 'number',
      default: 100,
      unit: 'px/in',
      minimum: 1,
      description: 'Fewest pixels per inch of an image that is engraved.',
    },
  },
  why: 'At 100 px per inch a pixel is a quarter of a millimetre, which the eye sees as a step. Enlarging the image in the drawing program adds no detail.',
  remedy: 'Go back to the original. Logos and lettering are better traced into paths.',
  sources: ['Common practice, no source'],
  check(facts, options) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    const value = (args: Record<string, string | number>, name: string) => Number(args[name] ?? 0);
    const coarse = artworkProblems(facts)
      .filter((problem) => problem.code === 'image-embedded' && value(problem.args, 'ppi') < options.ppi)
      .sort((a, b) => value(a.args, 'ppi') - value(b.args, 'ppi'));
    const [first, ...others] = coarse;
    if (first === undefined) return [];
    const count = countOf(coarse);
    const many = count > 1;
    return [
      {
        messageId: 'coarse',
        args: {
          images: formatCount(count, 'image'),
          have: many ? 'have' : 'has',
          their: many ? 'their' : 'its',
          limit: options.ppi,
          ppi: significant(value(first.args, 'ppi')),
          widthPx: value(first.args, 'widthPx'),
          heightPx: value(first.args, 'heightPx'),
          width: mm(value(first.args, 'widthMm')),
          height: mm(value(first.args, 'heightMm')),
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
