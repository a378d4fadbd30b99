import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { filledTask } from '../../bench/recipe/fill-task.ts';
import {
  type Given,
  isFound,
  type RecipeAnswer,
  type RecipeFound,
  recipeForSheet,
  recipeForTask,
  type TaskAsked,
  taskAsked,
} from '../../bench/recipe/recipe-for-task.ts';
import { recipeReport } from '../../bench/recipe/recipe-report.ts';
import { createLibrary } from '../../job/files/library.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { gather, stopOnSettingProblems } from '../check/gather.ts';
import { EXIT } from '../exit-codes.ts';
import { formatOptions } from '../files/outputs.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { allAtOnce, UsageError } from '../usage-error.ts';
import { BenchShop, escapeLines, stopOnFileProblems, thicknessOption, valueOrStop } from './bench-shop.ts';

export interface RecipeOptions {
  machine?: string;
  material?: string;
  thickness?: string;
  lens?: string;
  format: string[];
  job?: string;
  task?: string;
  shop?: string;
}

const FORMATS = ['text', 'json', 'svg'] as const;

/** The `recipe` command: what to cut a sheet with. Gives the exit code: 0 proposed, 1 out of reach or never. */
export async function runRecipe(options: RecipeOptions, io: Io): Promise<number> {
  const outputs = formatOptions(options.format, FORMATS, 'svg=recipe.svg');
  const asked = options.job === undefined ? null : ofTask(options.job, options, io);
  const answer =
    asked === null ? ofSheet(options, io) : valueOrStop(recipeForTask(asked), 'Put the machine’s profile right.');
  if (!isFound(answer) && outputs.some(({ format }) => format === 'svg')) {
    throw new UsageError(`${answer.material} has no recipe to draw: ${answer.reason}.`, 'Leave out --format svg.');
  }
  const { recipeCard } = await import('../../report/pictures/recipe-card.ts');
  const width = (io.stdout.isTTY && io.stdout.columns) || 80;
  const texts = {
    text: () => recipeReport(answer, width),
    json: () => `${JSON.stringify(answer, null, 2)}\n`,
    svg: () => recipeCard(answer as RecipeFound),
  };
  for (const { format, file } of outputs) if (file !== null) writeFile(resolve(io.cwd, file), texts[format]());
  for (const { format, file } of outputs) {
    if (file === null) io.stdout.write(format === 'text' ? escapeLines(texts.text()) : texts[format]());
  }
  const proposed = isFound(answer) && answer.standing !== 'out-of-reach';
  if (asked !== null && proposed) fillTask(options.job!, asked, answer, io);
  return proposed ? EXIT.fine : EXIT.findings;
}

function ofSheet(options: RecipeOptions, io: Io): RecipeAnswer {
  if (options.task !== undefined)
    throw new UsageError('--task says nothing without a job.', 'Name its sidecar with --job.');
  const shop = new BenchShop(io.cwd, options.shop ?? null);
  const [[machine, first], material, thickness] = allAtOnce([
    () => shop.machineWithLens(options.machine, options.lens),
    () => shop.material(options.material),
    () => thicknessOption(options.thickness),
  ]);
  const lens = options.lens === undefined ? null : first;
  return valueOrStop(
    recipeForSheet({ machine, lens, material, thickness }),
    'Put the machine’s profile right; "kerflint reach" tells what it cuts.',
  );
}

/** @throws UsageError when the file is not one job, or says too little */
function ofTask(file: string, options: RecipeOptions, io: Io): TaskAsked {
  const { discovery, catalogue, shop } = gather({
    cwd: io.cwd,
    paths: [file],
    shop: options.shop ?? null,
    untrusted: false,
    bareInFolders: false,
  });
  const [job, ...others] = discovery.jobs;
  if (job?.sidecar == null || others.length > 0) {
    throw new UsageError(`${escapeTerminal(file)} is not one job.`, 'Name a sidecar: <name>.job.yaml.');
  }
  stopOnFileProblems(job.sidecar.problems, 'Put the sidecar right first; "kerflint check" tells more.');
  const library = createLibrary({ catalogue: catalogue.sources, shop: shop.sources, untrusted: false });
  stopOnSettingProblems(library.shopProblems());
  return valueOrStop(
    taskAsked(job, library, options.task ?? null, givenBesides(options, io)),
    'Fill in the sidecar, or give what it leaves out as options; "kerflint check" tells what that is.',
  );
}

/** What the options say, for what the sidecar leaves out. */
function givenBesides(options: RecipeOptions, io: Io): Given {
  const { machine: id, lens, material, thickness } = options;
  const shop = new BenchShop(io.cwd, options.shop ?? null);
  const [machine, named, sheet] = allAtOnce([
    () => (id === undefined && lens === undefined ? null : shop.machineWithLens(id, lens)),
    () => (material === undefined ? null : shop.material(material)),
    () => (thickness === undefined ? null : thicknessOption(thickness)),
  ]);
  return {
    machine: id === undefined || machine === null ? null : machine[0],
    lens: lens === undefined || machine === null ? null : machine[1],
    material: named,
    thickness: sheet,
  };
}

function fillTask(file: string, { index }: TaskAsked, answer: RecipeFound, io: Io): void {
  const path = resolve(io.cwd, file);
  const { text, keys } = valueOrStop(
    filledTask(readFileSync(path, 'utf8'), index, answer),
    'Write the recipe into it by hand; nothing was changed.',
  );
  if (keys.length === 0) {
    io.stderr.write(`kerflint: ${escapeTerminal(file)} has no empty key for it; nothing was changed.\n`);
    return;
  }
  writeFile(path, text);
  io.stderr.write(
    `kerflint: filled in ${keys.join(', ')} in ${escapeTerminal(file)}. Now: kerflint check ${escapeTerminal(file)}\n`,
  );
}
