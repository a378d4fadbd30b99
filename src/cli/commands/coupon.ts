import { Option } from 'commander';
import type { AddCommand } from '../command.ts';

export const coupon: AddCommand = (program, io) =>
  program
    .command('coupon')
    .description('write a test piece: numbered tongues along the predicted boundary, with a sheet for the results')
    .option('--machine <id|file>', "the machine (default: the shop's only one)")
    .option('--lens <id>', "the lens that is fitted (default: the machine's first)")
    .option('--material <id|file>', 'what the sheet is')
    .option('--thickness <length>', 'measured, with its unit ("6.0 mm ± 0.2 mm")')
    .option('--tongues <n>', 'how many', '12')
    .option('--passes <n>', 'number of passes (default: as few as it takes)')
    .option('--focus <length>', "the waist above (+) or below (-) the sheet's face")
    .option('--focus-step <length>', 'change of focus from one pass to the next')
    .addOption(
      new Option('--corner <corner>', 'where on the bed it will lie: near the origin, or at the far corner')
        .choices(['near', 'far'])
        .default('near'),
    )
    .option('--name <name>', 'name of the files')
    .option('--out <folder>', 'where to write them', '.')
    .option('--today <date>', 'the day that is scored on the piece, as 2026-11-25 (default: the clock)')
    .option('--overwrite', 'write over files that are there')
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .action(async (options) => {
      const { runCoupon } = await import('../bench/test-piece-run.ts');
      runCoupon(options, io);
    });
