import { Option } from 'commander';
import { FORMATS, REPLY } from '../../report/formats.ts';
import { collect } from '../collect.ts';
import type { AddCommand } from '../command.ts';
import { COLOUR_CHOICES } from '../terminal/colour.ts';

const EXAMPLES = `Examples:
  kerflint check .                          every job in this folder and below
  kerflint check signs/gate.job.yaml        one job
  kerflint check gate.gcode --machine bench-60w --material birch-plywood --thickness "6 mm"
  kerflint check . --format text --format json=result.json
  kerflint check . --fail-on warning --shop ../shop`;

const FORMAT_LINES = [...Object.entries(FORMATS), [REPLY.name, REPLY] as const].map(
  ([name, { summary }]) => `  ${name.padEnd(12)} ${summary}`,
);

export const check: AddCommand = (program, io, exit) =>
  program
    .command('check')
    .argument('[paths...]', 'sidecars, folders, or bare toolpaths and artwork (default: this folder)')
    .description('judge jobs before they are run: the main command')
    .option('--format <name[=file]>', 'one of the formats below, repeatable (default: text)', collect)
    .option('--fail-on <severity>', 'the least severity that makes the exit code 1: error, warning or note', 'error')
    .option('--max-warnings <n>', 'more warnings than this make the exit code 1')
    .option('--shop <folder>', 'folder with the machines, materials and settings that are trusted')
    .option('--untrusted', 'trust only --shop and the catalogue: for jobs sent by strangers')
    .option('--machine <id|file>', 'for bare files: the machine')
    .option('--lens <id>', 'for bare files: the lens fitted')
    .option('--material <id|file>', 'for bare files: the material, or "unknown"')
    .option('--thickness <length>', 'for bare files: the sheet\'s thickness, with its unit ("6 mm")')
    .option('--today <date>', 'the date that waivers are held against, as 2026-11-25 (default: the clock)')
    .option('--baseline <file>', 'findings counted in this file do not fail the run')
    .option('--write-baseline', 'count the findings of now into the --baseline file')
    .option('--prune-baseline', 'lower the counts in the --baseline file to what is still there')
    .option('--changed-files <file|->', 'judge only jobs touched by the listed files (from git diff --name-status -z)')
    .option(
      '--unchecked <kind=weight>',
      'toolpath=note: a toolpath left unjudged does not make the run incomplete; artwork=incomplete: artwork does',
      collect,
    )
    .option('--shard <i/n>', 'judge the i-th of n parts of the jobs; kerflint join puts the JSON results together')
    .option('--workers <n>', 'judge n jobs at a time, for runs of many jobs', '1')
    .option(
      '--cache <folder>',
      'keep results here, outside of the checkout, and judge only jobs of which something changed',
    )
    .option('--watch', 'check again whenever a file is saved, and refresh the files of --format; ends on Ctrl-C')
    .option('--quiet', 'show only errors and what was not checked; the exit code stays the same')
    .addOption(new Option('--color <when>', 'colour on stdout').choices(COLOUR_CHOICES).default('auto'))
    .addHelpText('after', `\nFormats:\n${FORMAT_LINES.join('\n')}\n\n${EXAMPLES}`)
    .action(async (paths: string[], options) => {
      const { runCheck } = await import('../check/check-run.ts');
      exit(await runCheck(paths, options, io));
    });
