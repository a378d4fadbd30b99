import { Option } from 'commander';
import { collect } from '../collect.ts';
import type { AddCommand } from '../command.ts';
import { COLOUR_CHOICES } from '../terminal/colour.ts';

export const join: AddCommand = (program, io, exit) =>
  program
    .command('join')
    .argument('<json...>', 'results of check --shard i/n --format json')
    .description('put the results of a divided run together, in any format')
    .option('--format <name[=file]>', 'how to report, as for check', collect)
    .option('--fail-on <severity>', 'as for check', 'error')
    .option('--max-warnings <n>', 'as for check')
    .option('--against <file>', 'as for check')
    .option('--fail-on-new', 'as for check')
    .option('--quiet', 'as for check')
    .addOption(new Option('--color <when>', 'as for check').choices(COLOUR_CHOICES).default('auto'))
    .action(async (files: string[], options) => {
      const { runJoin } = await import('../check/join-run.ts');
      exit(await runJoin(files, options, io));
    });
