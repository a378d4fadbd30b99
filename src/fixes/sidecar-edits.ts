import type { Edit } from '../model/editing.ts';
import { isWholeText, type Source, wholeText } from '../source/source.ts';
import { LineTable } from '../source/text.ts';
import { parseQuantity } from '../units/quantity.ts';
import type { Mirrored } from './fix.ts';

/** As much as is read of a sidecar, bytes. */
const LIMIT_BYTES = 256 * 1024;
/**
 * Scalars of a sidecar replaced, byte for byte. Null where one of them is not written out as a number with its unit (an alias, a block), or
 * the file is no UTF-8.
 */
export function sidecarEdits(source: Source, mirrored: readonly Mirrored[]): Edit[] | null {
  if (!isWholeText(source, 'utf-8')) return null;
  const text = wholeText(source, LIMIT_BYTES);
  // `wholeText` takes a byte-order mark off.
  const mark = source.size - utf8.encode(text).length;
  const lines = new LineTable(text);
  const edits: Edit[] = [];
  for (const { location, text: value } of mirrored) {
    const start = offsetOf(text, lines, location.line, location.column);
    const end = offsetOf(text, lines, location.endLine, location.endColumn);
    const old = text.slice(start, end).trimEnd();
    const quote = /^["']/.test(old) ? old.charAt(0) : '';
    if (old.length < 2 * quote.length + 1 || !old.endsWith(quote)) return null;
    if (!isQuantity(old.slice(quote.length, old.length - quote.length))) return null;
    const offset = mark + utf8.encode(text.slice(0, start)).length;
    const { line, column } = location;
    const place = { line, column, endLine: line, endColumn: column + old.length };
    edits.push({ place, offset, old: utf8.encode(old), new: utf8.encode(`${quote}${value}${quote}`) });
  }
  return edits.sort((a, b) => a.offset - b.offset);
}

const utf8 = new TextEncoder();

function isQuantity(text: string): boolean {
  return (['speed', 'power', 'fraction'] as const).some((kind) => parseQuantity(text, kind).ok) || /^\d+$/.test(text);
}

function offsetOf(text: string, lines: LineTable, line: number, column: number): number {
  let low = 0;
  let high = text.length;
  // Positions rise with offsets.
  while (low < high) {
    const middle = (low + high) >> 1;
    const at = lines.position(middle);
    if (at.line < line || (at.line === line && at.column < column)) low = middle + 1;
    else high = middle;
  }
  return low;
}
