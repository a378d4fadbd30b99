import { BEAM } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/off-sheet',
  summary: 'Outlines reach beyond the edge of the sheet.',
  severity: 'error',
  since: '0.1.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines'],
  messages: {
    off: '{outlines} of the artwork {reach} up to {by} mm beyond the sheet of {width} × {height} mm. Move or scale the artwork, or lay a larger sheet. The size is that of the sheet in the sidecar.',
    place: 'beyond the sheet as well',
  },
  forCustomers: { off: ['by', 'width', 'height'] },
  example:
    '2 outlines of the artwork reach up to 7.5 mm beyond the sheet of 300.0 × 200.0 mm. Move or scale the artwork, or lay a larger sheet. The size is that of the sheet in the sidecar.',
  options: {
    slack: {
      type: 'number',
      default: 0.1,
      unit: 'mm',
      minimum: 0,
      description: 'Overreach that is taken for rounding.',
    },
  },
  why: 'Off the sheet the beam cuts nothing but the bed: the part is incomplete, and the light comes back from whatever lies there.',
  remedy:
    'Correct the placement in the drawing, or the size of the sheet in the sidecar. A waste-saving nest wants a margin to the edge as well.',
  sources: ['The sheet’s size comes from the sidecar'],
  caution: BEAM,
  check(facts, options) {
    const sheet = facts.input.sidecar?.sheet ?? null;
    if (facts.geometry === null) return { notApplicable: 'the job has no artwork' };
    if (facts.toolpath !== null)
      return { notApplicable: 'the toolpath is what runs: toolpath/off-sheet holds it against the sheet' };
    if (sheet === null) return { notApplicable: 'the sidecar states no sheet' };
    const off = facts.geometry.offSheet.filter((one) => roundTo(one.byMm, 3) > options.slack);
    const worst = off.reduce((most, one) => (one.byMm > most.byMm ? one : most), off[0]!);
    if (worst === undefined) return [];
    return [
      {
        messageId: 'off',
        args: {
          outlines: formatCount(off.length, 'outline'),
          reach: off.length === 1 ? 'reaches' : 'reach',
          by: mm(worst.byMm),
          width: mm(sheet.widthMm),
          height: mm(sheet.heightMm),
        },
        location: worst.location,
        related: relatedPlaces(
          off.filter((one) => one !== worst).map((one) => one.location),
          'place',
        ),
      },
    ];
  },
});
