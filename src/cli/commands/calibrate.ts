import type { AddCommand } from '../command.ts';

export const calibrate: AddCommand = (program, io) =>
  program
    .command('calibrate')
    .argument('<results>', 'a filled-in *.results.yaml of a test piece or a focus ramp')
    .description('fit a material to what was cut: print its new file, with the coupons kept in it')
    .option('--write', "write it into the shop's folder of materials")
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .action(async (file: string, options) => {
      const { runCalibrate } = await import('../bench/calibrate-run.ts');
      runCalibrate(file, options, io);
    });
