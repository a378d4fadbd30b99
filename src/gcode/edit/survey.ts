import type { LineSpan } from '../../model/editing.ts';
import { Moves } from '../../model/motion/moves.ts';
import type { ToolpathOptions } from '../../model/reader.ts';
import type { Source } from '../../source/source.ts';
import { Evidence } from '../modal/evidence.ts';
import type { InForce } from '../modal/in-force.ts';
import { Interpreter } from '../modal/interpret.ts';
import { ProblemList } from '../problems.ts';
import { ProgramReader } from '../read.ts';
import type { Block } from '../text/block.ts';
import { LINE_LIMIT, type LineSink, Scanner } from '../text/scan.ts';
import { type PlainLine, plainLine } from './plain-line.ts';

/** Lines around those that are asked for: so far one looks for the moves before and after. */
const AROUND = 100;
/** Lines that are looked at closely; a change of more is no mend any more. */
const MOST_LINES = 100_000;

/** A line of a program with its bytes, and what is in force ahead of it and behind it. */
export interface SurveyedLine extends PlainLine {
  line: number;
  /** Bytes ahead of it in the file. */
  offset: number;
  bytes: Uint8Array;
  /** How it ends: LF, CR LF, CR, or nothing at the end of the file. */
  ending: Uint8Array;
  /** Each byte as one character. */
  text: string;
  before: InForce;
  after: InForce;
}

/** The lines of a program that a change looks at. */
export class Survey {
  readonly lines: ReadonlyMap<number, SurveyedLine>;
  /** Lines of the whole program. */
  readonly count: number;
  /** How most lines here end. */
  readonly ending: Uint8Array;

  constructor(lines: ReadonlyMap<number, SurveyedLine>, count: number) {
    this.lines = lines;
    this.count = count;
    const [first] = [...lines.values()].filter(({ ending }) => ending.length > 0);
    this.ending = first?.ending ?? Uint8Array.of(10);
  }

  at(line: number): SurveyedLine | null {
    return this.lines.get(line) ?? null;
  }
}

/**
 * Looks at the lines of spans and around them: once through the interpreter, for what is in force, and once for their bytes. Null when they
 * are too many.
 * @throws SourceUnreadable from `source.chunks()` only
 */
export function surveyOf(source: Source, options: ToolpathOptions, spans: readonly LineSpan[]): Survey | null {
  const wanted = widened(spans);
  if (wanted.reduce((sum, { first, last }) => sum + last - first + 1, 0) > MOST_LINES) return null;
  const inForce = followed(source, options, wanted);
  const { cut, count } = cutLines(source, wanted);
  const lines = new Map<number, SurveyedLine>();
  for (const one of cut) {
    const before = inForce.get(one.line)!;
    const after = inForce.get(one.line + 1)!;
    const text = String.fromCharCode(...one.bytes);
    const plain: PlainLine = one.bytes.length > LINE_LIMIT ? { kind: 'odd', words: [] } : plainLine(text);
    lines.set(one.line, { ...one, ...plain, text, before, after });
  }
  return new Survey(lines, count);
}

/** The spans with the lines around them, those that touch made one, ascending. */
function widened(spans: readonly LineSpan[]): LineSpan[] {
  const sorted = spans
    .map(({ first, last }) => ({ first: Math.max(1, first - AROUND), last: last + AROUND }))
    .sort((a, b) => a.first - b.first);
  const joined: LineSpan[] = [];
  for (const span of sorted) {
    const before = joined.at(-1);
    if (before && span.first <= before.last + 1) before.last = Math.max(before.last, span.last);
    else joined.push(span);
  }
  return joined;
}

/** What is in force ahead of each wanted line, and of the one behind each span. */
function followed(source: Source, options: ToolpathOptions, wanted: readonly LineSpan[]): Map<number, InForce> {
  const problems = new ProblemList();
  const evidence = new Evidence();
  const interpreter = new Interpreter(options, new Moves(options), problems, evidence);
  const recorder = new Recorder(
    new ProgramReader(interpreter, evidence, problems, options.blockDelete),
    interpreter,
    wanted,
  );
  new Scanner(recorder).scan(source);
  recorder.finish();
  return recorder.inForce;
}

