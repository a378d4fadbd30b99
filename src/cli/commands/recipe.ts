import { Option } from 'commander';
import { collect } from '../collect.ts';
import type { AddCommand } from '../command.ts';

export const recipe: AddCommand = (program, io, exit) =>
  program
    .command('recipe')
    .description(
      'what to cut a sheet with: lens, focus, power, speed, passes, air; the fastest, the surest, in one pass',
    )
    .option('--machine <id|file>', "the machine (default: the shop's only one)")
    .option('--material <id|file>', 'what the sheet is')
    .option('--thickness <length>', 'measured, with its unit ("6.0 mm ± 0.2 mm")')
    .option('--lens <id>', 'the lens that is fitted (default: any of the machine’s)')
    .addOption(
      new Option('--aim <aim>', 'through: the sheet must part; there are no recipes for grooves and surfaces')
        .choices(['through'])
        .default('through'),
    )
    .option('--format <name[=file]>', 'repeatable: text, json, svg (default: text)', collect, [])
    .option('--job <file>', "sidecar whose sheet it is: fills in a task's empty keys, and changes nothing else")
    .option('--task <name>', 'the task (default: the only one that must part the sheet)')
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .addHelpText(
      'after',
      '\nExit codes: 0 a recipe is proposed (one to be proved included), 1 the sheet is out of reach or is never cut, 2 usage.',
    )
    .action(async (options) => {
      const { runRecipe } = await import('../bench/recipe-run.ts');
      exit(await runRecipe(options, io));
    });
