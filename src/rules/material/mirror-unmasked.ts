import { BEAM } from '../cautions.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { inSentence } from '../wording.ts';

export default defineRule({
  id: 'material/mirror-unmasked',
  summary: 'Mirrored stock lies under the beam without masking.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['sidecar', 'material'],
  messages: {
    bare: 'The face of the {material} is bare. Mask the sheet before cutting, as is usual for mirrored stock{side}. Its mirror can throw the beam back into the machine.',
    notStated:
      'The job does not say whether the {material} is masked. Mask the sheet, then state `face: masked`{side}. A bare mirror can throw the beam back into the machine.',
  },
  example:
    'The face of the mirrored acrylic is bare. Mask the sheet before cutting, as is usual for mirrored stock. Its mirror can throw the beam back into the machine.',
  options: {},
  why: 'A mirror sends back what it does not absorb: to the lens, the head, or out of the machine. Masking film takes up the first of the beam and keeps soot off the coating. Acrylic mirror is usually cut with the coated side away from the beam. For a bare file, which cannot state its face, it is a note.',
  remedy:
    'Mask the face, state `face: masked`, and say which way the mirror looks (`mirror: up` or `mirror: down`). Follow the machine’s manual on reflective stock.',
  sources: ['Mirrored stock is masked first: common practice, no source'],
  caution: BEAM,
  check(facts) {
    const material = facts.material;
    if (material === null) return { notApplicable: 'the material is not known' };
    if (!material.traits.mirrored) return [];
    const face = facts.input.sidecar?.face ?? null;
    if (face === 'masked') return [];
    const mirror = facts.input.sidecar?.mirror ?? null;
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
