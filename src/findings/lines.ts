import type { Location } from '../source/place.ts';
import { type Source, SourceUnreadable } from '../source/source.ts';
import type { Excerpt } from './finding.ts';

/** Longest stretch of one line that an excerpt shows, UTF-16 units. */
export const EXCERPT_WIDTH = 200;
/** Most lines that an excerpt shows. */
const EXCERPT_LINES = 3;
/** Of a line that is too long, so much is shown ahead of the place. */
const LEAD_WIDTH = 60;

/** What is known of a location: its excerpt, the text of its first line, and why it lies outside its file (null: inside). */
export interface LineAnswer {
  excerpt: Excerpt | null;
  text: string;
  outside: string | null;
}

/** Answers for the locations that were given to `gatherLines`. */
export interface LineLookup {
  lookUp(location: Location): LineAnswer;
}

/** A stretch of one line that was asked for, filled while the file is read. */
interface Wanted {
  line: number;
  /** 0-based unit at which the stretch begins if the line is too long to be shown whole. */
  from: number;
  head: string;
  cut: string;
  length: number;
}

const LF = 10;
const CR = 13;

/**
 * Looks up the lines of all locations in one pass over each file, in memory bounded by the number of locations however
 * long file and lines are. A file that is not among the sources, or that cannot be read, has no excerpt, and only its
 * first character is a place in it.
 */
export function gatherLines(sources: ReadonlyMap<string, Source>, locations: Iterable<Location>): LineLookup {
  const byFile = new Map<string, Map<string, Wanted>>();
  for (const location of locations) {
    const wanted = byFile.get(location.file) ?? new Map<string, Wanted>();
    byFile.set(location.file, wanted);
    const from = firstUnit(location);
    for (let line = location.line; line <= lastShownLine(location); line++) want(wanted, line, from);
    want(wanted, location.endLine, firstUnitAt(location.endColumn));
  }
  const gathered = new Map<string, Gathered>();
  for (const [file, wanted] of byFile) {
    const source = sources.get(file);
    const lines = source === undefined ? null : gather(source, wanted);
    if (lines !== null) gathered.set(file, { lines, wanted });
  }
  return { lookUp: (location) => answer(gathered.get(location.file), location) };
}

interface Gathered {
  /** Lines in the file. */
  lines: number;
  wanted: Map<string, Wanted>;
}

function firstUnit(location: Location): number {
  return firstUnitAt(location.column);
}

function firstUnitAt(column: number): number {
  return Math.max(0, column - 1 - LEAD_WIDTH);
}

/** A place that ends ahead of the first character of a line does not show that line. */
function lastShownLine(location: Location): number {
  const last = location.endColumn <= 1 && location.endLine > location.line ? location.endLine - 1 : location.endLine;
  return Math.min(last, location.line + EXCERPT_LINES - 1);
}

function want(wanted: Map<string, Wanted>, line: number, from: number): void {
  const key = `${line}:${from}`;
  if (!wanted.has(key)) wanted.set(key, { line, from, head: '', cut: '', length: 0 });
}

function answer(gathered: Gathered | undefined, location: Location): LineAnswer {
  if (gathered === undefined) {
    const first = location.line === 1 && location.column === 1 && location.endLine === 1 && location.endColumn === 1;
    return { excerpt: null, text: '', outside: first ? null : 'the file was not read' };
  }
  const from = firstUnit(location);
  const start = gathered.wanted.get(`${location.line}:${from}`);
  const end = gathered.wanted.get(`${location.endLine}:${firstUnitAt(location.endColumn)}`);
  if (start === undefined || end === undefined)
    return { excerpt: null, text: '', outside: 'its line was not looked up' };
  if (location.endLine > gathered.lines) {
    return { excerpt: null, text: '', outside: `line ${location.endLine} of a file of ${gathered.lines}` };
  }
  if (location.column > start.length + 1 || location.endColumn > end.length + 1) {
    const column = location.column > start.length + 1 ? location.column : location.endColumn;
    return { excerpt: null, text: '', outside: `column ${column} is behind the end of its line` };
  }
  const shown: Wanted[] = [];
  for (let line = location.line; line <= lastShownLine(location); line++) {
    const one = gathered.wanted.get(`${line}:${from}`);
    if (one !== undefined) shown.push(one);
  }
  const cut = shown.some((one) => one.length > EXCERPT_WIDTH) && from > 0;
  const lines = shown.map((one) => whole(cut ? one.cut : one.head));
  const excerpt: Excerpt = { startLine: location.line, lines };
  if (cut) excerpt.startColumn = from + 1;
  return { excerpt, text: start.from > 0 && start.length > EXCERPT_WIDTH ? start.cut : start.head, outside: null };
}

