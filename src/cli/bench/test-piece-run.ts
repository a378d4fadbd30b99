import { resolve } from 'node:path';
import { makeCoupon } from '../../bench/test-piece/make-coupon.ts';
import { makeRamp } from '../../bench/test-piece/make-ramp.ts';
import { trimmed } from '../../units/format.ts';
import { schemasFrom } from '../files/schema-reference.ts';
import type { Io } from '../terminal/io.ts';
import { todayOption } from '../today-option.ts';
import { allAtOnce } from '../usage-error.ts';
import {
  BenchShop,
  countOption,
  fileName,
  quantityOption,
  thicknessOption,
  valueOrStop,
  writeBenchFiles,
} from './bench-shop.ts';

interface PieceOptions {
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
  shop?: string;
  name?: string;
  out: string;
  today?: string;
  overwrite?: true;
}

export interface CouponArguments extends PieceOptions {
  tongues: string;
  passes?: string;
  focus?: string;
  focusStep?: string;
  corner: 'near' | 'far';
}

export interface RampOptions extends PieceOptions {
  tilted?: true;
}

/** The `coupon` command: writes a test piece. */
export function runCoupon(options: CouponArguments, io: Io): void {
  const bench = onBench(options, io);
  const made = makeCoupon({
    ...bench,
    name: fileName(options.name, `coupon-${bench.material.id}-${trimmed(bench.thickness.mm, 2)}mm`),
    tongues: countOption('--tongues', options.tongues, 1000) ?? 0,
    passes: countOption('--passes', options.passes, 100),
    focusMm: quantityOption('--focus', options.focus, 'length') ?? 0,
    focusStepMm: quantityOption('--focus-step', options.focusStep, 'length') ?? 0,
    corner: options.corner,
    schemas: schemasFrom(resolve(io.cwd, options.out)),
    today: todayOption(options.today),
  });
  const value = valueOrStop(made, 'See what is in reach with "kerflint reach".');
  writeBenchFiles(value, options.out, options.overwrite ?? false, io);
}

/** The `ramp` command: writes a focus ramp. */
export function runRamp(options: RampOptions, io: Io): void {
  const bench = onBench(options, io);
  const made = makeRamp({
    ...bench,
    name: fileName(options.name, `ramp-${bench.material.id}-${bench.lens.id}`),
    kind: options.tilted ? 'tilted' : null,
    schemas: schemasFrom(resolve(io.cwd, options.out)),
    today: todayOption(options.today),
  });
  writeBenchFiles(valueOrStop(made, 'See "kerflint ramp --help".'), options.out, options.overwrite ?? false, io);
}

function onBench(options: PieceOptions, io: Io) {
  const shop = new BenchShop(io.cwd, options.shop ?? null);
  const [[machine, lens], material, thickness] = allAtOnce([
    () => shop.machineWithLens(options.machine, options.lens),
    () => shop.material(options.material),
    () => thicknessOption(options.thickness),
  ]);
  return { machine, lens, material, thickness };
}
