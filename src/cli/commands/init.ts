import type { AddCommand } from '../command.ts';

export const init: AddCommand = (program, io) =>
  program
    .command('init')
    .argument('<file>', 'a toolpath or artwork')
    .description('write a commented sidecar beside a toolpath or artwork')
    .option('--machine <id>', 'the machine that it will run on')
    .option('--lens <id>', 'the lens that is fitted')
    .option('--material <id>', 'what the sheet is')
    .option('--thickness <length>', 'of the sheet, with its unit ("6.0 mm ± 0.2 mm")')
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .option('--stdout', 'print it instead of writing a file')
    .action(async (file: string, options) => {
      const { runInit } = await import('../bench/init-run.ts');
      await runInit(file, options, io);
    });
