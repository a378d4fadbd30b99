import { artworkProblems, groupOf, inArtwork } from '../places.ts';
import { defineRule } from '../rule.ts';
import { mm } from '../wording.ts';

export default defineRule({
  id: 'artwork/no-physical-size',
  summary: 'The artwork does not say how large it is.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'machine'],
  messages: {
    assumed:
      'The artwork states no physical size and was read as {width} × {height} mm. Give the svg element a width and height with units, such as width="{width}mm". This size is that at {ppi} px per inch ({origin}).',
  },
  forCustomers: { assumed: ['width', 'height'] },
  example:
    'The artwork states no physical size and was read as 100.0 × 50.0 mm. Give the svg element a width and height with units, such as width="100.0mm". This size is that at 96 px per inch (the machine’s profile).',
  options: {},
  why: 'Without units each program reads pixels by its own rule: at 72, 90 or 96 px per inch the same file differs by a third in size, and nothing fits.',
  remedy:
    'Set width and height of the page in millimetres and keep the viewBox. If the machine’s own software takes pixels at a fixed density, state it in the machine’s profile (`artwork.px-per-inch`).',
  sources: [
    '1 in = 96 px = 25.4 mm: CSS Values and Units; files drawn at 72 or 90 px per inch exist: common practice, no source',
  ],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    const group = groupOf(artworkProblems(facts), 'no-physical-size');
    if (group === null && facts.artwork.size === 'physical') return [];
    if (group === null && !facts.artwork.analysed) return { notApplicable: 'the artwork could not be read' };
    const args = group?.first.args ?? {};
    const stated = facts.machine?.artwork.stated === true;
    return [
      {
        messageId: 'assumed',
        args: {
          ppi: Number(args['pxPerInch'] ?? facts.machine?.artwork.pxPerInch ?? 96),
          origin: stated ? 'the machine’s profile' : 'the default of CSS',
          width: mm(facts.artwork.widthMm),
          height: mm(facts.artwork.heightMm),
        },
        location:
          group === null
            ? inArtwork(facts, { line: 1, column: 1, endLine: 1, endColumn: 1 })
            : inArtwork(facts, group.first.place),
      },
    ];
  },
});
