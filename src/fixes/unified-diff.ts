import { formatPatch, type StructuredPatch, type StructuredPatchHunk, structuredPatch } from 'diff';
import { firstBytes, type Source } from '../source/source.ts';
import type { Replacement } from './pieces.ts';

/** Lines shown around a change. */
const CONTEXT = 3;
const LF = 10;
const CR = 13;
/** Of a longer line only its length is shown, bytes: no program has such a line, and no change is about it. */
const LONGEST_BYTES = 1 << 16;

/** Lines of the original around some changes, with these. */
interface Window {
  /** Number of its first line. */
  line: number;
  lines: Line[];
  replacements: Replacement[];
}

/**
 * A unified diff of a file and its replacements; '' where there are none. Only the lines around changes are held, whatever the size of the
 * file.
 * @throws SourceUnreadable from `source.chunks()` only
 */
export function unifiedDiff(source: Source, replacements: readonly Replacement[], names: [string, string]): string {
  if (replacements.length === 0) return '';
  const hunks: StructuredPatchHunk[] = [];
  let shift = 0;
  const end = lineEnd(source);
  for (const window of windowsOf(source, replacements, end)) {
    const { before, after } = textsOf(window, end);
    for (const hunk of structuredPatch('', '', before, after, undefined, undefined, { context: CONTEXT }).hunks) {
      const oldStart = hunk.oldStart + window.line - 1;
      const placed = { ...hunk, oldStart, newStart: hunk.newStart + window.line - 1 + shift };
      hunks.push(behind(hunks.at(-1), placed));
    }
    shift += lineCount(after) - lineCount(before);
  }
  const patch: StructuredPatch = {
    oldFileName: names[0],
    newFileName: names[1],
    oldHeader: undefined,
    newHeader: undefined,
    hunks,
  };
  return formatPatch(patch, { includeIndex: false, includeUnderline: false, includeFileHeaders: true });
}

/**
 * A hunk without the lines around it that the one before shows already: among lines that are alike a change may be told further on than where
 * it was made, and its surroundings then reach into those of the next.
 */
function behind(before: StructuredPatchHunk | undefined, hunk: StructuredPatchHunk): StructuredPatchHunk {
  const shared = before === undefined ? 0 : before.oldStart + before.oldLines - hunk.oldStart;
  const around = hunk.lines.findIndex((line) => !line.startsWith(' '));
  const left = Math.max(0, Math.min(shared, around));
  return {
    oldStart: hunk.oldStart + left,
    oldLines: hunk.oldLines - left,
    newStart: hunk.newStart + left,
    newLines: hunk.newLines - left,
    lines: hunk.lines.slice(left),
  };
}

function lineCount(text: string): number {
  return text.split('\n').length - 1;
}

function textsOf({ lines, replacements }: Window, lineEnd: number): { before: string; after: string } {
  const before: Uint8Array[] = [];
  const after: Uint8Array[] = [];
  let next = 0;
  /** Bytes ahead of this in the file are gone by a replacement that began in a line before. */
  let goneTo = 0;
  for (const [k, { offset, bytes, length }] of lines.entries()) {
    before.push(bytes);
    const end = offset + length;
    let at = Math.max(0, goneTo - offset);
    const isLast = k === lines.length - 1;
    for (; next < replacements.length; next++) {
      const { offset: from, length: gone, bytes: fresh } = replacements[next]!;
      if (from > end || (from === end && !isLast)) break;
      after.push(bytes.subarray(at, from - offset), fresh);
      goneTo = from + gone;
      at = goneTo - offset;
    }
    after.push(bytes.subarray(at));
  }
  return { before: decoded(before, lineEnd), after: decoded(after, lineEnd) };
}

/** For people to read; what is no UTF-8 shows as U+FFFD. A lone CR ends a line where no LF does. */
function decoded(parts: readonly Uint8Array[], end: number): string {
  const text = parts.map((part) => decoder.decode(part)).join('');
  return end === CR ? text.replaceAll('\r', '\n') : text;
}

const decoder = new TextDecoder('utf-8', { ignoreBOM: true });

/** The lines that changes touch, with those around them; LF ends a line, as diffs count. */
function* windowsOf(source: Source, replacements: readonly Replacement[], lineEnd: number): Iterable<Window> {
  let recent: Line[] = [];
  let window: Window | null = null;
  let quiet = 0;
  let next = 0;
  let number = 0;
  for (const line of linesOf(source, lineEnd)) {
    const { offset, length, last } = line;
    number++;
    const end = offset + length;
    const first = next;
    const begins = (at: Replacement) => at.offset < end || (last && at.offset === end);
    const reaches = window?.replacements.at(-1);
    let touched = reaches !== undefined && reaches.offset + reaches.length > offset;
    while (next < replacements.length && begins(replacements[next]!)) next++;
    if (next > first) {
      window ??= { line: number - recent.length, lines: [...recent], replacements: [] };
      window.replacements.push(...replacements.slice(first, next));
      touched = true;
    }
    if (window !== null) {
      window.lines.push(line);
      quiet = touched ? 0 : quiet + 1;
      if (quiet > 2 * CONTEXT) {
        yield window;
        window = null;
        quiet = 0;
      }
    }
    recent = [...recent.slice(1 - CONTEXT), line];
  }
  if (window !== null) yield window;
}

interface Line {
  offset: number;
  /** With its line break. */
  bytes: Uint8Array;
  length: number;
  last: boolean;
}

/** Lines one by one, the last known as such. */
function* linesOf(source: Source, end: number): Iterable<Line> {
  let held: Line | null = null;
  let offset = 0;
  let parts: Uint8Array[] = [];
  let length = 0;
  const cut = (): Line => {
    const line = { offset, bytes: shown(parts, length, end), length, last: false };
    offset += length;
    parts = [];
    length = 0;
    return line;
  };
  for (const chunk of source.chunks()) {
    for (let from = 0; from < chunk.length; ) {
      const at = chunk.indexOf(end, from);
      const to = at < 0 ? chunk.length : at + 1;
      // A copy: the chunk's bytes are another's soon.
      if (length <= LONGEST_BYTES) parts.push(chunk.slice(from, to));
      length += to - from;
      from = to;
      if (at < 0) continue;
      if (held !== null) yield held;
      held = cut();
    }
  }
  if (length > 0) {
    if (held !== null) yield held;
    held = cut();
  }
  if (held !== null) yield { ...held, last: true };
}

/** LF, or CR in a file that begins without any. */
function lineEnd(source: Source): number {
  const head = firstBytes(source, LONGEST_BYTES);
  return !head.includes(LF) && head.includes(CR) ? CR : LF;
}

function shown(parts: readonly Uint8Array[], length: number, end: number): Uint8Array {
  if (length > LONGEST_BYTES) return Uint8Array.of(...new TextEncoder().encode(`(${length} bytes)`), end);
  const [only] = parts;
  if (parts.length === 1) return only!;
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
