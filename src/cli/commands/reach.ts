import { collect } from '../collect.ts';
import type { AddCommand } from '../command.ts';

export const reach: AddCommand = (program, io) =>
  program
    .command('reach')
    .description(
      'what a machine and its lenses cut: thickness against speed, and what each sheet takes: lens, focus, passes',
    )
    .option('--machine <id|file>', "the machine (default: the shop's only one)")
    .option('--material <id|file>', 'one material; without it, the greatest thickness of each')
    .option('--thickness <length>', 'a sheet that you have, besides those that are commonly sold ("1/4 in")')
    .option('--lens <id>', 'one lens (default: all)')
    .option('--passes <n>', 'number of passes (default: 1 for the curves, what each sheet takes in the table)')
    .option('--power <share>', 'setting, for instance "80 %" (default: the recommended maximum)')
    .option('--focus <length>', "the waist above (+) or below (-) the sheet's face (default: where it serves best)")
    .option('--format <name[=file]>', 'repeatable: text, json, svg (default: text)', collect, [])
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .action(async (options) => {
      const { runReach } = await import('../bench/reach-run.ts');
      await runReach(options, io);
    });
