import type { JobFacts } from '../../facts/facts.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { BEAM } from '../cautions.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { inSentence } from '../wording.ts';

export default defineRule({
  id: 'material/mirror-unmasked',
  summary: 'Mirrored stock lies under the beam without masking, or with its coating towards it.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['sidecar', 'material'],
  messages: {
    bare: 'The face of the {material} is bare. Mask the sheet before cutting, as is usual for mirrored stock{side}. Its mirror can throw the beam back into the machine.',
    notStated:
      'The job does not say whether the {material} is masked. Mask the sheet, then state `face: masked`{side}. A bare mirror can throw the beam back into the machine.',
    sideNotStated:
      'The job does not say which way the coated side of the {material} looks. Lay the clear face up and the coating away from the beam, then state `mirror: down`. The clear face takes up a CO₂ beam; the coating throws back what it meets first.',
    coatedUp:
      'The coated side of the {material} looks up at the beam. Turn the sheet where it is to be cut through: the coating throws back what it meets first, and the clear face takes up a CO₂ beam.',
  },
  example:
    'The face of the mirrored acrylic is bare. Mask the sheet before cutting, as is usual for mirrored stock. Its mirror can throw the beam back into the machine.',
  options: {},
  why: 'A mirror sends back what it does not absorb: to the lens, the head, or out of the machine. Masking film takes up the first of the beam and keeps soot off the coating. Acrylic mirror is usually cut with the coated side away from the beam; which side is up is a note. To mark the coating alone the coated side is up, and nothing is said. For a bare file, which cannot state its face, it is a note.',
  remedy:
    'Mask the face, state `face: masked`, and say which way the mirror looks (`mirror: up` or `mirror: down`). Follow the machine’s manual on reflective stock.',
  sources: [
    'Mirrored stock is masked first, and cut with the coated side down: common practice, no source',
    'PMMA takes up 10.6 µm light within 0.03 mm ([REFRACTIVEINDEX])',
  ],
  caution: BEAM,
  check(facts) {
    const material = facts.material;
    if (material === null) return { notApplicable: 'the material is not known' };
    if (!material.traits.mirrored) return [];
    const face = facts.input.sidecar?.face ?? null;
    const mirror = facts.input.sidecar?.mirror ?? null;
    if (face === 'masked') return sideOf(facts, mirror, inSentence(material.name));
    const side = mirror === 'down' ? '' : ', and turn the coated side away from the beam where the sheet allows it';
    return [
      {
        messageId: face === 'bare' ? 'bare' : 'notStated',
        severity: facts.fromOptions ? 'note' : 'warning',
        args: { material: inSentence(material.name), side },
        location: inSidecar(facts, ['face']),
      },
    ];
  },
});

/** A masked mirror: which side is up. */
function sideOf(facts: JobFacts, mirror: 'up' | 'down' | null, material: string): ReportDescriptor[] {
  const marksOnly = facts.tasks.length > 0 && facts.tasks.every((task) => task.aim === 'surface');
  if (mirror === 'down' || (mirror === 'up' && marksOnly)) return [];
  return [
    {
      messageId: mirror === 'up' ? 'coatedUp' : 'sideNotStated',
      severity: 'note',
      args: { material },
      location: inSidecar(facts, ['mirror']),
    },
  ];
}
