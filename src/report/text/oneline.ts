import type { Mark } from '../ci/marks.ts';
import { marksOf } from '../ci/marks.ts';
import { escapeTerminal } from '../escape.ts';
import type { Format } from '../report-context.ts';

/**
 * `file:line:column: severity: message [rule]`, as compilers write it: editors jump to it. What was not judged stands at the top of its
 * file; where no file can carry it, without a place. The headline and the caution close it behind the tool's name.
 */
export const oneline: Format = (result) => {
  const lines = marksOf(result).map(lineOf);
  return [...lines, `kerflint: ${escapeTerminal(result.headline)}`, `kerflint: ${result.caution}`]
    .map((line) => `${line}\n`)
    .join('');
};

function lineOf({ level, rule, message, more, at }: Mark): string {
  const place = at === null ? 'kerflint' : `${escapeTerminal(at.file)}:${at.line}:${at.column}`;
  // A path that begins like a workflow command would be one.
  const harmless = place.replace(/^(\s*):/, '$1\\x3a');
  return `${harmless}: ${level}: ${[message, ...more].map(escapeTerminal).join(' ')} [${rule}]`;
}
