import type { AddCommand } from '../command.ts';

export const rules: AddCommand = (program, io) =>
  program
    .command('rules')
    .description('list all rules')
    .option('--json', 'as JSON, with everything that is known of each')
    .action(async (options: { json?: true }) => {
      const { RULES: all } = await import('../registered-rules.ts');
      if (options.json) {
        const data = all.map(({ check: _, ...rule }) => rule);
        io.stdout.write(`${JSON.stringify(data, null, 2)}\n`);
        return;
      }
      const { columns } = await import('../../units/columns.ts');
      const rows = columns(all.map((rule) => [rule.id, rule.severity, rule.summary]));
      io.stdout.write(`${rows.join('\n')}\n`);
    });
