import { MotionJournal } from '../model/motion/motion-journal.ts';
import { Moves } from '../model/motion/moves.ts';
import { TO_KERFLINT, type ToolpathOptions } from '../model/reader.ts';
import { STROKE_LIMIT } from '../model/strokes.ts';
import type { Toolpath } from '../model/toolpath.ts';
import type { Source } from '../source/source.ts';
import { Evidence, judgeKind } from './modal/evidence.ts';
import { Interpreter } from './modal/interpret.ts';
import { GCODE } from './problem-texts.ts';
import { ProblemList } from './problems.ts';
import { Block, onLine } from './text/block.ts';
import { type OddLine, readOddLine } from './text/odd-line.ts';
import { quote } from './text/quote.ts';
import { LINE_LIMIT, type LineSink, Scanner } from './text/scan.ts';

/**
 * Reads a program: scans its bytes, carries out its words and sums what the head and the beam do. Synchronous and
 * streaming, in bounded memory. Whatever the input, the answer is a partial model and its problems.
 *
 * @throws SourceUnreadable from `source.chunks()` only
 */
export function readToolpath(source: Source, options: ToolpathOptions): Toolpath {
  const problems = new ProblemList();
  const evidence = new Evidence();
  const moves = new Moves(options, options.keepsMotion === true ? new MotionJournal() : null);
  const interpreter = new Interpreter(options, moves, problems, evidence);
  const reader = new ProgramReader(interpreter, evidence, problems, options.blockDelete);
  const scanner = new Scanner(reader);
  scanner.scan(source, options.onProgress);
  const end = interpreter.finish(Math.max(1, scanner.lines));
  const { beam, drive, frames } = interpreter;
  const made = moves.finish(drive.labels.list);
  const { dropped } = moves.strokes;
  if (dropped > 0) {
    problems.add('not-analysed', onLine(end.place.line, 0, 0), {
      what: 'too-many-strokes',
      text: `${STROKE_LIMIT} strokes are kept`,
      lines: dropped,
    });
  }
  if (made.moves === 0) problems.add('empty', onLine(1, 0, 0), {});
  const seen = evidence.codes();
  judgeKind(seen, evidence, options.power.word === 'S' ? options.power.full : Number.POSITIVE_INFINITY, problems);
  return {
    ...made,
    reader: GCODE,
    bytes: scanner.bytes,
    lines: scanner.lines,
    labels: drive.labels.list,
    labelsEndedEarly: drive.labels.endedEarly,
    dwells: interpreter.dwells.found,
    problems: problems.list(),
    analysed: interpreter.followed && drive.followed && reader.followed && dropped === 0,
    end,
    highestSetting: beam.highest,
    lowestPoweredSetting: beam.lowest,
    highestSpeed: drive.fastest,
    offsets: {
      used: [...frames.used],
      place: frames.place,
      unfollowed: frames.unfollowed,
      fromMachine: frames.fromMachine,
    },
    beamWords: beam.words.list(),
    units: interpreter.units.stated,
    switchesAir: seen['M7'] !== undefined || seen['M8'] !== undefined,
  };
}

/** Joins the two ways that lines take: plain ones go straight to the interpreter, all others by way of `readOddLine`. */
export class ProgramReader implements LineSink {
  /** False when a line was not carried out. */
  followed = true;
  readonly #interpreter: Interpreter;
  readonly #evidence: Evidence;
  readonly #problems: ProblemList;
  readonly #decoder = new TextDecoder();
  readonly #block = new Block();
  #begun = false;
  #opened = false;
  /** A closing `%` was read: what stands behind it may be prose. */
  #over = false;
  readonly #blockDelete: ToolpathOptions['blockDelete'];

  constructor(
    interpreter: Interpreter,
    evidence: Evidence,
    problems: ProblemList,
    blockDelete: ToolpathOptions['blockDelete'],
  ) {
    this.#interpreter = interpreter;
    this.#evidence = evidence;
    this.#problems = problems;
    this.#blockDelete = blockDelete;
  }

  words(block: Block): void {
    this.#begun = true;
    this.#interpreter.block(block);
  }

  odd(bytes: Uint8Array, line: number): void {
    const text = this.#decoder.decode(bytes);
    const odd = readOddLine(text, line, this.#block);
    if (odd.blockDelete) this.#evidence.noteSign('/', line);
    if (odd.blockDelete && this.#blockDelete === 'skipped') return;
    if (!this.#over) this.#tell(odd, line);
    if (odd.percent) this.#percent(line);
    if (odd.host) this.#interpreter.hostLine(odd.host, onLine(line, 0, text.length), quote(text.trim()));
    if (odd.comment !== null && !odd.hasWords && !odd.comment.startsWith(TO_KERFLINT))
      this.#interpreter.standingComment(odd.comment);
    if (odd.hasWords) {
      this.#begun = true;
      if (odd.blockDelete && this.#blockDelete === null) this.#interpreter.optionalBlock(this.#block);
      else this.#interpreter.block(this.#block);
    }
  }

  #tell(odd: OddLine, line: number): void {
    for (const issue of odd.issues) {
      const kind = String(issue.args['what'] ?? issue.args['reason'] ?? '');
      this.#problems.add(issue.code, onLine(line, issue.start, issue.end), issue.args, kind);
      if (issue.loses) this.followed = false;
    }
  }

  /** The first `%`, ahead of all words, opens the program; any behind a word closes it. */
  #percent(line: number): void {
    this.#evidence.noteSign('%', line);
    if (!this.#begun && !this.#opened) this.#opened = true;
    else {
      this.#over = true;
      this.#interpreter.close();
    }
  }

  tooLong(head: Uint8Array, line: number, length: number): void {
    if (this.#over) return;
    const text = this.#decoder.decode(head);
    // A long remark harms nobody.
    if (text.trimStart().startsWith(';')) return;
    this.#problems.add('line-too-long', onLine(line, 0, 0), { length, limit: LINE_LIMIT, text: quote(text) });
    this.followed = false;
  }
}
