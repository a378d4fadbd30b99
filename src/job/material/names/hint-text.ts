import { inARow } from '../../../units/in-a-row.ts';
import { inSentence } from '../../../units/sentence.ts';
import type { HazardClass, Material } from '../../model.ts';
import type { Choice, Meant } from './meant.ts';

/** How a list of materials names their hazard class beside them. */
export const HAZARD_WORDS: Record<HazardClass, string> = {
  usual: 'usual',
  extract: 'extract',
  reconsider: 'reconsider',
  never: 'never cut',
};

/** The class of a material that a list is of: "Hazard class: extract". Why it is in it, the material's caution tells below the list. */
export function hazardLine(hazard: Pick<Material['hazard'], 'class'>): string {
  return `Hazard class: ${HAZARD_WORDS[hazard.class]}`;
}

/** Ids as a question takes them, each with its class where that is not the usual one: `mdf (extract) or card`. */
export function idsWithHazard(choices: readonly Choice[]): string {
  return inARow(
    choices.map(({ id, hazard }) => (hazard.class === 'usual' ? id : `${id} (${HAZARD_WORDS[hazard.class]})`)),
    'or',
  );
}

/** The materials of one kind with what tells them apart: `birch-plywood (light, thin glue lines), …`. */
export function choicesText(choices: readonly Choice[]): string {
  return choices
    .map(({ id, hazard, differs }) => {
      const told = [
        ...(differs === null ? [] : [differs]),
        ...(hazard.class === 'usual' ? [] : [HAZARD_WORDS[hazard.class]]),
      ];
      return told.length === 0 ? id : `${id} (${told.join('; ')})`;
    })
    .join(', ');
}

/** What is said of the hazardous thing that a name is like: "PVC must not be laser-cut". */
export function verdictText({ name, hazard }: Choice): string {
  const what = inSentence(name);
  return hazard.class === 'never' ? `${what} must not be laser-cut` : `${what} is a material to reconsider`;
}

/** What a name that is not known may mean, as sentences. */
export function meantText({ why, word, choices }: Meant): string {
  if (why === 'kind') return `It does not say which ${word} it is: ${choicesText(choices)}.`;
  const worst = choices[0];
  if (why === 'like' || worst === undefined) return `Did you mean ${idsWithHazard(choices)}?`;
  return `It is like "${word}", and ${verdictText(worst)}: ${worst.hazard.reason}. Did you mean ${idsWithHazard(choices)}?`;
}
