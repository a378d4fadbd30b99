import { resolve } from 'node:path';
import { type ReachRequest, reach, reachOverview, weakestPlace } from '../../bench/reach/reach-overview.ts';
import { overviewTable, reachTable } from '../../bench/reach/reach-table.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { formatOptions, type OutputSpec } from '../files/outputs.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { allAtOnce, UsageError } from '../usage-error.ts';
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
type ReachFormat = (typeof FORMATS)[number];

/** The `reach` command: what a machine and its lenses cut. */
export async function runReach(options: ReachOptions, io: Io): Promise<void> {
  const outputs = formatOptions(options.format, FORMATS, 'svg=reach.svg');
  const shop = new BenchShop(io.cwd, options.shop ?? null);
  const [[machine, lens], material] = allAtOnce([
    () => shop.machineWithLens(options.machine, options.lens),
    () => (options.material === undefined ? null : shop.material(options.material)),
  ]);
  const lenses = options.lens === undefined ? [] : [lens];
  const passes = countOption('--passes', options.passes, 100);
  const setting = powerOption(options.power);
  const focusMm = quantityOption('--focus', options.focus, 'length');
  const sheetMm = options.thickness === undefined ? null : thicknessOption(options.thickness).mm;
  if (sheetMm !== null && material === null) {
    throw new UsageError('--thickness says nothing without a material.', 'Name one with --material.');
  }
  const common = { lenses, setting, focusMm, at: weakestPlace(machine) };
  const texts =
    material === null
      ? overviewTexts(shop, machine, { ...common, passes: passes ?? 1 }, outputs)
      : await chartTexts({
          machine,
          material,
          sheetMm,
          passes,
          citedCuts: shop.library.citedCuts(),
          ...common,
        });
  for (const { format, file } of outputs) if (file !== null) writeFile(resolve(io.cwd, file), texts(format));
  for (const { format, file } of outputs) {
    if (file === null) io.stdout.write(format === 'text' ? escapeLines(texts(format)) : texts(format));
  }
}

function powerOption(typed: string | undefined): number | null {
  const setting = quantityOption('--power', typed, 'fraction');
  if (setting === null || (setting > 0 && setting <= 1)) return setting;
  throw new UsageError(
    `--power "${escapeTerminal(typed ?? '')}" is not above 0 and at most 100 %.`,
    'For instance --power "80 %".',
  );
}

async function chartTexts(request: ReachRequest): Promise<(format: ReachFormat) => string> {
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
  common: Parameters<typeof reachOverview>[2],
  outputs: readonly OutputSpec<ReachFormat>[],
): (format: ReachFormat) => string {
  if (outputs.some(({ format }) => format === 'svg')) {
    throw new UsageError('a picture is of one material.', 'Name it, for instance --material birch-plywood.');
  }
  const overview = valueOrStop(reachOverview(machine, shop.materials(), common), "Put the machine's profile right.");
  return (format) => (format === 'json' ? `${JSON.stringify(overview, null, 2)}\n` : overviewTable(overview));
}