/** Half of a surrogate pair at either end is replaced: cutting must not leave ill-formed text. */
function whole(text: string): string {
  return text.replace(/^[\udc00-\udfff]/, '\ufffd').replace(/[\ud800-\udbff]$/, '\ufffd');
}

/** Fills the wanted lines; gives the number of lines, or a number above all wanted ones; null when the bytes cannot be had. */
function gather(source: Source, wanted: Map<string, Wanted>): number | null {
  const filler = new LineFiller(wanted);
  try {
    for (const chunk of utf8Chunks(source)) {
      // What is behind the last wanted line of a long file need not be read.
      if (!filler.read(chunk)) return filler.line;
    }
  } catch (error) {
    if (error instanceof SourceUnreadable) return null;
    throw error;
  }
  filler.end();
  return filler.line;
}

/** Fills the wanted lines while their file is read, chunk by chunk. */
class LineFiller {
  /** The line that is being read. */
  line = 1;
  readonly #byLine = new Map<number, Wanted[]>();
  /** The lines that somebody wants, the last one first. */
  readonly #ahead: number[];
  readonly #last: number;
  /** What is wanted of the line that is being read; most lines of a large file are wanted by nobody. */
  #current: Wanted[] | undefined;
  #decoder = new TextDecoder();
  #afterCr = false;

  constructor(wanted: Map<string, Wanted>) {
    for (const one of wanted.values()) this.#byLine.set(one.line, [...(this.#byLine.get(one.line) ?? []), one]);
    this.#ahead = [...this.#byLine.keys()].sort((a, b) => b - a);
    this.#last = this.#ahead[0] ?? 0;
    this.#begin();
  }

  /** Takes in the next bytes; false as soon as all wanted lines have been read. Runs over every byte of a raster: keep it tight. */
  read(bytes: Uint8Array): boolean {
    let begin = 0;
    for (let at = 0; at < bytes.length; at++) {
      const byte = bytes[at]!;
      if (byte > CR || (byte !== LF && byte !== CR)) continue;
      const afterCr = at > 0 ? bytes[at - 1] === CR : this.#afterCr;
      // The second half of CR LF ends nothing.
      if (byte === CR || !afterCr) {
        if (this.#current !== undefined) take(this.#current, this.#decoder.decode(bytes.subarray(begin, at)));
        this.line++;
        if (this.line > this.#last) return false;
        this.#begin();
      }
      begin = at + 1;
    }
    if (bytes.length > 0) this.#afterCr = bytes[bytes.length - 1] === CR;
    if (this.#current !== undefined) {
      take(this.#current, this.#decoder.decode(bytes.subarray(begin), { stream: true }));
    }
    return true;
  }

  /** The file is over. */
  end(): void {
    if (this.#current !== undefined) take(this.#current, this.#decoder.decode());
  }

  #begin(): void {
    this.#current = undefined;
    if (this.line !== this.#ahead.at(-1)) return;
    this.#ahead.pop();
    this.#current = this.#byLine.get(this.line);
    if (this.line > 1) this.#decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  }
}

function take(windows: Wanted[], text: string): void {
  for (const one of windows) {
    if (one.head.length < EXCERPT_WIDTH) one.head += text.slice(0, EXCERPT_WIDTH - one.head.length);
    const start = Math.max(0, one.from - one.length);
    if (one.cut.length < EXCERPT_WIDTH) one.cut += text.slice(start, start + EXCERPT_WIDTH - one.cut.length);
    one.length += text.length;
  }
}

type Utf16Decoder = InstanceType<typeof TextDecoder>;

/** The bytes as UTF-8: UTF-16 with a byte-order mark, which files that people write may come in, is turned into it on the way. */
function* utf8Chunks(source: Source): Iterable<Uint8Array> {
  let decoder: Utf16Decoder | null | undefined;
  for (const chunk of source.chunks()) {
    if (decoder === undefined) decoder = utf16Decoder(chunk);
    yield decoder === null ? chunk : new TextEncoder().encode(decoder.decode(chunk, { stream: true }));
  }
}

function utf16Decoder(start: Uint8Array): Utf16Decoder | null {
  if (start[0] === 0xff && start[1] === 0xfe) return new TextDecoder('utf-16le');
  if (start[0] === 0xfe && start[1] === 0xff) return new TextDecoder('utf-16be');
  return null;
}
