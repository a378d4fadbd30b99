import type { Web } from '../../facts/artwork/geometry-fact.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { type Found, where } from '../../units/found.ts';
import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atStart, countFound, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/web-too-thin',
  summary: 'So little material stays between two cuts that it burns away or breaks.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'prediction', 'sidecar'],
  searches: ['drawn-lines', 'webs'],
  messages: {
    thin: '{webs} between neighbouring cuts {are} thinner than {limit} mm, the thinnest drawn {width} mm wide. Move the lines apart. Such webs burn away or break; the limit is {factor} times the kerf of {kerf} mm ({origin}).',
    weak: '{webs} {are} thinner than the sheet is thick ({thickness} mm), the thinnest {width} mm. Widen them to the thickness or more. Parts that bear load break there.',
    other: 'the neighbouring cut',
    place: 'as thin here',
  },
  forCustomers: { thin: ['limit', 'width'], weak: ['thickness', 'width'] },
  example:
    '2 webs between neighbouring cuts are thinner than 0.48 mm, the thinnest drawn 0.2 mm wide. Move the lines apart. Such webs burn away or break; the limit is 2 times the kerf of 0.24 mm (predicted).',
  options: {
    kerfs: {
      type: 'number',
      default: 2,
      minimum: 0,
      description: 'Least width of a web, in kerfs. Hinges of 1 to 2.5 mm stay well above it.',
    },
    kerf: {
      type: 'number',
      default: 0.2,
      unit: 'mm',
      minimum: 0,
      description: 'Kerf to go by when none could be predicted.',
    },
    'load-bearing': {
      type: 'boolean',
      default: false,
      description: 'Also note webs thinner than the sheet, for parts that bear load.',
    },
  },
  why: 'Each cut takes half its kerf from the web and heats the rest. Below two kerfs hardly anything is left, and what is left is charred. Webs thinner than the sheet, where they are asked for, are a note.',
  remedy: 'Leave at least two kerfs, a millimetre in wood, and the thickness of the sheet where a part bears load.',
  sources: [
    'The kerf: the cut model, docs/model.md',
    'Two kerfs as the least; hinges of 1 to 2.5 mm are ordinary: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    const geometry = facts.geometry;
    if (geometry === null) return { notApplicable: 'the job has no artwork' };
    const kerf = geometry.kerfMm ?? options.kerf;
    const limit = roundTo(kerf * options.kerfs, 3);
    const thickness = facts.thicknessMm ?? 0;
    const isThin = (web: Web) => isNarrower(web, limit);
    const thin = where(geometry.webs, isThin);
    const found: ReportDescriptor[] = [];
    const [thinnest, ...others] = narrowestFirst(thin);
    if (thinnest !== undefined) {
      found.push({
        messageId: 'thin',
        args: {
          ...counts(thin),
          limit: mm(limit),
          factor: options.kerfs,
          kerf: mm(kerf),
          origin: geometry.kerfMm === null ? 'set for this rule' : 'predicted',
          width: mm(thinnest.widthMm),
        },
        location: thinnest.location,
        related: [
          ...relatedPlaces([thinnest.other], 'other'),
          ...relatedPlaces(
            others.slice(0, 4).map((web) => web.location),
            'place',
          ),
        ],
        subject: 'thin',
      });
    }
    if (!options['load-bearing']) return found;
    const weak = where(geometry.webs, (web) => !isThin(web) && isNarrower(web, thickness));
    const [weakest] = narrowestFirst(weak);
    if (weakest !== undefined) {
      found.push({
        messageId: 'weak',
        severity: 'note',
        args: { ...counts(weak), thickness: mm(thickness), width: mm(weakest.widthMm) },
        location: weakest.location,
        subject: 'weak',
      });
    }
    return found;
  },
});

/** Judged to a thousandth of a millimetre; what is wider by more need not be rounded, and there may be hundreds of thousands. */
function isNarrower({ widthMm }: Web, limitMm: number): boolean {
  return widthMm < limitMm + 0.001 && roundTo(widthMm, 3) < limitMm;
}

function narrowestFirst(webs: Found<Web>): Web[] {
  return [...webs.items].sort((a, b) => a.widthMm - b.widthMm);
}

function counts(webs: Found<Web>): { webs: string; are: string } {
  return { webs: atStart(countFound(webs, 'web')), are: webs.items.length === 1 ? 'is' : 'are' };
}
