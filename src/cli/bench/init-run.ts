import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';

interface InitOptions {
  machine?: string;
  source?: string;
  rated?: string;
  lens?: string[];
  bed?: string;
  powerWord?: string;
  material?: string;
  thickness?: string;
  shop?: string;
  stdout?: boolean;
}

const OF_A_PROFILE = ['source', 'rated', 'bed', 'powerWord'] as const;
const OF_A_SIDECAR = ['material', 'thickness'] as const;

/** The `init` command: with a file its sidecar, without one the profile of a machine. */
export async function runInit(file: string | undefined, options: InitOptions, io: Io): Promise<void> {
  const { lens, ...rest } = options;
  if (file === undefined) {
    stopAt(OF_A_SIDECAR, options, 'belongs to a sidecar, and no file is named', 'Name a toolpath or artwork');
    const { runInitMachine } = await import('./init-machine-run.ts');
    return runInitMachine(options, io);
  }
  stopAt(OF_A_PROFILE, options, 'belongs to the profile of a machine, and a file is named', 'Leave the file out');
  const [fitted, ...more] = lens ?? [];
  if (more.length > 0)
    throw new UsageError('--lens is given twice: a sidecar states the one that is fitted.', 'Name one.');
  const { runInitSidecar } = await import('./init-sidecar-run.ts');
  return runInitSidecar(file, { ...rest, ...(fitted === undefined ? {} : { lens: fitted }) }, io);
}

function stopAt(names: readonly (keyof InitOptions)[], options: InitOptions, why: string, wayOut: string): void {
  const name = names.find((one) => options[one] !== undefined);
  if (name === undefined) return;
  const option = name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
  throw new UsageError(
    `--${option} ${why}.`,
    `${wayOut}, or leave the option out; "kerflint init --help" has both ways.`,
  );
}