/** Notes what is in force ahead of lines, and hands them on. */
class Recorder implements LineSink {
  readonly inForce = new Map<number, InForce>();
  readonly #inner: LineSink;
  readonly #interpreter: Interpreter;
  readonly #wanted: readonly LineSpan[];
  #span = 0;
  #next: number;

  constructor(inner: LineSink, interpreter: Interpreter, wanted: readonly LineSpan[]) {
    this.#inner = inner;
    this.#interpreter = interpreter;
    this.#wanted = wanted;
    this.#next = wanted[0]?.first ?? Number.POSITIVE_INFINITY;
  }

  words(block: Block): void {
    if (block.line >= this.#next) this.#record(block.line);
    this.#inner.words(block);
  }

  odd(bytes: Uint8Array, line: number): void {
    if (line >= this.#next) this.#record(line);
    this.#inner.odd(bytes, line);
  }

  tooLong(head: Uint8Array, line: number, length: number): void {
    if (line >= this.#next) this.#record(line);
    this.#inner.tooLong(head, line, length);
  }

  finish(): void {
    this.#record(Number.POSITIVE_INFINITY);
  }

  /** Blank lines are not handed out: they are noted with the next that is. */
  #record(line: number): void {
    const state = this.#interpreter.inForce();
    while (this.#next <= line) {
      const span = this.#wanted[this.#span];
      if (span === undefined) {
        this.#next = Number.POSITIVE_INFINITY;
        return;
      }
      this.inForce.set(this.#next, state);
      if (this.#next <= span.last) this.#next++;
      else this.#next = this.#wanted[++this.#span]?.first ?? Number.POSITIVE_INFINITY;
      if (this.#next === Number.POSITIVE_INFINITY) return;
    }
  }
}

type CutLine = Pick<SurveyedLine, 'line' | 'offset' | 'bytes' | 'ending'>;

const LF = 10;
const CR = 13;

/** The bytes of the wanted lines, as the scanner counts lines: LF, CR LF or a lone CR ends one, and a byte-order mark is part of none. */
function cutLines(source: Source, wanted: readonly LineSpan[]): { cut: CutLine[]; count: number } {
  const cutter = new LineCutter(wanted);
  for (const chunk of source.chunks()) for (const byte of chunk) cutter.byte(byte);
  cutter.finish();
  return { cut: cutter.cut, count: cutter.line - 1 };
}

class LineCutter {
  readonly cut: CutLine[] = [];
  line = 1;
  readonly #wanted: readonly LineSpan[];
  #span = 0;
  #offset = 0;
  #start = 0;
  /** Bytes of the line, where it is wanted. */
  #kept: number[] | null;
  #afterCr = false;

  constructor(wanted: readonly LineSpan[]) {
    this.#wanted = wanted;
    this.#kept = this.#isWanted() ? [] : null;
  }

  byte(byte: number): void {
    this.#offset++;
    const afterCr = this.#afterCr;
    this.#afterCr = byte === CR;
    if (byte === LF && afterCr) {
      const last = this.cut.at(-1);
      if (last?.line === this.line - 1) last.ending = Uint8Array.of(CR, LF);
      this.#start = this.#offset;
    } else if (byte === LF || byte === CR) this.#end([byte]);
    else if (this.#kept !== null && this.#kept.length <= LINE_LIMIT) this.#kept.push(byte);
  }

  finish(): void {
    if (this.#offset > this.#start) this.#end([]);
  }

  #end(ending: number[]): void {
    const kept = this.#kept;
    if (kept !== null) {
      const mark = this.line === 1 && kept[0] === 0xef && kept[1] === 0xbb && kept[2] === 0xbf ? 3 : 0;
      const bytes = Uint8Array.from(kept.slice(mark));
      this.cut.push({ line: this.line, offset: this.#start + mark, bytes, ending: Uint8Array.from(ending) });
    }
    this.line++;
    this.#start = this.#offset;
    while (this.#span < this.#wanted.length && this.#wanted[this.#span]!.last < this.line) this.#span++;
    this.#kept = this.#isWanted() ? [] : null;
  }

  #isWanted(): boolean {
    const here = this.#wanted[this.#span];
    return here !== undefined && here.first <= this.line;
  }
}
