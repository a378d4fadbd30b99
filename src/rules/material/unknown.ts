import { FUMES } from '../cautions.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { quoted } from '../wording.ts';

export default defineRule({
  id: 'material/unknown',
  summary: 'Nobody has said what the sheet is made of, or its name is not known here.',
  severity: 'error',
  since: '0.1.0',
  safety: true,
  reads: ['sidecar', 'material'],
  messages: {
    declared:
      'The material is declared unknown. Ask the supplier for the safety data sheet, then name the material; until then do not put the sheet under the beam. What it gives off and whether it cuts cannot be told.',
    notFound:
      'The material {name} is neither in the catalogue nor in a `*.material.yaml` of the shop. Correct the name{meant}, or describe the material in a `*.material.yaml` from its safety data sheet.',
  },
  example:
    'The material is declared unknown. Ask the supplier for the safety data sheet, then name the material; until then do not put the sheet under the beam. What it gives off and whether it cuts cannot be told.',
  options: {},
  why: 'The same look can be acrylic or PVC, leather or vinyl, birch or a board with a glue that stops the beam. An unknown sheet may give off hydrogen chloride or hydrogen cyanide, corrode the machine or burn. No prediction can rest on a guess, so the job is incomplete until the sheet is known.',
  remedy:
    'Ask the supplier for the safety data sheet and keep it with the sheet. Name the material in the sidecar (`material:`) by its id or an alias of the catalogue, or write a `*.material.yaml` for it. `unknown` stays an honest answer, and the job stays incomplete.',
  sources: [
    'That PVC and other chlorinated sheets must be told apart before cutting: [TEXAS]; [UIC]',
    'Asking for the data sheet first: common practice, no source',
  ],
  caution: FUMES,
  check(facts) {
    if (facts.materialUnknown) {
      return [{ messageId: 'declared', args: {}, location: inSidecar(facts, ['material']) }];
    }
    if (facts.material !== null) return [];
    if (facts.materialName === null) return { notApplicable: 'no material was named' };
    const meant = facts.materialNear === null ? '' : ` (perhaps ${facts.materialNear})`;
    const args = { name: quoted(facts.materialName), meant };
    return [{ messageId: 'notFound', args, location: inSidecar(facts, ['material']) }];
  },
});
