import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'toolpath/raster-pitch',
  summary: 'The lines of a raster lie too far apart or too close for the spot.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'machine'],
  messages: {
    gaps: 'The lines of {areas} lie {pitch} mm apart and the spot is {spot} mm wide. Bring the lines closer, or defocus. Above {limit} spots stripes stay between them.',
    overlap:
      'The lines of {areas} lie {pitch} mm apart and the spot is {spot} mm wide. Space the lines wider. Below {limit} of a spot each place is burnt {times} times over, and the time goes with it.',
    place: 'spaced the same way',
  },
  example:
    'The lines of 2 raster areas lie 0.25 mm apart and the spot is 0.139 mm wide. Bring the lines closer, or defocus. Above 1.5 spots stripes stay between them.',
  options: {
    widest: {
      type: 'number',
      default: 1.5,
      minimum: 0,
      description: 'Line pitch over spot from which stripes show; reported as a note.',
    },
    closest: {
      type: 'number',
      default: 0.2,
      minimum: 0,
      description: 'Line pitch over spot below which lines pile up.',
    },
  },
  why: 'A raster is even when neighbouring lines overlap by a third to two thirds of the spot. Wider, and stripes stay (a note: it may be wanted); much closer, and the same area takes many times the energy and time that was meant.',
  remedy: 'Set the pitch to between a third of the spot and the whole of it.',
  sources: ['The spot from lens and beam: docs/model.md', 'The limits: common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    const areas = facts.areas.filter((area) => area.spotMm !== null && area.spotMm > 0 && area.pitchMm > 0);
    if (facts.areas.length === 0) return { notApplicable: 'the toolpath has no raster area' };
    if (areas.length === 0) return { notApplicable: 'machine and lens are not both known' };
    const ratio = (area: (typeof areas)[number]) => roundTo(area.pitchMm / (area.spotMm ?? 1), 3);
    const found: ReportDescriptor[] = [];
    for (const [messageId, wrong, limit] of [
      ['gaps', areas.filter((area) => ratio(area) > options.widest), options.widest],
      ['overlap', areas.filter((area) => ratio(area) < options.closest), options.closest],
    ] as const) {
      const [first, ...others] = wrong;
      if (first === undefined) continue;
      const args = {
        areas: formatCount(wrong.length, 'raster area'),
        pitch: significant(first.pitchMm),
        spot: significant(first.spotMm ?? 0),
        limit,
      };
      found.push({
        messageId,
        ...(messageId === 'gaps'
          ? { severity: 'note' as const, args }
          : { args: { ...args, times: significant((first.spotMm ?? 0) / first.pitchMm) } }),
        location: first.location,
        related: relatedPlaces(
          others.map((area) => area.location),
          'place',
        ),
        subject: messageId,
      });
    }
    return found;
  },
});
