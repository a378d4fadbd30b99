import { existsSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { benchText } from '../../bench/calibration/bench-text.ts';
import { calibrateFrom } from '../../bench/calibration/calibrate-bench.ts';
import { calibrationReport } from '../../bench/calibration/calibration-report.ts';
import { type CouponResults, readCouponResults } from '../../job/material/coupon-results.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { withLock } from '../files/file-lock.ts';
import { folderAccess } from '../files/files.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { BenchShop, escapeLines, stopOnFileProblems, valueOrStop } from './bench-shop.ts';

export interface CalibrateOptions {
  shop?: string;
  write?: true;
}

/**
 * The `calibrate` command: the machine's new bench file on stdout and what was found on stderr; with --write the file goes to
 * the shop and the findings to stdout.
 */
export function runCalibrate(file: string, options: CalibrateOptions, io: Io): void {
  const path = resolve(io.cwd, file);
  if (!existsSync(path))
    throw new UsageError(`${escapeTerminal(file)} does not exist.`, 'Name a filled-in *.results.yaml.');
  const folder = dirname(file);
  const access = folderAccess(dirname(path), folder === '.' ? {} : { prefix: `${folder}/` });
  const read = readCouponResults(access.open(basename(path)));
  stopOnFileProblems(
    read.problems,
    'Put it right and run it again; "kerflint schema coupon-results" tells the format.',
  );
  const results = read.value;
  if (results === null) throw new UsageError(`${escapeTerminal(file)} says nothing.`, 'Fill it in.');
  const shopNow = () => new BenchShop(io.cwd, options.shop ?? null);
  const empty = results.empty.length === 0 ? '' : `Left empty and not counted: tongue ${results.empty.join(', ')}.\n`;
  if (!options.write) {
    const { text, report } = calibratedBench(results, shopNow());
    io.stderr.write(`${report}${empty}`);
    io.stdout.write(text);
    return;
  }
  const shop = shopNow();
  const target = shop.benchFileFor(shop.machine(results.machine));
  if (target === null) {
    throw new UsageError(
      'there is no folder of the shop to write to.',
      'Name one with --shop, or a folder under "machines" in .kerflint.yaml; without --write the file is printed.',
    );
  }
  const report = withLock(target, () => {
    // The shop is read again: what another run has written meanwhile would be lost.
    const calibrated = calibratedBench(results, shopNow());
    writeFile(target, calibrated.text);
    return calibrated.report;
  });
  io.stdout.write(`${report}${empty}`);
  io.stderr.write(`kerflint: wrote ${escapeTerminal(target)}\n`);
}

/** The machine's bench file as it would be with these results, and what was found. */
function calibratedBench(results: CouponResults, shop: BenchShop): { text: string; report: string } {
  const machine = shop.machine(results.machine);
  const lens = shop.lens(machine, results.lens ?? undefined);
  const material = shop.material(results.material);
  const calibrated = valueOrStop(
    calibrateFrom({ results, machine, lens, material, materialOf: (name) => shop.knownMaterial(name) }),
    'Put it right and run it again.',
  );
  return {
    text: benchText(shop.benchTextOf(machine), calibrated),
    report: escapeLines(calibrationReport(calibrated)),
  };
}
