import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { machineDraft } from '../../bench/machine/machine-draft.ts';
import {
  MACHINE_FACTS,
  type MachineFactName,
  type MachineFacts,
  POWER_WORD,
  type ReadMachine,
  readMachineFacts,
  type TypedMachine,
} from '../../bench/machine/machine-facts.ts';
import { MATERIALS_README, settingsDraft } from '../../bench/machine/shop-draft.ts';
import { findRoot } from '../../job/files/access.ts';
import { nameKey } from '../../job/files/name-key.ts';
import { MACHINE_SUFFIX, SETTINGS_NAME, stem } from '../../job/files/paths.ts';
import { collectShop, type Shop } from '../../job/files/shop.ts';
import { readMachine } from '../../job/machine/machine.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { textSource } from '../../source/source.ts';
import { inARow } from '../../units/in-a-row.ts';
import { folderAccess, slashed } from '../files/files.ts';
import { schemasFrom } from '../files/schema-reference.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';

export interface InitMachineOptions extends TypedMachine {
  shop?: string;
  stdout?: boolean;
}

/** `init` without a file: writes a machine's profile, and what a shop needs besides where it is not there. Never over a file. */
export async function runInitMachine(options: InitMachineOptions, io: Io): Promise<void> {
  const shop = shopAt(options.shop, io);
  const shown = (path: string) => escapeTerminal(slashed(relative(io.cwd, path)));
  const facts = await factsOf(options, io, (id) => {
    if (!options.stdout) stopWhereDescribed(id, shop, shown);
  });
  const target = targetOf(facts.id, shop);
  const text = machineDraft(facts, schemasFrom(dirname(target)));
  stopWhereUnusable(target, text);
  if (options.stdout) {
    io.stdout.write(text);
    return;
  }
  const files = [{ path: target, text }, ...shopFiles(shop)];
  for (const file of files) writeFile(file.path, file.text);
  const names = inARow(
    files.map(({ path }) => shown(path)),
    'and',
  );
  io.stderr.write(`kerflint: wrote ${names}.\n${unseenNote(shop, shown)}`);
  const where = options.shop === undefined ? '' : ` --shop ${escapeTerminal(options.shop)}`;
  io.stderr.write(`Then: kerflint recipe --machine ${facts.id}${where} --material birch-plywood --thickness 3mm\n`);
}

/**
 * What was typed, completed by asking where someone can be asked.
 * @param checkId is told the id as soon as it is known, and throws where it cannot be used.
 */
async function factsOf(typed: TypedMachine, io: Io, checkId: (id: string) => void): Promise<MachineFacts> {
  let read = readMachineFacts(typed);
  if (canAsk(io) && read.facts === null && read.wrong.length === 0) {
    // Nobody should answer all questions for nothing.
    if (typed.machine !== undefined) checkId(typed.machine);
    read = readMachineFacts(await completed(typed, read.missing, io));
  }
  if (read.facts === null) throw factsError(read);
  checkId(read.facts.id);
  return read.facts;
}

function canAsk(io: Io): boolean {
  return io.stdin.isTTY === true && io.stderr.isTTY === true;
}

async function completed(typed: TypedMachine, missing: readonly MachineFactName[], io: Io): Promise<TypedMachine> {
  // Few runs ask, and the others need not wait for what asking takes.
  const { promptText } = await import('../terminal/prompt.ts');
  const answers: TypedMachine = { ...typed };
  for (const name of missing) {
    const fact = MACHINE_FACTS[name];
    const answer = await promptText(fact, (text) => problemOf(fact.read(text)), io);
    if (answer === null) throw brokenOff();
    if (name === 'lens') answers.lens = [answer];
    else answers[name] = answer;
  }
  if (typed.powerWord !== undefined) return answers;
  const answer = await promptText(POWER_WORD, (text) => (text === '' ? null : problemOf(POWER_WORD.read(text))), io);
  if (answer === null) throw brokenOff();
  return answer === '' ? answers : { ...answers, powerWord: answer };
}

function problemOf(read: { ok: true } | { ok: false; problem: string }): string | null {
  return read.ok ? null : `${read.problem}.`;
}

function brokenOff(): UsageError {
  return new UsageError('broken off: nothing was written.', 'Start again, or give the facts as options.');
}

