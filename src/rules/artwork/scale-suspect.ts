import { inArtwork } from '../places.ts';
import { defineRule } from '../rule.ts';
import { significant } from '../wording.ts';

export default defineRule({
  id: 'artwork/scale-suspect',
  summary: 'The artwork seems to have been scaled by a slip of pixels per inch or of units.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'toolpath', 'sidecar'],
  searches: ['drawn-lines', 'placement'],
  messages: {
    suspect:
      'The artwork looks {cause}; as it stands it is {width} × {height} mm. Check one known length, and export with physical units; times {factor} would put it right. What speaks for that: {evidence}.',
  },
  forCustomers: { suspect: ['width', 'height', 'factor'] },
  example:
    'The artwork looks drawn at 72 px per inch and read at 96; as it stands it is 136 × 60 mm. Check one known length, and export with physical units; times 1.33 would put it right. What speaks for that: the page would then be the sheet’s 300 × 200 mm.',
  options: {},
  why: 'At 72, 90 or 96 px per inch the same drawing differs in size by up to a third: parts come out complete, clean and useless, since nothing fits.',
  remedy:
    'Measure one length in the drawing program and here. Give the svg element a width and height in millimetres and a viewBox.',
  sources: [
    '1 in = 96 px: CSS Values and Units',
    'Files drawn at 72 or 90 px per inch exist: common practice, no source',
  ],
  check(facts) {
    const { artwork, geometry } = facts;
    if (artwork === null || geometry === null) return { notApplicable: 'the job has no artwork' };
    if (geometry.scaleSuspect === null) return [];
    const { factor, cause, evidence } = geometry.scaleSuspect;
    const bounds = artwork.boundsMm;
    const args = {
      cause,
      evidence,
      factor: significant(factor),
      width: significant(bounds === null ? artwork.widthMm : bounds.maxX - bounds.minX),
      height: significant(bounds === null ? artwork.heightMm : bounds.maxY - bounds.minY),
    };
    return [
      { messageId: 'suspect', args, location: inArtwork(facts, { line: 1, column: 1, endLine: 1, endColumn: 1 }) },
    ];
  },
});
