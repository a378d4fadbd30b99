import type { SvgNode } from '../xml/svg-node.ts';

/** The language that conditional drawing is read for; a machine has none, and most files that ask are tested in English. */
const LANGUAGE = 'en';

/**
 * Whether an element's conditions hold (SVG 2 §5.10): the reading language is among `systemLanguage`, and no extension is
 * asked for. `requiredFeatures` is gone from SVG 2 and always holds.
 */
export function conditionsHold(node: SvgNode): boolean {
  const extensions = node.attributes['requiredExtensions'];
  if (extensions !== undefined) return false;
  const languages = node.attributes['systemLanguage'];
  if (languages === undefined) return true;
  return languages.split(',').some((tag) => {
    const word = tag.trim().toLowerCase();
    return word === LANGUAGE || word.startsWith(LANGUAGE + '-');
  });
}