/** All that is wrong and all that is missing, each with an example. */
function factsError({ missing, wrong }: Extract<ReadMachine, { facts: null }>): UsageError {
  const lines = [
    ...wrong.map(({ option, problem, example }) => `  ${option}: ${escapeTerminal(problem)}; for instance ${example}`),
    ...missing.map((name) => {
      const { option, example } = MACHINE_FACTS[name];
      return `  ${option} is missing; for instance ${option.split(' ')[0]} ${/\s/.test(example) ? `"${example}"` : example}`;
    }),
  ];
  return new UsageError(
    `a machine's profile cannot be written yet:\n${lines.join('\n')}`,
    `Known besides, it goes in too: ${POWER_WORD.option.split(' ')[0]} "${POWER_WORD.example}". For a sidecar, name a toolpath or artwork.`,
  );
}

/** Where a profile goes and what is there already. */
interface ShopFolder {
  /** Absolute. */
  root: string;
  /** Relative to the root. */
  machines: string;
  materials: string;
  found: Shop;
  /** The whole folder counts as the shop, whatever its settings say. */
  named: boolean;
}

/** The folder of `--shop`; else the one whose settings hold here; else this one. */
function shopAt(typed: string | undefined, io: Io): ShopFolder {
  const root = typed === undefined ? folderOfSettings(io.cwd) : resolve(io.cwd, typed);
  const there = statSync(root, { throwIfNoEntry: false });
  if (there !== undefined && !there.isDirectory()) {
    throw new UsageError(`--shop ${escapeTerminal(typed ?? '')} is not a folder.`, 'Name a folder, or a new one.');
  }
  const found: Shop =
    there === undefined
      ? { settings: null, sources: [], problems: [] }
      : collectShop(folderAccess(root), typed !== undefined);
  // A folder that the settings name and that is not there is about to be made; anything else has to be put right first.
  const [problem] = found.problems.filter(({ code }) => found.settings === null || code !== 'unreadable');
  if (problem !== undefined) {
    const { file, line, column } = problem.place;
    throw new UsageError(escapeTerminal(`${file}:${line}:${column}: ${problem.args.text}.`), 'Put it right first.');
  }
  const { settings } = found;
  const machines = settings?.machines[0] ?? 'machines';
  const materials = settings?.materials[0] ?? 'materials';
  return { root, machines, materials, found, named: typed !== undefined };
}

/** The nearest folder at or above whose settings a check from here would go by; this one where there is none. */
function folderOfSettings(cwd: string): string {
  const root = findRoot(existsSync, [slashed(cwd)], false);
  return existsSync(join(root, SETTINGS_NAME)) ? root : cwd;
}

/** What the schema knows and the facts do not, such as the most that is believed of a power. */
function stopWhereUnusable(target: string, text: string): void {
  const { problems } = readMachine(textSource(target, text), 'shop');
  if (problems.length === 0) return;
  throw new UsageError(
    `the profile would not be read: ${escapeTerminal(problems.map(({ args }) => args.text).join('; '))}.`,
    'Put the options right.',
  );
}

function targetOf(id: string, { root, machines }: ShopFolder): string {
  return join(root, machines, id + MACHINE_SUFFIX);
}

function stopWhereDescribed(id: string, shop: ShopFolder, shown: (path: string) => string): void {
  const target = targetOf(id, shop);
  const same = shop.found.sources.find(
    ({ name }) => name.endsWith(MACHINE_SUFFIX) && nameKey(stem(name, MACHINE_SUFFIX)) === nameKey(id),
  );
  const there = existsSync(target) ? target : same === undefined ? null : join(shop.root, same.name);
  if (there === null) return;
  throw new UsageError(
    `${shown(there)} is there already.`,
    'Change it by hand, choose another id, or see a fresh draft with --stdout.',
  );
}

/** What a shop needs besides a profile and does not have yet. */
function shopFiles({ root, machines, materials, found }: ShopFolder): { path: string; text: string }[] {
  const files: { path: string; text: string }[] = [];
  if (found.settings === null) {
    files.push({ path: join(root, SETTINGS_NAME), text: settingsDraft(machines, materials, schemasFrom(root)) });
  }
  const folder = join(root, materials);
  if (!existsSync(folder) || readdirSync(folder).length === 0) {
    files.push({ path: join(folder, 'README.md'), text: MATERIALS_README });
  }
  return files;
}

/** Settings that name no folder of machines hide the profile from a check. */
function unseenNote({ root, machines, found, named }: ShopFolder, shown: (path: string) => string): string {
  if (named || found.settings === null || found.settings.machines.length > 0) return '';
  return `${shown(join(root, SETTINGS_NAME))} names no folder of machines: add "machines: [${machines}]" to it, or a check does not find the profile.\n`;
}
