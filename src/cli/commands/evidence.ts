import { collect } from '../collect.ts';
import type { AddCommand } from '../command.ts';

export const evidence: AddCommand = (program, io) =>
  program
    .command('evidence')
    .description('cuts that others published near a recipe, with what the model says of each')
    .option('--material <id|file>', 'one material (default: all)')
    .option('--thickness <length>', 'of the sheet: cuts of half as much again at most, the nearest first')
    .option('--machine <id|file>', 'cuts with this kind of source and about its power')
    .option('--lens <id>', "the machine's lens, for the prediction (default: its first)")
    .option('--power <setting>', '"80 %" of the machine (default: its recommended maximum), or "48 W" at the work')
    .option('--speed <speed>', 'for instance "12 mm/s"; with material, thickness and machine the recipe is predicted')
    .option('--passes <n>', 'number of passes')
    .option('--focus <length>', "the waist above (+) or below (-) the sheet's face", '0 mm')
    .option('--format <name[=file]>', 'repeatable: text, json (default: text)', collect, [])
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .action(async (options) => {
      const { runEvidence } = await import('../bench/evidence-run.ts');
      await runEvidence(options, io);
    });
