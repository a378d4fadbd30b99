import { formatPatch, type StructuredPatch, type StructuredPatchHunk, structuredPatch } from 'diff';
import type { Source } from '../source/source.ts';
import type { Replacement } from './pieces.ts';

/** Lines shown around a change. */
const CONTEXT = 3;
/** Of a longer line only its length is shown, bytes. */
const LONGEST_BYTES = 1 << 16;

/** Lines of the original around some changes, with these. */
interface Window {
  /** Number of its first line. */
  line: number;
  /** Offset of its first byte. */
  offset: number;
  lines: Uint8Array[];
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
  for (const window of windowsOf(source, replacements)) {
    const { before, after } = textsOf(window);
    for (const hunk of structuredPatch('', '', before, after, undefined, undefined, { context: CONTEXT }).hunks) {
      const oldStart = hunk.oldStart + window.line - 1;
      hunks.push({ ...hunk, oldStart, newStart: hunk.newStart + window.line - 1 + shift });
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

function lineCount(text: string): number {
  return text.split('\n').length - 1;
}

function textsOf({ offset, lines, replacements }: Window): { before: string; after: string } {
  const bytes = lines.flatMap((line) => [...line]);
  const after: number[] = [];
  let at = 0;
  for (const { offset: from, length, bytes: fresh } of replacements) {
    after.push(...bytes.slice(at, from - offset), ...fresh);
    at = from - offset + length;
  }
  after.push(...bytes.slice(at));
  return { before: decoded(bytes), after: decoded(after) };
}

/** For people to read; what is no UTF-8 shows as U+FFFD. */
function decoded(bytes: readonly number[]): string {
  return new TextDecoder('utf-8', { ignoreBOM: true }).decode(Uint8Array.from(bytes));
}

/** The lines that changes touch, with those around them; LF ends a line, as diffs count. */
function* windowsOf(source: Source, replacements: readonly Replacement[]): Iterable<Window> {
  let recent: { offset: number; bytes: Uint8Array }[] = [];
  let window: Window | null = null;
  let quiet = 0;
  let next = 0;
  let number = 0;
  for (const { offset, bytes, length, last } of linesOf(source)) {
    number++;
    const end = offset + length;
    const first = next;
    const begins = (at: Replacement) => at.offset < end || (last && at.offset === end);
    const reaches = window?.replacements.at(-1);
    let touched = reaches !== undefined && reaches.offset + reaches.length > offset;
    while (next < replacements.length && begins(replacements[next]!)) next++;
    if (next > first) {
      window ??= {
        line: number - recent.length,
        offset: recent[0]?.offset ?? offset,
        lines: recent.map((line) => line.bytes),

        replacements: [],
      };
      window.replacements.push(...replacements.slice(first, next));
      touched = true;
    }
    if (window !== null) {
      window.lines.push(bytes);
      quiet = touched ? 0 : quiet + 1;
      if (quiet > 2 * CONTEXT) {
        yield window;
        window = null;
        quiet = 0;
      }
    }
    recent = [...recent.slice(1 - CONTEXT), { offset, bytes }];
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
function* linesOf(source: Source): Iterable<Line> {
  let held: Line | null = null;
  let offset = 0;
  let kept: number[] = [];
  let length = 0;
  const cut = (): Line => {
    const line = { offset, bytes: shown(kept, length), length, last: false };
    offset += length;
    kept = [];
    length = 0;
    return line;
  };
  for (const chunk of source.chunks()) {
    for (const byte of chunk) {
      length++;
      if (length <= LONGEST_BYTES) kept.push(byte);
      if (byte !== 10) continue;
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

/** As many bytes as the line has, so that offsets hold. */
function shown(kept: readonly number[], length: number): Uint8Array {
  return Uint8Array.from(length <= LONGEST_BYTES ? kept : [...kept.slice(0, 60), 10]);
}
