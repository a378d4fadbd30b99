import { assumptionText, classDefaults } from '../../job/machine/class-defaults.ts';
import { commentedMap, editorLine, oneLine, type YamlLine, yamlText } from '../commented-yaml.ts';
import type { MachineFacts } from './machine-facts.ts';

/** A key that a profile leaves out: its path, what is taken for it, and where that comes from. */
interface LeftOut {
  key: string;
  text: string;
  why: string;
}

/** What no class can tell, and what is worth finding out. */
const UNTOLD: readonly LeftOut[] = [
  { key: 'source.measured', text: '… W', why: 'not known: by a power meter at the work, at full setting' },
  { key: 'source.measured-on', text: '…', why: 'not known: the day of it, such as 2026-09-01' },
  { key: 'travel.z', text: '… mm', why: 'not known: travel of the bed or the head along Z' },
  {
    key: 'controller.beam-off-on-rapid',
    text: 'unknown',
    why: 'never assumed: does the controller gate the beam on G0?',
  },
  {
    key: 'controller.beam-off-when-stopped',
    text: 'unknown',
    why: 'never assumed: does it gate the beam in a dwell under M4 and at program end?',
  },
];

/**
 * A commented machine profile from what people know: the facts as keys, and the keys that are left out as comments with what is taken
 * for them and where that comes from. The same facts give the same bytes.
 * @param schemas the folder of the JSON Schemas as seen from the profile, for editors; null where it is not known.
 */
export function machineDraft(facts: MachineFacts, schemas: string | null): string {
  const { id, kind, rated, lenses, bed } = facts;
  const leftOut = leftOutOf(facts);
  const below = (path: string) => leftOut.filter(({ key }) => key.startsWith(`${path}.`)).map(leftOutLine);
  return yamlText([
    ...editorLine(schemas, 'machine'),
    'What is known of this machine. A line behind "#" is what kerflint takes while nobody has stated it: take the "#"',
    'away and write what you measured or read in the manual. Each result says what was taken for granted.',
    ['kerflint', 1],
    ['id', id],
    ['source', commentedMap([['kind', kind], ['rated', rated.text], ...below('source')])],
    [
      'lenses',
      lenses.map(({ id: lens, focal }) => commentedMap([['id', lens], ['focal', focal], ...below(`lenses.${lens}`)])),
    ],
    ['travel', commentedMap([['x', bed.x], ['y', bed.y], ...below('travel')])],
    ...controllerLines(facts, below('controller')),
    ...['beam', 'motion'].flatMap((section) => leftOutSection(section, below(section))),
  ]);
}

function leftOutOf({ kind, rated, lenses }: MachineFacts): LeftOut[] {
  const usual = classDefaults({ kind, ratedW: rated.watts, lenses });
  return [...UNTOLD, ...usual.map((one) => ({ key: one.key, text: assumptionText(one), why: one.basis }))];
}

/** The power scale is a key or a gap, and never a default. */
function controllerLines({ powerWord }: MachineFacts, leftOut: readonly string[]): YamlLine[] {
  if (powerWord !== null) {
    return [['controller', commentedMap([['power', oneLine({ ...powerWord })], ...leftOut])]];
  }
  return [
    'The power scale is never assumed: toolpaths stay incomplete until the word that sets the power and its value at full',
    "power stand here (controller's settings or manual). Artwork is judged without it.",
    ...leftOutSection('controller', ['power: { word: S, full: … }', ...leftOut]),
  ];
}

/** A section of which nothing is stated. */
function leftOutSection(section: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : [`${section}:`, ...lines.map((line) => `  ${line}`)];
}

function leftOutLine({ key, text, why }: LeftOut): string {
  return `${key.slice(key.lastIndexOf('.') + 1)}: ${text} # ${why}`;
}
