import { markedLines } from '../../source/marked-lines.ts';
import type { Location } from '../../source/place.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';

const MARK = 'kerflint-waive';
/** More marks than this in one file are no waivers any more. */
const MOST_MARKS = 1000;

/** A waiver in a comment of a toolpath or of artwork. */
export interface InlineWaiver {
  rule: string;
  reason: string | null;
  location: Location;
  /** `line`: for findings on its own line and the next; `file`: for all findings in its file. */
  scope: 'line' | 'file';
}

/**
 * Reads `kerflint-waive <rule>: <reason>` and `kerflint-waive-file <rule>: <reason>` out of the comments of a file: `( … )` and
 * `; …` in G-code, `<!-- … -->` on one line in SVG. The word anywhere else says nothing.
 */
export function inlineWaivers(source: Source, kind: 'toolpath' | 'artwork'): InlineWaiver[] {
  try {
    return markedLines(source, MARK, MOST_MARKS).flatMap(({ line, text }) => {
      const comment = kind === 'toolpath' ? gcodeComment(text) : xmlComment(text);
      return comment === null ? [] : (read(comment.text, comment.column, source.name, line) ?? []);
    });
  } catch (error) {
    // The reader of the file itself reports that its bytes cannot be had.
    if (error instanceof SourceUnreadable) return [];
    throw error;
  }
}

interface Comment {
  text: string;
  /** 1-based column of its first character. */
  column: number;
}

/** The comment of a line that holds the mark. */
function gcodeComment(line: string): Comment | null {
  const mark = line.indexOf(MARK);
  const opened = line.lastIndexOf('(', mark);
  if (opened >= 0 && line.lastIndexOf(')', mark) < opened) {
    const closed = line.indexOf(')', mark);
    return { text: line.slice(mark, closed < 0 ? line.length : closed), column: mark + 1 };
  }
  return line.lastIndexOf(';', mark) >= 0 ? { text: line.slice(mark), column: mark + 1 } : null;
}

function xmlComment(line: string): Comment | null {
  const mark = line.indexOf(MARK);
  const opened = line.lastIndexOf('<!--', mark);
  const closed = line.indexOf('-->', mark);
  if (opened < 0 || closed < 0 || line.slice(opened, mark).includes('-->')) return null;
  return { text: line.slice(mark, closed), column: mark + 1 };
}

function read(text: string, column: number, file: string, line: number): InlineWaiver | null {
  const wholeFile = text.startsWith(`${MARK}-file`);
  const rest = text.slice(MARK.length + (wholeFile ? '-file'.length : 0));
  if (rest !== '' && !/^[\s:]/.test(rest)) return null;
  const colon = rest.indexOf(':');
  const rule = (colon < 0 ? rest : rest.slice(0, colon)).trim().slice(0, 100);
  const reason = colon < 0 ? '' : rest.slice(colon + 1).trim();
  return {
    rule,
    reason: reason === '' ? null : reason.slice(0, 400),
    location: { file, line, column, endLine: line, endColumn: column + text.trimEnd().length },
    scope: wholeFile ? 'file' : 'line',
  };
}
