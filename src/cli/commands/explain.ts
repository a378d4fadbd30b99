import { escapeTerminal } from '../../report/escape.ts';
import type { AddCommand } from '../command.ts';
import { UsageError } from '../usage-error.ts';

export const explain: AddCommand = (program, io) =>
  program
    .command('explain')
    .argument('<rule>', 'id of a rule, for instance cut/marginal')
    .description("print a rule's page: why it matters, what to do, where its limits come from")
    .action(async (id: string) => {
      const { READERS } = await import('../../readers.ts');
      const { RULES } = await import('../registered-rules.ts');
      const { findRule } = await import('../../rules/index.ts');
      const { rulePage } = await import('../../rules/rule-page.ts');
      const found = findRule(RULES, id);
      if (found.kind === 'rule') {
        const formats = READERS.map(({ name }) => name);
        io.stdout.write(rulePage(found.rule, formats));
      } else if (found.kind === 'retired') {
        const { successor } = found;
        throw new UsageError(
          `the rule "${found.id}" is no longer judged.`,
          successor === null ? 'Nothing took its place.' : `In its place: kerflint explain ${successor.id}`,
        );
      } else {
        const near = found.suggestions.length === 0 ? '' : ` (did you mean ${found.suggestions.join(' or ')}?)`;
        throw new UsageError(
          `there is no rule "${escapeTerminal(id)}"${near}.`,
          'Run "kerflint rules" for all of them.',
        );
      }
    });
