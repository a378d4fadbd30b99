import { resolve } from 'node:path';
import { type PublishedRequest, publishedList } from '../../bench/evidence/published-list.ts';
import { publishedTable } from '../../bench/evidence/published-table.ts';
import type { Machine } from '../../job/model.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { parsePowerSetting } from '../../units/compound-quantities.ts';
import { formatOptions } from '../files/outputs.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { allAtOnce, UsageError } from '../usage-error.ts';
import { BenchShop, countOption, escapeLines, quantityOption, thicknessOption, valueOrStop } from './bench-shop.ts';

export interface EvidenceOptions {
  material?: string;
  thickness?: string;
  machine?: string;
  lens?: string;
  power?: string;
  speed?: string;
  passes?: string;
  focus?: string;
  shop?: string;
  format: string[];
}

/** The `evidence` command: what others published of such a cut. */
export async function runEvidence(options: EvidenceOptions, io: Io): Promise<void> {
  const outputs = formatOptions(options.format, ['text', 'json'], 'json=evidence.json');
  const shop = new BenchShop(io.cwd, options.shop ?? null);
  const list = valueOrStop(
    publishedList(shop.library.citedCuts(), requestOf(options, shop)),
    'Ask without --machine for what others published all the same.',
  );
  const texts = { text: () => publishedTable(list), json: () => `${JSON.stringify(list, null, 2)}\n` };
  for (const { format, file } of outputs) if (file !== null) writeFile(resolve(io.cwd, file), texts[format]());
  for (const { format, file } of outputs) {
    if (file === null) io.stdout.write(format === 'text' ? escapeLines(texts[format]()) : texts[format]());
  }
}

function requestOf(options: EvidenceOptions, shop: BenchShop): PublishedRequest {
  if (options.machine === undefined && options.lens !== undefined) {
    throw new UsageError('--lens says nothing without a machine.', 'Name one with --machine.');
  }
  const [[machine, lens], material] = allAtOnce([
    () => (options.machine === undefined ? [null, null] : shop.machineWithLens(options.machine, options.lens)),
    () => (options.material === undefined ? null : shop.material(options.material)),
  ]);
  const speedMmPerS = quantityOption('--speed', options.speed, 'speed');
  if (speedMmPerS !== null && !(speedMmPerS > 0)) {
    throw new UsageError(
      `--speed "${escapeTerminal(options.speed ?? '')}" is not above 0.`,
      'For instance --speed "12 mm/s".',
    );
  }
  const listed = material === null ? shop.materials() : [material];
  return {
    material,
    hazards: new Map(listed.map(({ id, hazard }) => [id, hazard.class])),
    thickness: options.thickness === undefined ? null : thicknessOption(options.thickness),
    machine,
    lens,
    power: powerOption(options.power, machine),
    speedMmPerS,
    passes: countOption('--passes', options.passes, 100),
    focusMm: quantityOption('--focus', options.focus, 'length') ?? 0,
  };
}

function powerOption(typed: string | undefined, machine: Machine | null): PublishedRequest['power'] {
  if (typed === undefined) return null;
  const parsed = parsePowerSetting(typed);
  const wayOut = 'For instance --power "48 W", or --power "80 %" with --machine.';
  if (!parsed.ok) throw new UsageError(`--power: ${escapeTerminal(parsed.problem)}.`, wayOut);
  const { value } = parsed;
  const whole = 'fraction' in value ? value.fraction : value.watts;
  if (!(whole > 0) || ('fraction' in value && whole > 1)) {
    throw new UsageError(`--power "${escapeTerminal(typed)}" is not above 0 and at most 100 %.`, wayOut);
  }
  if (machine === null && 'fraction' in value) {
    throw new UsageError(`--power "${escapeTerminal(typed)}" is a share of no machine's power.`, wayOut);
  }
  return value;
}
