import type { AddCommand } from '../command.ts';

export const diagnose: AddCommand = (program, io) =>
  program
    .command('diagnose')
    .argument('<job>', 'sidecar of the job that did not go through')
    .description('it did not go through: what explains that, and can this sheet be rescued')
    .option('--task <name>', 'the task that failed (default: the one that was likeliest to)')
    .option('--depth <length>', 'how deep it got, for instance "3.1 mm"')
    .option('--where <place>', 'everywhere, far-corner or patches')
    .option('--kerf <length>', 'width of the kerf at the top')
    .option('--since <time>', 'always, gradually, suddenly or this-sheet')
    .option('--edge <look>', 'clean, charred or wide')
    .option('--json', 'as JSON')
    .option('--shop <folder>', 'folder with the machines and materials that are trusted')
    .action(async (job: string, options) => {
      const { runDiagnose } = await import('../bench/diagnose-run.ts');
      await runDiagnose(job, options, io);
    });
