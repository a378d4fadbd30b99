import type { AddCommand } from '../command.ts';

export const calibrate: AddCommand = (program, io) =>
  program
    .command('calibrate')
    .argument('<results>', 'a filled-in *.results.yaml of a test piece or a focus ramp')
    .description("add what was cut to the machine's bench file and print it, with what it says of the material")
    .option('--write', "write it beside the machine's profile in the shop")
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .action(async (file: string, options) => {
      const { runCalibrate } = await import('../bench/calibrate-run.ts');
      runCalibrate(file, options, io);
    });
