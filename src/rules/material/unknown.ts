import { choicesText, idsWithHazard, type MaterialMeant, verdictText } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
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
    kindOnly:
      'The material {name} does not say which {kind} it is. Name the one that you have: {choices}. What it gives off and whether it cuts depends on which.',
    likeHazardous:
      'The material {name} is not known here, and its name is like {like}: {verdict}. Keep the sheet from the beam until its safety data sheet says what it is, then name it, perhaps {meant}, or describe it in a `*.material.yaml`. The reason: {reason} (source: {source}).',
  },
  forCustomers: { declared: [], notFound: [], kindOnly: [], likeHazardous: [] },
  example:
    'The material is declared unknown. Ask the supplier for the safety data sheet, then name the material; until then do not put the sheet under the beam. What it gives off and whether it cuts cannot be told.',
  options: {},
  why: 'The same look can be acrylic or PVC, leather or vinyl, birch or a board with a glue that stops the beam. An unknown sheet may give off hydrogen chloride or hydrogen cyanide, corrode the machine or burn. A word that several materials go by, such as plywood, acrylic or foam, names none of them. A name that holds or resembles that of something hazardous is told with that hazard, and nothing milder is ever suggested for it. No prediction can rest on a guess, so the job is incomplete until the sheet is known.',
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
    return [{ ...notKnown(quoted(facts.materialName), facts.materialMeant), location: inSidecar(facts, ['material']) }];
  },
});

function notKnown(name: string, meant: MaterialMeant | null): Pick<ReportDescriptor, 'messageId' | 'args'> {
  if (meant === null) return { messageId: 'notFound', args: { name, meant: '' } };
  const { why, word, choices } = meant;
  if (why === 'kind') return { messageId: 'kindOnly', args: { name, kind: word, choices: choicesText(choices) } };
  const near = idsWithHazard(choices);
  const nearest = choices[0];
  if (why === 'like' || nearest === undefined)
    return { messageId: 'notFound', args: { name, meant: ` (perhaps ${near})` } };
  const { reason, source } = nearest.hazard;
  const args = { name, like: quoted(word), verdict: verdictText(nearest), meant: near, reason, source };
  return { messageId: 'likeHazardous', args };
}
