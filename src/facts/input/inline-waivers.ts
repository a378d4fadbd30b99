import { type CommentSyntax, TO_KERFLINT } from '../../model/reader.ts';
import { markedLines } from '../../source/marked-lines.ts';
import type { Location } from '../../source/place.ts';
import { SourceUnreadable } from '../../source/source.ts';
import type { ReadableFile } from './loaded-readers.ts';

const MARK = `${TO_KERFLINT}waive`;
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
 * Reads `kerflint-waive <rule>: <reason>` and `kerflint-waive-file <rule>: <reason>` out of the comments of a file, in the syntax of its
 * format. The word anywhere else says nothing.
 */
export function inlineWaivers({ source, reader }: ReadableFile): InlineWaiver[] {
  try {
    return markedLines(reader.asUtf8(source), MARK, MOST_MARKS).flatMap(({ line, text }) => {
      const comment = commentAt(text, reader.comments);
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

/** What a comment of the line says from the mark on; null when the mark stands in none. */
function commentAt(line: string, syntaxes: readonly CommentSyntax[]): Comment | null {
  const mark = line.indexOf(MARK);
  for (const { opens, closes, mayStayOpen } of syntaxes) {
    const opened = line.lastIndexOf(opens, mark);
    if (opened < 0) continue;
    if (closes === null) return { text: line.slice(mark), column: mark + 1 };
    const closed = line.indexOf(closes, mark);
    if (line.slice(opened, mark).includes(closes) || (closed < 0 && !mayStayOpen)) continue;
    return { text: line.slice(mark, closed < 0 ? line.length : closed), column: mark + 1 };
  }
  return null;
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
