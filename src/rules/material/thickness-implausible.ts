import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { inSentence, mm, significant } from '../wording.ts';

const MM_PER_INCH = 25.4;

export default defineRule({
  id: 'material/thickness-implausible',
  summary: 'The sheet is thicker or thinner than this material is sold.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['sidecar', 'material'],
  messages: {
    unusual:
      'A thickness of {thickness} mm is unusual for {material}. Measure the sheet and correct it{hint}. Its entry in the catalogue has it sold from {min} to {max} mm.',
    absurd:
      'A thickness of {thickness} mm is beyond any sheet that a laser cutter is fed. Measure the sheet and correct it{hint}. From {smallest} to {largest} mm is let pass.',
  },
  forCustomers: { unusual: ['thickness'], absurd: ['thickness'] },
  example:
    'A thickness of 30.0 mm is unusual for birch plywood. Measure the sheet and correct it (a point may be missing: 3.0 mm). Its entry in the catalogue has it sold from 0.8 to 24.0 mm.',
  options: {
    slack: {
      type: 'number',
      default: 0.2,
      minimum: 0,
      maximum: 1,
      description: 'How far outside the sold range is still let pass, as a share of its end.',
    },
    smallest: { type: 'number', default: 0.02, unit: 'mm', minimum: 0, description: 'No sheet is thinner.' },
    largest: { type: 'number', default: 150, unit: 'mm', minimum: 1, description: 'No sheet is thicker.' },
  },
  why: 'Everything that is predicted rests on the thickness. A slipped unit (0.25 meant in inches, 30 for 3.0) turns a clean cut into a ruined sheet or a fire hazard, and nothing else in the job shows it. A thickness outside the sold range is a warning, one beyond the outer limits an error.',
  remedy:
    'Measure with a calliper at three places, the worst counts, and write it with its unit and tolerance: `thickness: 6.0 mm ± 0.2 mm`. If the range is wrong for what you buy, correct `thickness` in the shop’s `*.material.yaml`.',
  sources: [
    'Sold thicknesses stand in each material’s entry with their provenance',
    'The outer limits: common practice, no source',
  ],
  check(facts, options) {
    const thickness = facts.thicknessMm;
    if (thickness === null) return { notApplicable: 'no thickness is given' };
    const location = inSidecar(facts, ['thickness']);
    const material = facts.material;
    const hint = unitHint(thickness, material?.thicknessMm ?? null);
    if (thickness < options.smallest || thickness > options.largest) {
      const args = { thickness: significant(thickness), smallest: options.smallest, largest: options.largest, hint };
      return [{ messageId: 'absurd', severity: 'error', args, location }];
    }
    if (material === null) return { notApplicable: 'the material is not known' };
    const { min, max } = material.thicknessMm;
    if (thickness >= min * (1 - options.slack) && thickness <= max * (1 + options.slack)) return [];
    const args = { thickness: mm(thickness), material: inSentence(material.name), min: mm(min), max: mm(max), hint };
    return [{ messageId: 'unusual', args, location }];
  },
});

/** Says which slip of the unit would explain the value, when one does. */
function unitHint(thickness: number, sold: { min: number; max: number } | null): string {
  if (sold === null) return '';
  const fits = (value: number) => value >= sold.min && value <= sold.max;
  if (fits(thickness * MM_PER_INCH)) return ` (as inches it would be ${mm(thickness * MM_PER_INCH)} mm)`;
  if (fits(thickness / 10)) return ` (a point may be missing: ${mm(thickness / 10)} mm)`;
  return '';
}
