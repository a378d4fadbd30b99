import { existsSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { CAUTION } from '../../findings/caution.ts';
import { createLibrary, type Found, type Library } from '../../job/files/library.ts';
import type { FileProblem } from '../../job/files/problem.ts';
import { meantText } from '../../job/material/names/hint-text.ts';
import type { Meant } from '../../job/material/names/meant.ts';
import type { Lens, Machine, Material, Thickness } from '../../job/model.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { type Source, wholeText } from '../../source/source.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { type Dimension, dimensionSpec } from '../../units/dimensions.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { exampleOf, parseQuantity } from '../../units/quantity.ts';
import { placesOf, stopOnSettingProblems } from '../check/gather.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';

/** A material's file is never larger. */
const MATERIAL_LIMIT_BYTES = 1024 * 1024;

/** The machines and materials that a bench command may name. */
export class BenchShop {
  readonly library: Library;
  readonly #sources: readonly Source[];
  readonly #shopMachines: readonly string[];
  readonly #catalogue: Library;
  readonly #materialsFolder: string | null;
  readonly #root: string;

  /** @throws UsageError when the shop or its settings are wrong */
  constructor(cwd: string, shop: string | null) {
    const { root, trusted } = placesOf({ cwd, paths: [], shop, untrusted: false });
    this.#root = root;
    const catalogue = trusted.catalogue.sources;
    const own = trusted.shop.sources;
    this.library = createLibrary({ catalogue, shop: own, untrusted: false });
    stopOnSettingProblems(this.library.shopProblems());
    this.#sources = [...own, ...catalogue];
    this.#shopMachines = createLibrary({ catalogue: [], shop: own, untrusted: false }).ids().machines;
    this.#catalogue = createLibrary({ catalogue, shop: [], untrusted: false });
    const folder = shop === null ? root : resolve(cwd, shop);
    const named = trusted.shop.settings?.materials[0];
    this.#materialsFolder = named !== undefined ? join(folder, named) : shop !== null ? folder : null;
  }

  /** A machine by id; where none is named, the shop's only one. */
  machine(id: string | undefined): Machine {
    const name = id ?? (this.#shopMachines.length === 1 ? this.#shopMachines[0] : undefined);
    if (name === undefined) {
      const there = this.#shopMachines.length === 0 ? '' : ` (the shop has ${this.#shopMachines.join(', ')})`;
      throw new UsageError(`no machine is named${there}.`, 'Name one with --machine, and its folder with --shop.');
    }
    return found(this.library.machine(name), 'machine', name, null);
  }

  /** A machine by id, or null: for coupons that were cut long ago. */
  knownMachine(id: string): Machine | null {
    return this.library.machine(id).value;
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

  material(name: string | undefined): Material {
    if (name === undefined)
      throw new UsageError('no material is named.', 'Name one with --material, for instance --material birch-plywood.');
    const answer = this.library.material(name);
    return found(answer, 'material', name, answer.meant);
  }

  /** All that can be read, in the order of their ids. */
  materials(): Material[] {
    return this.library.ids().materials.flatMap((id) => this.library.material(id).value ?? []);
  }

  /** What ships with kerflint under this id; null when nothing does. */
  catalogueMaterial(id: string): Material | null {
    return this.#catalogue.material(id).value;
  }

  /** The whole text of the file that a material came from. */
  textOf(material: Material): string {
    const source = this.#sources.find((one) => one.name === material.file);
    if (source === undefined)
      throw new UsageError(`${escapeTerminal(material.file)} cannot be found again.`, 'Run it once more.');
    return wholeText(source, MATERIAL_LIMIT_BYTES);
  }

  /** Where a material's new file goes: over the shop's own, else into the shop's first folder; null where it has none. */
  fileFor(material: Material): string | null {
    if (material.rank === 'shop') return join(this.#root, material.file);
    return this.#materialsFolder === null ? null : join(this.#materialsFolder, `${material.id}.material.yaml`);
  }
}

/** @throws UsageError when it is not known; `meant` is what a material's name may mean */
function found<T>(answer: Found<T>, what: 'machine' | 'material', name: string, meant: Meant | null): T {
  if (answer.value !== null) return answer.value;
  stopOnSettingProblems(answer.problems);
  const alike = meant === null || meant.why === 'like';
  const near = alike && answer.near !== null ? ` (did you mean ${answer.near}?)` : '';
  const more = alike ? '' : ` ${escapeTerminal(meantText(meant))}`;
  throw new UsageError(
    `there is no ${what} "${escapeTerminal(name)}" in the shop or the catalogue${near}.${more}`,
    `Name one, or describe it in a *.${what}.yaml of the shop (--shop).`,
  );
}

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
