import { lensIdOf } from '../../job/machine/class-defaults.ts';
import type { SourceKind } from '../../job/model.ts';
import { idProblem } from '../../job/yaml/shape.ts';
import { parseArea } from '../../units/compound-quantities.ts';
import { trimmed } from '../../units/format.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { type Parsed, parseProblem, parseQuantity } from '../../units/quantity.ts';
import { quoted } from '../../units/quoted.ts';
import { writtenMm, writtenWatts } from '../../units/written.ts';

/** What people know of their laser cutter without measuring anything, as a profile states it. */
export interface MachineFacts {
  id: string;
  kind: SourceKind;
  /** The seller's power. */
  rated: { text: string; watts: number };
  /** At least one; ids differ. */
  lenses: readonly { id: string; focalMm: number; focal: string }[];
  bed: { x: string; y: string };
  /** The word that sets the power, with its value at full power; null while nobody knows. It is never assumed. */
  powerWord: PowerWord | null;
}

export interface PowerWord {
  word: (typeof POWER_WORDS)[number];
  full: number;
}

/** One fact: how it is given on a command line or in a form, and how it is read. */
interface Fact<T> {
  /** Name of the option, with what follows it. */
  option: string;
  /** As it is asked for. */
  question: string;
  example: string;
  read(typed: string): Parsed<T>;
}

const POWER_WORDS = ['S', 'M106', 'analog'] as const;
const KINDS: readonly SourceKind[] = ['co2', 'diode', 'fibre'];

export const MACHINE_FACTS = {
  machine: {
    option: '--machine <id>',
    question: 'What shall jobs call the machine? Letters, digits, - _ and .',
    example: 'bench-40w',
    read: readId,
  },
  source: {
    option: '--source <kind>',
    question: `What kind of source has it? ${KINDS.join(', ')}`,
    example: 'co2',
    read: readKind,
  },
  rated: {
    option: '--rated <power>',
    question: "What power does its seller state? Of a diode the beam's, not the electrical power",
    example: '40 W',
    read: readRated,
  },
  lens: {
    option: '--lens <focal length>',
    question: 'What focal length has its lens? Of a fixed head, from the lens to the spot',
    example: '2 in',
    read: readLens,
  },
  bed: {
    option: '--bed <x> x <y>',
    question: 'How far does the head travel, along X and along Y?',
    example: '500 x 300 mm',
    read: readBed,
  },
} as const satisfies Record<string, Fact<unknown>>;

export type MachineFactName = keyof typeof MACHINE_FACTS;

/** The fact that may stay open: without it toolpaths are not judged. */
export const POWER_WORD: Fact<PowerWord> = {
  option: '--power-word <word and value>',
  question: 'Which word sets the power, and what is its value at full power? Empty, if you do not know',
  example: 'S 1000',
  read: readPowerWord,
};

/** What was typed for each fact; of lenses there may be several. */
export interface TypedMachine {
  machine?: string;
  source?: string;
  rated?: string;
  lens?: readonly string[];
  bed?: string;
  powerWord?: string;
}

/** The facts, once all are there and can be read; until then what is missing and what is wrong, all of it. */
export type ReadMachine =
  | { facts: MachineFacts; missing: null; wrong: null }
  | { facts: null; missing: MachineFactName[]; wrong: { option: string; problem: string; example: string }[] };

