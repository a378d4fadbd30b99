import { FIRE } from '../cautions.ts';
import { SCALE_IN_DOUBT } from '../machine.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, formatPercent, mm, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'toolpath/raster-peak-energy',
  summary: 'The darkest part of a raster burns deep into the sheet.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'machine', 'material', 'sidecar'],
  messages: {
    deep: 'At its peak {area} delivers {peak} J/mm² (mean {mean}), enough for {depth} mm of the {thickness} mm sheet. Lower the power or raise the speed of the area. More than {limit} of the thickness is no surface mark; the material’s removal energy is {removal} J/mm³.',
    place: 'this area as well',
  },
  example:
    'At its peak the worst of 2 raster areas delivers 6.75 J/mm² (mean 6.75), enough for 2.61 mm of the 3.0 mm sheet. Lower the power or raise the speed of the area. More than 50 % of the thickness is no surface mark; the material’s removal energy is 2.59 J/mm³.',
  options: {
    depth: {
      type: 'number',
      default: 0.5,
      minimum: 0,
      maximum: 1,
      description: 'Share of the thickness that the peak of a surface area may remove.',
    },
  },
  why: 'A wide area that takes that much energy does not only mark: it burns a pit, can go through thin stock, and is where fires start, since the beam comes back to the same spot line after line.',
  remedy:
    'Lower the power of the area, raise its speed, or widen the line pitch (see toolpath/raster-pitch). Flatten the darkest tones of the picture.',
  sources: [
    'Depth as energy per area over the removal energy per volume: docs/model.md',
    'The limit of half the thickness: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    if (facts.areas.length === 0) return { notApplicable: 'the toolpath has no raster area' };
    if (facts.scaleDoubt !== null) return SCALE_IN_DOUBT;
    const removal = facts.material?.removal ?? null;
    const thickness = facts.thicknessMm;
    if (removal === null || thickness === null || thickness <= 0) {
      return { notApplicable: 'the thickness or the material’s removal energy is not known' };
    }
    const deep = facts.areas.flatMap((area) => {
      const depth = roundTo((area.peakJPerMm2 ?? 0) / removal.jPerMm3, 3);
      return depth > roundTo(thickness * options.depth, 3) ? [{ area, depth }] : [];
    });
    const worst = deep.reduce((most, one) => (one.depth > most.depth ? one : most), deep[0]!);
    if (worst === undefined) return [];
    return [
      {
        messageId: 'deep',
        args: {
          area: deep.length === 1 ? 'a raster area' : `the worst of ${formatCount(deep.length, 'raster area')}`,
          peak: significant(worst.area.peakJPerMm2 ?? 0),
          mean: significant(worst.area.meanJPerMm2 ?? 0),
          depth: mm(Math.min(worst.depth, thickness)),
          thickness: mm(thickness),
          removal: significant(removal.jPerMm3),
          limit: formatPercent(options.depth),
        },
        location: worst.area.peakLocation,
        related: relatedPlaces(
          deep.filter((one) => one !== worst).map((one) => one.area.peakLocation),
          'place',
        ),
      },
    ];
  },
});
