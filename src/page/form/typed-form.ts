import { machineDraft } from '../../bench/machine/machine-draft.ts';
import {
  MACHINE_FACTS,
  type MachineFacts,
  POWER_WORD,
  readMachineFacts,
  type TypedMachine,
} from '../../bench/machine/machine-facts.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { isDate } from '../../units/date.ts';
import { trimmed } from '../../units/format.ts';
import { parseNumber } from '../../units/quantity.ts';
import type { FieldName, FormValues } from '../worker/messages.ts';

/** The fields of the form as they were typed. */
export interface TypedForm {
  /** Id of the profile among the files, or empty for the machine that is described by its facts. */
  which: string;
  kind: string;
  rated: string;
  lens: string;
  bed: string;
  scale: string;
  name: string;
  material: string;
  thickness: string;
  today: string;
}

/** The fields that describe a machine, and can be remembered. */
export const MACHINE_FIELDS = ['kind', 'rated', 'lens', 'bed', 'scale', 'name'] as const;

/** Something wrong with a field, in a sentence. */
export interface Wrong {
  field: FieldName;
  text: string;
}

/** The machine that is described; null with what is wrong, which is nothing where all is left empty. */
export type Described = { facts: MachineFacts; wrong: [] } | { facts: null; wrong: Wrong[]; empty: boolean };

/** A lens or bed of so many mm is none: below it a bare number may as well be inches. */
const SURELY_MM = { lens: 20, bed: 100 };

const FIELD_OF: Record<string, FieldName> = {
  [MACHINE_FACTS.machine.option]: 'name',
  [MACHINE_FACTS.source.option]: 'kind',
  [MACHINE_FACTS.rated.option]: 'rated',
  [MACHINE_FACTS.lens.option]: 'lens',
  [MACHINE_FACTS.bed.option]: 'bed',
  [POWER_WORD.option]: 'scale',
};

const MISSING: Record<'rated' | 'lens' | 'bed', string> = {
  rated: 'Give the power that the seller states, such as 40 W.',
  lens: 'Give the focal length of the lens, such as 2 in or 50.8 mm.',
  bed: 'Give how far the head travels, such as 500 x 300 mm.',
};

/** Reads the facts of a machine as `init` does, with units where the field has one. */
export function described(typed: TypedForm): Described {
  const given = withUnits(typed);
  const empty = [typed.rated, typed.lens, typed.bed].every((text) => text.trim() === '');
  const read = readMachineFacts(given);
  if (read.facts !== null) return { facts: read.facts, wrong: [] };
  const missing = read.missing.flatMap((name) =>
    name === 'machine' || name === 'source' ? [] : [{ field: name, text: MISSING[name] }],
  );
  const wrong = read.wrong.map(({ option, problem, example }) => ({
    field: FIELD_OF[option] ?? 'rated',
    text: `${problem}. For instance ${example}.`,
  }));
  return { facts: null, wrong: [...missing, ...wrong], empty };
}

/** Under which id the machine goes: as typed, or by its kind and power, "co2-60w". */
export function machineIdOf({ kind, rated, name }: TypedForm): string {
  if (name.trim() !== '') return name.trim();
  const watts = /^\s*(\d+(?:\.\d+)?)/.exec(rated)?.[1];
  return watts === undefined ? kind : `${kind}-${trimmed(Number(watts), 1)}w`;
}

/** What was typed with the unit of its field where it has none; what may be meant otherwise stays as it is, and is asked about. */
function withUnits(typed: TypedForm): TypedMachine {
  const { kind, rated, lens, bed, scale } = typed;
  const lenses = lens.split(/;|,\s/).map((one) => one.trim());
  return {
    machine: machineIdOf(typed),
    source: kind,
    ...given('rated', parseNumber(rated) === null ? rated : `${rated.trim()} W`),
    ...(lens.trim() === '' ? {} : { lens: lenses.map((one) => inMm(one, SURELY_MM.lens)) }),
    ...given('bed', bedInMm(bed)),
    ...given('powerWord', parseNumber(scale) === null ? scale : `S ${scale.trim()}`),
  };
}

function given<K extends 'rated' | 'bed' | 'powerWord'>(key: K, text: string): { [key in K]?: string } {
  return text.trim() === '' ? {} : ({ [key]: text.trim() } as { [key in K]: string });
}

function inMm(text: string, leastMm: number): string {
  const number = parseNumber(text);
  return number !== null && number >= leastMm ? `${text} mm` : text;
}

function bedInMm(text: string): string {
  const sides = text.split(/[x×]/i).map(parseNumber);
  return sides.length === 2 && sides.every((side) => side !== null && side >= SURELY_MM.bed)
    ? `${text.trim()} mm`
    : text;
}

/** What a check takes from the form, or all that is wrong with it. */
export type ReadForm =
  | { filled: FormValues; profile: { id: string; text: string } | null; wrong: [] }
  | { filled: null; profile: null; wrong: Wrong[] };

/**
 * Reads the form. Where sidecars are among the files they say what they need, and the form counts for what has none: only what was
 * filled in of the sheet makes it count.
 * @param paths of all files
 */
export function readForm(typed: TypedForm, paths: readonly string[]): ReadForm {
  const wrong: Wrong[] = [];
  if (!isDate(typed.today)) wrong.push({ field: 'today', text: 'Give a day of the calendar.' });
  const material = typed.material.trim();
  const thickness = typed.thickness.trim();
  const sidecars = paths.some((path) => path.endsWith('.job.yaml'));
  if (sidecars && material === '' && thickness === '') {
    return wrong.length > 0 ? { filled: null, profile: null, wrong } : { filled: {}, profile: null, wrong: [] };
  }
  if (material === '')
    wrong.push({ field: 'material', text: 'Say what the sheet is, or "unknown": that is honest, and never passes.' });
  if (thickness === '') wrong.push({ field: 'thickness', text: 'Give the thickness as measured, such as 6 mm.' });
  const parsed = thickness === '' ? null : parseThickness(thickness);
  if (parsed?.ok === false) wrong.push({ field: 'thickness', text: `${parsed.problem}. For instance 6 mm.` });
  const machine = typed.which === '' ? described(typed) : null;
  if (machine !== null) wrong.push(...machine.wrong);
  const facts = machine?.facts ?? null;
  if (
    facts !== null &&
    paths.some((path) => path === `${facts.id}.machine.yaml` || path.endsWith(`/${facts.id}.machine.yaml`))
  )
    wrong.push({
      field: 'name',
      text: `${facts.id} is a profile among the files: choose it above, or give another name.`,
    });
  if (wrong.length > 0) return { filled: null, profile: null, wrong };
  const id = facts?.id ?? typed.which;
  return {
    filled: { machine: id, material, thickness },
    profile: facts === null ? null : { id, text: machineDraft(facts, null) },
    wrong: [],
  };
}
