import { existsSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { CAUTION } from '../../findings/caution.ts';
import type { Found, Library } from '../../job/files/library.ts';
import { BENCH_SUFFIX } from '../../job/files/paths.ts';
import type { FileProblem } from '../../job/files/problem.ts';
import { meantText } from '../../job/material/names/hint-text.ts';
import type { Lens, Machine, Material, Thickness } from '../../job/model.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { wholeText } from '../../source/source.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { type Dimension, dimensionSpec } from '../../units/dimensions.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { exampleOf, parseQuantity } from '../../units/quantity.ts';
import { placesOf, stopOnSettingProblems, type TrustedSources } from '../check/gather.ts';
import { libraryOf } from '../check/judge.ts';
import { knownProfiles, shopPlace } from '../files/known-profiles.ts';
import { idBehind, type NamedWhere, namesFile, type ProfileKind, withNamedFiles } from '../files/named-profiles.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';

/** A bench file that is read is never larger. */
const BENCH_LIMIT_BYTES = 1024 * 1024;

/** The machines and materials that a bench command may name. */
export class BenchShop {
  readonly #where: NamedWhere;
  readonly #trusted: TrustedSources;
  readonly #machinesFolder: string | null;
  #library: Library;

  /** @throws UsageError when the shop or its settings are wrong */
  constructor(cwd: string, shop: string | null) {
    const { root, trusted } = placesOf({ cwd, paths: [], shop, untrusted: false });
    this.#where = { cwd, root, shop, untrusted: false };
    this.#trusted = trusted;
    this.#library = libraryOf(trusted, false);
    stopOnSettingProblems(this.#library.shopProblems());
    const folder = shop === null ? root : resolve(cwd, shop);
    const named = trusted.shop.settings?.machines[0];
    this.#machinesFolder = named !== undefined ? join(folder, named) : shop !== null ? folder : null;
  }

  get library(): Library {
    return this.#library;
  }

  /** A machine by id or file; where none is named, the shop's only one. */
  machine(named: string | undefined): Machine {
    const [only, ...others] = this.library.ids('shop').machines;
    const name = named ?? (others.length === 0 ? only : undefined);
    if (name === undefined) throw new UsageError(`no machine is named.\n${this.#known('machine')}`, WAYS_OUT.machine);
    const id = this.#idOf('machine', name);
    const answer = this.library.machine(id);
    return this.#found(answer, 'machine', name, answer.near && `Did you mean ${answer.near}?`);
  }

  /** A machine, and one of its lenses. */
  machineWithLens(machine: string | undefined, lens: string | undefined): [Machine, Lens] {
    const named = this.machine(machine);
    return [named, this.lens(named, lens)];
  }

  /** A lens of the machine; where none is named, its first. */
  lens(machine: Machine, id: string | undefined): Lens {
    const lens = id === undefined ? machine.lenses[0] : machine.lenses.find((one) => one.id === id);
    if (lens !== undefined) return lens;
    const ids = machine.lenses.map((one) => one.id);
    const near = nearestWord(id ?? '', ids);
    throw new UsageError(
      `${machine.id} has no lens "${escapeTerminal(id ?? '')}"${near === undefined ? '' : ` (did you mean ${near}?)`}.`,
      `It has ${ids.join(', ')}.`,
    );
  }

  /** A material by id, alias, name or file. */
  material(named: string | undefined): Material {
    if (named === undefined)
      throw new UsageError('no material is named.', 'Name one with --material, for instance --material birch-plywood.');
    const id = this.#idOf('material', named);
    const answer = this.library.material(id);
    return this.#found(answer, 'material', named, answer.meant && meantText(answer.meant));
  }

  /** All that can be read, in the order of their ids. */
  materials(): Material[] {
    return this.library.ids().materials.flatMap((id) => this.library.material(id).value ?? []);
  }

  /** A material by name, or null: for coupons that are kept of it. */
  knownMaterial(name: string): Material | null {
    return this.library.material(name).value;
  }

  /** The whole text of a machine's bench file; null where it has none yet. */
  benchTextOf({ bench }: Machine): string | null {
    const source = bench && this.#trusted.shop.sources.find((one) => one.name === bench.file);
    return source ? wholeText(source, BENCH_LIMIT_BYTES) : null;
  }

  /** Where a machine's bench file goes: over the one that is there, beside the profile, or into the shop's first folder of machines; null where it has none. */
  benchFileFor({ id, rank, file, bench }: Machine): string | null {
    if (bench) return join(this.#where.root, bench.file);
    const name = id + BENCH_SUFFIX;
    if (rank === 'shop') return join(this.#where.root, dirname(file), name);
    return this.#machinesFolder === null ? null : join(this.#machinesFolder, name);
  }

  /** The id behind what an option says; a file that it names goes before what the shop has under that id. */
  #idOf(kind: ProfileKind, named: string): string {
    if (!namesFile(named)) return named;
    const { shop } = this.#trusted;
    shop.sources = withNamedFiles(shop.sources, { [kind]: named }, this.#where);
    this.#library = libraryOf(this.#trusted, false);
    return idBehind(kind, named);
  }

  /** @throws UsageError when it is not known, with all that is; `hint` says what its name may mean, in sentences */
  #found<T>(answer: Found<T>, kind: ProfileKind, name: string, hint: string | null): T {
    if (answer.value !== null) return answer.value;
    stopOnSettingProblems(answer.problems);
    const meaning = hint === null ? '' : ` ${escapeTerminal(hint)}`;
    throw new UsageError(
      `there is no ${kind} "${escapeTerminal(name)}".${meaning}\n${this.#known(kind)}`,
      WAYS_OUT[kind],
    );
  }

  /** What there is and where it was looked for, line by line. */
  #known(kind: ProfileKind): string {
    const { settings } = this.#trusted.shop;
    return knownProfiles(kind, this.library, shopPlace(kind, this.#where.shop, settings))
      .map(escapeTerminal)
      .join('\n');
  }
}

const WAYS_OUT = {
  machine: 'Name one of them with --machine, or the file of one, or describe yours: kerflint init --machine <id>.',
  material: 'Name one of them, or the file of one, or describe it in a *.material.yaml of the shop (--shop).',
};

/** @throws UsageError when the option is missing or no thickness */
export function thicknessOption(typed: string | undefined): Thickness {
  const wayOut = 'For instance --thickness "6.0 mm ± 0.2 mm".';
  if (typed === undefined) throw new UsageError('no thickness is given.', wayOut);
  const parsed = parseThickness(typed);
  if (!parsed.ok) throw new UsageError(`--thickness: ${escapeTerminal(parsed.problem)}.`, wayOut);
  if (!(parsed.value.mm > 0)) throw new UsageError(`--thickness: "${escapeTerminal(typed)}" must be above 0.`, wayOut);
  return parsed.value;
}

/** @throws UsageError when the text is no quantity of this dimension */
export function quantityOption(option: string, typed: string | undefined, dimension: Dimension): number | null {
  if (typed === undefined) return null;
  const parsed = parseQuantity(typed, dimension);
  if (parsed.ok) return parsed.value;
  throw new UsageError(
    `${option}: ${escapeTerminal(parsed.problem)}.`,
    `Give ${dimensionSpec(dimension).what}, for instance ${option} "${exampleOf(dimension)}".`,
  );
}

/** A count of passes, tongues and the like. */
export function countOption(option: string, typed: string | undefined, most: number): number | null {
  if (typed === undefined) return null;
  const value = /^\d{1,9}$/.test(typed) ? Number(typed) : 0;
  if (value >= 1 && value <= most) return value;
  throw new UsageError(
    `${option} "${escapeTerminal(typed)}" is not a number from 1 to ${most}.`,
    `For instance ${option} 2.`,
  );
}

/** The value, or the sentence that says why there is none as the error of this command. */
export function valueOrStop<T>(
  outcome: { value: T; problem: null } | { value: null; problem: string },
  wayOut: string,
): T {
  if (outcome.problem !== null) throw new UsageError(`${escapeTerminal(outcome.problem)}.`, wayOut);
  return outcome.value as T;
}

/** Problems of a file that was named on the command line. */
export function stopOnFileProblems(problems: readonly FileProblem[], wayOut: string): void {
  if (problems.length === 0) return;
  const lines = problems.map(({ place, args }) =>
    escapeTerminal(`${place.file}:${place.line}:${place.column}: ${args.text}`),
  );
  throw new UsageError(`${lines.join('\n')}.`, wayOut);
}

/** Text of several lines for a terminal. */
export function escapeLines(text: string): string {
  return text.split('\n').map(escapeTerminal).join('\n');
}

/** Writes a test's files into a folder and says what to do with them. Never over a file, unless told to. */
export function writeBenchFiles(
  made: { files: readonly { name: string; text: string }[]; steps: readonly string[] },
  folder: string,
  overwrite: boolean,
  io: Io,
): void {
  const target = resolve(io.cwd, folder);
  const there = made.files.find(({ name }) => existsSync(join(target, name)));
  if (there !== undefined && !overwrite) {
    throw new UsageError(
      `${escapeTerminal(there.name)} is there already.`,
      'Choose another --name or --out, or say --overwrite.',
    );
  }
  for (const { name, text } of made.files) writeFile(join(target, name), text);
  io.stdout.write(`wrote ${made.files.map(({ name }) => escapeTerminal(name)).join(', ')}\n\n`);
  io.stdout.write(made.steps.map((step, i) => `${i + 1}. ${escapeTerminal(step)}\n`).join(''));
  io.stdout.write(`\n${CAUTION}\n`);
}

/** A name for files, from a material and a thickness where none is given. */
export function fileName(typed: string | undefined, usual: string): string {
  const name = typed ?? usual;
  if (/^[A-Za-z0-9][A-Za-z0-9._-]*$/.test(name) && basename(name) === name) return name;
  throw new UsageError(`--name "${escapeTerminal(name)}" is no name for files.`, 'Use letters, digits, - _ and .');
}
