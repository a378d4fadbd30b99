import { editorLine, oneLine, yamlText } from '../commented-yaml.ts';

/**
 * The settings of a new shop, `.kerflint.yaml`.
 * @param schemas the folder of the JSON Schemas as seen from the settings, for editors; null where it is not known.
 */
export function settingsDraft(machines: string, materials: string, schemas: string | null): string {
  return yamlText([
    ...editorLine(schemas, 'settings'),
    'Where kerflint finds what this shop states of its machines and materials. Folders are relative to this file.',
    ['kerflint', 1],
    ['machines', oneLine([machines])],
    ['materials', oneLine([materials])],
    'exclude: [old/**] # files and folders that are not checked',
    'budget: 5.00 EUR # the most that a failed run may be expected to cost',
  ]);
}

/** What a folder for materials says while it holds none: an empty one would be lost in a clone. */
export const MATERIALS_README = `# Materials of this shop

Each \`<id>.material.yaml\` here goes before the material of the same id that ships with kerflint. None is needed to begin with:
\`kerflint calibrate --write\` puts one here once you have cut a coupon and filled in its results.
`;
