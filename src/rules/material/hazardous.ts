import type { HazardClass } from '../../facts/types.ts';
import type { Severity } from '../../findings/finding.ts';
import { FUMES } from '../cautions.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atStart } from '../wording.ts';

const SEVERITY: Record<Exclude<HazardClass, 'usual'>, Severity> = {
  never: 'error',
  reconsider: 'warning',
  extract: 'note',
};

export default defineRule({
  id: 'material/hazardous',
  summary: 'What the sheet gives off, or the way it burns, harms people or the machine.',
  severity: 'error',
  since: '0.1.0',
  safety: true,
  reads: ['sidecar', 'material'],
  messages: {
    never:
      '{name} must not be laser-cut. Take another material; its safety data sheet says what the fumes would hold. The reason: {reason} (source: {source}).',
    reconsider:
      '{name} is a material to reconsider. If it has to be cut, first clear it with the safety data sheet, the machine’s manual and whoever answers for the workshop. The reason: {reason} (source: {source}).',
    extract:
      '{name} asks for extraction. Run it, and keep to what the safety data sheet and local codes ask for. The reason: {reason} (source: {source}).',
  },
  forCustomers: { never: [], reconsider: [] },
  example:
    'PVC must not be laser-cut. Take another material; its safety data sheet says what the fumes would hold. The reason: gives off hydrogen chloride and chlorinated compounds: harmful to breathe, and corrodes optics and machine (source: [UIC]; [TEXAS]; [NIOSH-1976]).',
  options: {},
  why: 'Chlorinated sheets give off hydrogen chloride, fluorinated ones hydrogen fluoride and carbonyl fluoride: both injure lungs and eat optics and guides. Others give off hydrogen cyanide or formaldehyde, or melt, drip and catch fire. The class comes from the material’s entry: `never` is an error, `reconsider` a warning, `extract` a note. What every plywood gives off is no alarm. A file beside the job can raise a class and never lower it.',
  remedy:
    'Choose a sheet that is sold for laser cutting and comes with a safety data sheet: cast acrylic, untreated wood or card in place of vinyl, for example. If the class is wrong for your sheet, correct the shop’s `*.material.yaml` with its reason and source; a waiver in the sidecar needs a reason and a date.',
  sources: [
    'PVC, vinyl, chlorinated sheets: [UIC]; [TEXAS]; [NIOSH-1976]',
    'PTFE and fluoropolymers; ABS, polyurethane, nylon and other nitrogen-bearing sheets; acetal: [TEXAS]; [K-STATE]',
    'Polycarbonate, polyethylene and foams (flames, drips, fire): [UIC]; [K-STATE]',
    'Each finding names the source that stands in the material’s own entry',
  ],
  caution: FUMES,
  check(facts) {
    const material = facts.material;
    if (material === null) return { notApplicable: 'the material is not known' };
    const { reason, source } = material.hazard;
    const hazard = material.hazard.class;
    if (hazard === 'usual') return [];
    return [
      {
        messageId: hazard,
        severity: SEVERITY[hazard],
        args: { name: atStart(material.name), reason, source },
        location: inSidecar(facts, ['material']),
        subject: material.id,
      },
    ];
  },
});
