import { collect } from '../collect.ts';
import type { AddCommand } from '../command.ts';

const HELP = `Without options it switches the beam off while the head stands longer than a pierce, takes out passes that are run exactly as before
beyond those planned (where the cut still parts), and switches the air on for through cuts where the machine's profile says how. Every
change is read again and judged again; what cannot be proved is left alone, and says why.

Examples:
  kerflint fix gate.job.yaml --dry-run       the difference, and nothing written
  kerflint fix gate.job.yaml                 a mended copy of the job in gate.fixed/
  kerflint fix gate.job.yaml --settings --order --in-place

Exit codes: 0 nothing is found any more, 1 findings remain (what was mended is written), 2 usage, 3 the job is incomplete and was not touched.`;

export const fix: AddCommand = (program, io, exit) =>
  program
    .command('fix')
    .argument('<job>', 'a sidecar, or a bare toolpath with the options that say what it is made of')
    .description('mend what can be proved, in a copy of the job: beam off in dwells, idle passes, air')
    .option('--out <folder>', 'where the mended copy goes; it must not be there yet (default: <job>.fixed)')
    .option('--in-place', 'change the files of the job itself')
    .option('--dry-run', 'show the difference and write nothing')
    .option('--settings', 'give cuts that fall short the speed, power or passes of their remedy')
    .option('--order', 'run inner contours ahead of the outline around them')
    .option(
      '--format <name[=file]>',
      'text, or sarif=file: the findings with their fixes; repeatable (default: text)',
      collect,
      [],
    )
    .option('--shop <folder>', 'folder with the machines, materials and settings that are trusted')
    .option('--machine <id|file>', 'for a bare toolpath: the machine')
    .option('--lens <id>', 'for a bare toolpath: the lens fitted')
    .option('--material <id|file>', 'for a bare toolpath: the material')
    .option('--thickness <length>', 'for a bare toolpath: the sheet\'s thickness, with its unit ("6 mm")')
    .option('--today <date>', 'the date that waivers are held against, as 2026-11-25 (default: the clock)')
    .addHelpText('after', `\n${HELP}`)
    .action(async (job: string, options) => {
      const { runFix } = await import('../fix/fix-run.ts');
      exit(await runFix(job, options, io));
    });
