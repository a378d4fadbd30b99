import { type ClassDefault, classDefaults } from '../../job/machine/class-defaults.ts';
import { commentedMap, editorLine, oneLine, type YamlLine, yamlText } from '../commented-yaml.ts';
import type { MachineFacts } from './machine-facts.ts';

/** What every machine could be measured for, and what a class cannot tell. */
const MEASURABLE: readonly ClassDefault[] = [
  { key: 'source.measured', text: '… W', why: 'by a power meter at the work, at full setting' },
  { key: 'source.measured-on', text: '…', why: 'on which day, such as 2026-09-01' },
];

/**
 * A commented machine profile from what people know: the facts as keys, and every key that is left out as a comment with what is taken
 * for it and where that comes from. The same facts give the same bytes.
 * @param schemas the folder of the JSON Schemas as seen from the profile, for editors; null where it is not known.
 */
export function machineDraft(facts: MachineFacts, schemas: string | null): string {
  const { id, kind, rated, lenses, bed, powerWord } = facts;
  const leftOut = [...MEASURABLE, ...classDefaults(kind, rated.watts)];
  const of = (section: string) => leftOut.filter(({ key }) => key.startsWith(`${section}.`));
  const stated = new Set(['source', 'lenses', 'travel', ...(powerWord === null ? [] : ['controller'])]);
  const others = [...new Set(leftOut.map(({ key }) => sectionOf(key)))].filter((section) => !stated.has(section));
  return yamlText([
    ...editorLine(schemas, 'machine'),
    'What is known of this machine. A line behind "#" is what kerflint takes while nobody has stated it: take the "#"',
    'away and write what you measured or read in the manual. Each result says what was taken for granted.',
    ['kerflint', 1],
    ['id', id],
    ['source', commentedMap([['kind', kind], ['rated', rated.text], ...of('source').map(leftOutLine)])],
    ['lenses', lenses.map(({ id: lens, focal }) => oneLine({ id: lens, focal }))],
    ...of('lenses').map((one) => `of each lens, ${leftOutLine(one)}`),
    ['travel', commentedMap([['x', bed.x], ['y', bed.y], ...of('travel').map(leftOutLine)])],
    ...controllerLines(facts, of('controller')),
    ...others.filter((section) => section !== 'controller').flatMap((section) => leftOutSection(section, of(section))),
  ]);
}

/** The power scale is a key or a gap, and never a default. */
function controllerLines({ powerWord }: MachineFacts, leftOut: readonly ClassDefault[]): YamlLine[] {
  if (powerWord !== null) {
    return [['controller', commentedMap([['power', oneLine({ ...powerWord })], ...leftOut.map(leftOutLine)])]];
  }
  return [
    'The power scale is never assumed: toolpaths stay incomplete until the word that sets the power and its value at full',
    "power stand here (controller's settings or manual). Artwork is judged without it.",
    'controller:',
    '  power: { word: S, full: … }',
    ...leftOut.map((one) => `  ${leftOutLine(one)}`),
  ];
}

/** A section of which nothing is stated, line by line. */
function leftOutSection(section: string, leftOut: readonly ClassDefault[]): string[] {
  return [`${section}:`, ...leftOut.map((one) => `  ${leftOutLine(one)}`)];
}

function leftOutLine({ key, text, why }: ClassDefault): string {
  return `${key.slice(key.indexOf('.') + 1)}: ${text} # ${why}`;
}

function sectionOf(key: string): string {
  return key.slice(0, key.indexOf('.'));
}
