import type { AddCommand } from '../command.ts';

export const ramp: AddCommand = (program, io) =>
  program
    .command('ramp')
    .description('write a focus ramp: lines that run through the focus, and the rule for reading them')
    .option('--machine <id|file>', "the machine (default: the shop's only one)")
    .option('--lens <id>', "the lens that is fitted (default: the machine's first)")
    .option('--material <id|file>', 'what the scrap is')
    .option('--thickness <length>', 'measured, with its unit ("6.0 mm ± 0.2 mm")')
    .option('--tilted', 'for a board that is raised at one end (default where the machine has no controlled Z)')
    .option('--name <name>', 'name of the files')
    .option('--out <folder>', 'where to write them', '.')
    .option('--today <date>', 'the day that is scored on the piece, as 2026-11-25 (default: the clock)')
    .option('--overwrite', 'write over files that are there')
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .action(async (options) => {
      const { runRamp } = await import('../bench/test-piece-run.ts');
      runRamp(options, io);
    });
