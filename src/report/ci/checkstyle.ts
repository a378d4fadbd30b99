import type { Severity } from '../../findings/finding.ts';
import { escapeXml } from '../escape.ts';
import type { Format } from '../report-context.ts';
import { type Mark, marksOf } from './marks.ts';

const SEVERITY: Record<Severity, string> = { error: 'error', warning: 'warning', note: 'info' };

/**
 * The XML of style checkers: files, and in each its errors with line, column, severity, message and source. There is no official
 * schema; `docs/ci.md` says whose reading this is held against. Paths go from the top of the repository. Headline and caution stand in a comment.
 */
export const checkstyle: Format = (result, { rootInRepository }) => {
  const byFile = new Map<string, Mark[]>();
  for (const mark of marksOf(result)) {
    const file = mark.at === null ? '.' : `${rootInRepository}${mark.at.file}`;
    const marks = byFile.get(file);
    if (marks) marks.push(mark);
    else byFile.set(file, [mark]);
  }
  const files = [...byFile].map(
    ([file, marks]) => `  <file name="${escapeXml(file)}">\n${marks.map(errorOf).join('')}  </file>\n`,
  );
  const said = commented(`${result.headline} ${result.caution}`);
  const version = escapeXml(`${result.tool.name} ${result.tool.version}`);
  return `<?xml version="1.0" encoding="UTF-8"?>\n<!-- ${said} -->\n<checkstyle version="${version}">\n${files.join('')}</checkstyle>\n`;
};

function errorOf({ level, rule, message, more, at }: Mark): string {
  const place = `line="${at?.line ?? 1}" column="${at?.column ?? 1}"`;
  const text = escapeXml([message, ...more].join(' '));
  return `    <error ${place} severity="${SEVERITY[level]}" message="${text}" source="kerflint.${escapeXml(rule)}"/>\n`;
}

/** Inside a comment there are no two hyphens (XML 1.0, 2.5): the second becomes one at which no line breaks, which looks the same. */
function commented(text: string): string {
  return escapeXml(text).replace(/-(-|$)/g, '-\u2011');
}
