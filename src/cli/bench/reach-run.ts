import { resolve } from 'node:path';
import { type ReachRequest, reach, reachOverview } from '../../bench/reach/reach-overview.ts';
import { overviewTable, reachTable } from '../../bench/reach/reach-table.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { writeAtomically } from '../files/atomic-write.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { BenchShop, countOption, escapeLines, quantityOption, thicknessOption, valueOrStop } from './bench-shop.ts';

export interface ReachOptions {
  machine?: string;
  material?: string;
  lens?: string;
  passes?: string;
  power?: string;
  focus?: string;
  thickness?: string;
  shop?: string;
  format: string[];
}

const FORMATS = ['text', 'json', 'svg'] as const;
type Format = (typeof FORMATS)[number];

/** The `reach` command: what a machine and its lenses cut. */
export async function runReach(options: ReachOptions, io: Io): Promise<void> {
  const outputs = outputsOf(options.format);
  const shop = new BenchShop(io.cwd, options.shop ?? null);
  const machine = shop.machine(options.machine);
  const lenses = options.lens === undefined ? [] : [shop.lens(machine, options.lens)];
  const passes = countOption('--passes', options.passes, 100) ?? 1;
  const setting = quantityOption('--power', options.power, 'fraction');
  if (setting !== null && !(setting > 0 && setting <= 1)) {
    throw new UsageError(
      `--power "${escapeTerminal(options.power ?? '')}" is not above 0 and at most 100 %.`,
      'For instance --power "80 %".',
    );
  }
  const focusMm = quantityOption('--focus', options.focus, 'length') ?? 0;
  const sheetMm = options.thickness === undefined ? null : thicknessOption(options.thickness).mm;
  if (sheetMm !== null && options.material === undefined) {
    throw new UsageError('--thickness says nothing without a material.', 'Name one with --material.');
  }
  const common = { lenses, passes, setting, focusMm };
  const texts =
    options.material === undefined
      ? overviewTexts(shop, machine, common, outputs)
      : await chartTexts({ machine, material: shop.material(options.material), sheetMm, ...common });
  for (const { format, file } of outputs) if (file !== null) writeAtomically(resolve(io.cwd, file), texts(format));
  for (const { format, file } of outputs) {
    if (file === null) io.stdout.write(format === 'text' ? escapeLines(texts(format)) : texts(format));
  }
}

async function chartTexts(request: ReachRequest): Promise<(format: Format) => string> {
  const model = valueOrStop(reach(request), 'Run "kerflint reach" without --material for what this machine cuts.');
  const { reachPicture } = await import('../../report/pictures/reach-wall-chart.ts');
  return (format) => {
    if (format === 'svg') return reachPicture(model);
    return format === 'json' ? `${JSON.stringify(model, null, 2)}\n` : reachTable(model);
  };
}

function overviewTexts(
  shop: BenchShop,
  machine: ReachRequest['machine'],
  common: Omit<ReachRequest, 'machine' | 'material'>,
  outputs: readonly Output[],
): (format: Format) => string {
  if (outputs.some(({ format }) => format === 'svg')) {
    throw new UsageError('a picture is of one material.', 'Name it, for instance --material birch-plywood.');
  }
  const overview = valueOrStop(reachOverview(machine, shop.materials(), common), "Put the machine's profile right.");
  return (format) => (format === 'json' ? `${JSON.stringify(overview, null, 2)}\n` : overviewTable(overview));
}

interface Output {
  format: Format;
  file: string | null;
}

function outputsOf(typed: readonly string[]): Output[] {
  const outputs = (typed.length === 0 ? ['text'] : typed).map((option): Output => {
    const at = option.indexOf('=');
    const name = at < 0 ? option : option.slice(0, at);
    const format = FORMATS.find((one) => one === name);
    if (format === undefined) {
      const near = nearestWord(name, FORMATS);
      throw new UsageError(
        `the format "${escapeTerminal(name)}" is not known${near === undefined ? '' : ` (did you mean ${near}?)`}.`,
        `Known are ${FORMATS.join(', ')}; for instance --format svg=reach.svg.`,
      );
    }
    const file = at < 0 ? null : option.slice(at + 1);
    if (file === '') throw new UsageError(`--format ${format}= names no file.`, `Write --format ${format}=<file>.`);
    return { format, file };
  });
  if (outputs.filter(({ file }) => file === null).length > 1) {
    throw new UsageError(
      'two formats cannot share stdout.',
      'Give all but one a file, for instance --format svg=reach.svg.',
    );
  }
  return outputs;
}
