import stringWidth from 'fast-string-width';
import type { Finding } from '../../findings/finding.ts';
import { escapeSourceLine } from '../escape.ts';

/** One row of an excerpt: `gutter` holds the line's number or blanks. */
export interface ExcerptRow {
  gutter: string;
  text: string;
  /** The row marks the place instead of showing text. */
  mark: boolean;
}

/** Of a line that is too wide, so many characters are shown ahead of the place. */
const LEAD_SHOWN = 24;

/**
 * The lines of a finding's file as they are shown under it: numbered, cut to the width around the place, with a row of
 * marks under the first. Columns count UTF-16 units; the marks stand by the cells that a terminal gives the characters.
 */
export function excerptLines(finding: Finding, width: number): ExcerptRow[] {
  const { excerpt, location } = finding;
  if (excerpt === null || excerpt.lines.every((line) => line.trim() === '')) return [];
  const numberWidth = String(excerpt.startLine + excerpt.lines.length - 1).length;
  const room = Math.max(20, width - numberWidth - 3);
  const first = excerpt.lines[0] ?? '';
  const cutAhead = (excerpt.startColumn ?? 1) - 1;
  const start = Math.max(0, location.column - 1 - cutAhead);
  const from = start + 8 > room ? Math.max(0, start - LEAD_SHOWN) : 0;
  const rows: ExcerptRow[] = [];
  excerpt.lines.forEach((line, i) => {
    rows.push({
      gutter: `${String(excerpt.startLine + i).padStart(numberWidth)} | `,
      text: windowOf(line, from, room, cutAhead > 0),
      mark: false,
    });
    if (i === 0)
      rows.push({
        gutter: `${' '.repeat(numberWidth)} | `,
        text: marks(first, finding, { start, from, room, cutAhead }),
        mark: true,
      });
  });
  return rows;
}

function windowOf(line: string, from: number, room: number, cut: boolean): string {
  const shown = escapeSourceLine(line.slice(from, from + room - 2));
  const head = from > 0 || cut ? '…' : '';
  return `${head}${shown}${from + room - 2 < line.length ? '…' : ''}`;
}

function marks(
  line: string,
  { location }: Finding,
  at: { start: number; from: number; room: number; cutAhead: number },
): string {
  const ahead = stringWidth(escapeSourceLine(line.slice(at.from, at.start))) + (at.from > 0 || at.cutAhead > 0 ? 1 : 0);
  const end = location.endLine > location.line ? line.length : location.endColumn - 1 - at.cutAhead;
  const marked = stringWidth(escapeSourceLine(line.slice(at.start, Math.min(end, at.from + at.room - 2))));
  return ' '.repeat(ahead) + '^'.repeat(Math.max(1, marked));
}
