import { FUMES } from '../cautions.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { tasksThatCut } from '../tasks.ts';
import { atStart } from '../wording.ts';

export default defineRule({
  id: 'material/hidden-glue',
  summary: 'The board hides glue, filler or knots that stop a beam in patches.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['material', 'sidecar'],
  messages: {
    glue: '{material} hides glue and filler between its layers, and in such patches the beam stops. Take a grade that is glued for laser cutting, or cut a coupon on this very sheet first. The predicted depth holds for the mean and not for the worst spot.',
  },
  example:
    'Construction plywood hides glue and filler between its layers, and in such patches the beam stops. Take a grade that is glued for laser cutting, or cut a coupon on this very sheet first. The predicted depth holds for the mean and not for the worst spot.',
  options: {},
  why: 'Construction and exterior grades are glued with resins that char, and their inner layers are patched with filler that nobody sees. A recipe that passes on nine sheets hangs on the tenth. Better grades have less of it.',
  remedy:
    'Ask the supplier for a grade with a full core and an interior (urea or laser-grade) glue. If it has to be this board, plan more energy and check the first part before running the rest.',
  sources: ['Plywood with hidden glue stops a beam and better grades have less of it: common practice, no source'],
  caution: FUMES,
  check(facts) {
    const material = facts.material;
    if (material === null) return { notApplicable: 'the material is not known' };
    if (!material.traits.hiddenGlue) return [];
    if (!tasksThatCut(facts).some((group) => group.aim === 'through'))
      return { notApplicable: 'no task has to go through' };
    return [
      {
        messageId: 'glue',
        args: { material: atStart(material.name) },
        location: inSidecar(facts, ['material']),
        subject: material.id,
      },
    ];
  },
});
