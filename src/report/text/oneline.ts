import type { Mark } from '../ci/marks.ts';
import { marksOfJob, marksOfLeftOut } from '../ci/marks.ts';
import { escapeTerminal } from '../escape.ts';
import type { Format } from '../report-context.ts';

/**
 * `file:line:column: severity: message [rule]`, as compilers write it: editors jump to it. What was not judged stands at the top of its
 * file; where no file can carry it, without a place. The headline and the caution close it behind the tool's name.
 */
export const oneline: Format = {
  open: () => ({
    job: (job) => linesOf(marksOfJob(job)),
    end: ({ leftOut, headline, caution }) => [
      linesOf(marksOfLeftOut(leftOut)),
      `kerflint: ${escapeTerminal(headline)}\nkerflint: ${caution}\n`,
    ],
  }),
};

function linesOf(marks: readonly Mark[]): string {
  return marks.map((mark) => `${lineOf(mark)}\n`).join('');
}

function lineOf({ level, rule, message, more, at }: Mark): string {
  const place = at === null ? 'kerflint' : `${escapeTerminal(at.file)}:${at.line}:${at.column}`;
  // A path that begins like a workflow command would be one.
  const harmless = place.replace(/^(\s*):/, '$1\\x3a');
  return `${harmless}: ${level}: ${[message, ...more].map(escapeTerminal).join(' ')} [${rule}]`;
}
