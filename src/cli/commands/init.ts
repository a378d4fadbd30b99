import { collect } from '../collect.ts';
import type { AddCommand } from '../command.ts';

const EXAMPLES = `Examples:
  kerflint init                     on a terminal: asks for what a profile needs
  kerflint init --machine bench-40w --source co2 --rated "40 W" --lens "2 in" --bed "500 x 300 mm"
  kerflint init gate.svg            writes gate.job.yaml beside the drawing

A profile goes into the shop's folder of machines, with a .kerflint.yaml and the folders of a shop where there are none. Nothing is written
over a file. Without --power-word artwork is judged and toolpaths are not: the power scale is never assumed.`;

export const init: AddCommand = (program, io) =>
  program
    .command('init')
    .argument('[file]', 'a toolpath or artwork: its sidecar is written; without one, the profile of a machine')
    .description(
      "write a machine's profile from what people know of it, or a commented sidecar beside a toolpath or artwork",
    )
    .option('--machine <id>', 'of a profile: what jobs will call it; of a sidecar: the machine, by id or file')
    .option('--source <kind>', 'of a profile: co2, diode or fibre')
    .option('--rated <power>', 'of a profile: the power that the seller states ("40 W")')
    .option(
      '--lens <lens>',
      'of a profile: a focal length ("2 in"), repeatable; of a sidecar: the lens fitted',
      collect,
    )
    .option('--bed <area>', 'of a profile: travel along X and Y ("500 x 300 mm")')
    .option('--power-word <word>', 'of a profile: the word that sets the power, and its value at full power ("S 1000")')
    .option('--material <id|file>', 'of a sidecar: what the sheet is')
    .option('--thickness <length>', 'of a sidecar: of the sheet, with its unit ("6.0 mm ± 0.2 mm")')
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .option('--stdout', 'print it instead of writing a file')
    .addHelpText('after', `\n${EXAMPLES}`)
    .action(async (file: string | undefined, options) => {
      const { runInit } = await import('../bench/init-run.ts');
      await runInit(file, options, io);
    });