export function readMachineFacts(typed: TypedMachine): ReadMachine {
  const missing: MachineFactName[] = [];
  const wrong: { option: string; problem: string; example: string }[] = [];
  const taken = <T>(fact: Fact<T>, text: string): T | null => {
    const read = fact.read(text);
    if (read.ok) return read.value;
    wrong.push({ option: fact.option, problem: read.problem, example: fact.example });
    return null;
  };
  const one = <T>(name: Exclude<MachineFactName, 'lens'>, fact: Fact<T>): T | null => {
    const text = typed[name];
    if (text !== undefined) return taken(fact, text);
    missing.push(name);
    return null;
  };
  const id = one('machine', MACHINE_FACTS.machine);
  const kind = one('source', MACHINE_FACTS.source);
  const rated = one('rated', MACHINE_FACTS.rated);
  const lenses = (typed.lens ?? []).map((text) => taken(MACHINE_FACTS.lens, text));
  if (lenses.length === 0) missing.push('lens');
  const bed = one('bed', MACHINE_FACTS.bed);
  const powerWord = typed.powerWord === undefined ? null : taken(POWER_WORD, typed.powerWord);
  const known = lenses.flatMap((lens) => lens ?? []);
  const twice = known.find((lens, i) => known.findIndex(({ id }) => id === lens.id) < i);
  if (twice !== undefined) {
    const { option, example } = MACHINE_FACTS.lens;
    wrong.push({ option, problem: `the lens of ${twice.focal} is named twice`, example });
  }
  if (missing.length > 0 || wrong.length > 0) return { facts: null, missing, wrong };
  return {
    facts: { id: id!, kind: kind!, rated: rated!, lenses: known, bed: bed!, powerWord },
    missing: null,
    wrong: null,
  };
}

function readId(typed: string): Parsed<string> {
  const text = typed.trim();
  const problem = idProblem(text);
  return problem === null ? { ok: true, value: text } : parseProblem(problem);
}

function readKind(typed: string): Parsed<SourceKind> {
  // "CO₂" and "fiber" are spellings, and no other kinds.
  const text = typed.normalize('NFKC').trim().toLowerCase().replace('fiber', 'fibre');
  const kind = KINDS.find((one) => one === text);
  if (kind !== undefined) return { ok: true, value: kind };
  const near = nearestWord(text, KINDS);
  return parseProblem(
    `${quoted(typed)} is no kind of source${near === undefined ? '' : `: did you mean ${near}?`} (there are ${KINDS.join(', ')})`,
  );
}

function readRated(typed: string): Parsed<MachineFacts['rated']> {
  const read = parseQuantity(typed, 'power');
  if (!read.ok) return read;
  if (read.value <= 0) return parseProblem(`${quoted(typed)} must be above 0`);
  return { ok: true, value: { text: writtenWatts(read.value), watts: read.value } };
}

function readLens(typed: string): Parsed<MachineFacts['lenses'][number]> {
  const read = parseQuantity(typed, 'length');
  if (!read.ok) return read;
  if (read.value <= 0) return parseProblem(`${quoted(typed)} must be above 0`);
  return { ok: true, value: { id: lensIdOf(read.value), focalMm: read.value, focal: inTheirUnit(read.value, typed) } };
}

function readBed(typed: string): Parsed<MachineFacts['bed']> {
  const read = parseArea(typed);
  if (!read.ok) return read;
  return { ok: true, value: { x: inTheirUnit(read.value.xMm, typed), y: inTheirUnit(read.value.yMm, typed) } };
}

const INCH_MM = 25.4;

/** A length as it was typed: in inches or in mm. */
function inTheirUnit(mm: number, typed: string): string {
  return /(?:in|inch|inches|["″])$/.test(typed.trim()) ? `${trimmed(mm / INCH_MM, 4)} in` : writtenMm(mm);
}

function readPowerWord(typed: string): Parsed<PowerWord> {
  const parts = /^(S ?|M106 |analog )(\d+(?:\.\d+)?)$/i.exec(typed.trim().replace(/[\s=:]+/g, ' '));
  const full = Number(parts?.[2]);
  if (parts === null || !(full > 0)) {
    return parseProblem(
      `${quoted(typed)} is no word with its value at full power: write S, M106 or analog, and the value`,
    );
  }
  const word = POWER_WORDS.find((one) => one.toLowerCase() === parts[1]!.trim().toLowerCase())!;
  return { ok: true, value: { word, full } };
}
