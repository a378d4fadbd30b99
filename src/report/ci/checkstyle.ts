import type { Severity } from '../../findings/finding.ts';
import { commented, escapeXml } from '../escape.ts';
import type { Format } from '../report-context.ts';
import { type Mark, marksOfJob, marksOfLeftOut } from './marks.ts';

const SEVERITY: Record<Severity, string> = { error: 'error', warning: 'warning', note: 'info' };

/**
 * The XML of style checkers: files, and in each its errors with line, column, severity, message and source. A file that several jobs
 * share has an element for each of them. There is no official schema; `docs/ci.md` says whose reading this is held against. Paths go from
 * the top of the repository. Headline and caution stand in a comment at the end.
 */
export const checkstyle: Format = {
  open({ rootInRepository }, { tool }) {
    let opening = `<?xml version="1.0" encoding="UTF-8"?>\n<checkstyle version="${escapeXml(`${tool.name} ${tool.version}`)}">\n`;
    const opened = (text: string) => {
      const all = opening + text;
      opening = '';
      return all;
    };
    return {
      job: (job) => opened(filesOf(marksOfJob(job), rootInRepository)),
      end({ leftOut, headline, caution }) {
        const files = filesOf(marksOfLeftOut(leftOut), rootInRepository);
        return [opened(files), `</checkstyle>\n<!-- ${commented(`${headline} ${caution}`)} -->\n`];
      },
    };
  },
};

function filesOf(marks: readonly Mark[], rootInRepository: string): string {
  const byFile = new Map<string, string>();
  for (const mark of marks) {
    const file = mark.at === null ? '.' : `${rootInRepository}${mark.at.file}`;
    byFile.set(file, (byFile.get(file) ?? '') + errorOf(mark));
  }
  return [...byFile].map(([file, errors]) => `  <file name="${escapeXml(file)}">\n${errors}  </file>\n`).join('');
}

function errorOf({ level, rule, message, more, at }: Mark): string {
  const place = `line="${at?.line ?? 1}" column="${at?.column ?? 1}"`;
  const text = escapeXml([message, ...more].join(' '));
  return `    <error ${place} severity="${SEVERITY[level]}" message="${text}" source="kerflint.${escapeXml(rule)}"/>\n`;
}
