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
      const idWidth = Math.max(...all.map((rule) => rule.id.length));
      const rows = all.map((rule) => `${rule.id.padEnd(idWidth)}  ${rule.severity.padEnd(7)}  ${rule.summary}\n`);
      io.stdout.write(rows.join(''));
    });
