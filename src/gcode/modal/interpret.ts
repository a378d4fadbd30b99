import type { Moves } from '../../model/motion/moves.ts';
import type { ToolpathOptions } from '../../model/reader.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, codeName, onLine, slot } from '../text/block.ts';
import { CYCLES, MOTION_LIMITS, OUTPUTS, QUIET_G, QUIET_M, SPLINES, SWITCHES } from '../text/codes.ts';
import { FULL_SETTING, type HostLine } from '../text/host-lines.ts';
import { AfterEnd } from './after-end.ts';
import { BeamState } from './beam.ts';
import { reportConflicts } from './conflicts.ts';
import { Drive } from './drive.ts';
import { Dwells } from './dwells.ts';
import type { Evidence } from './evidence.ts';
import { Frames } from './frames.ts';
import { type InForce, inForceOf } from './in-force.ts';
import { ModalState } from './state.ts';
import { Units } from './units.ts';

const AXES = bit('X') | bit('Y') | bit('Z');
const CENTRES = bit('I') | bit('J') | bit('K') | bit('R');
const FEED = bit('F');
const POWER = bit('S');
const X = bit('X');
const PIXEL = X | POWER;
const EXTRA_AXES = ['A', 'B', 'C', 'U', 'V', 'W'];
const EXTRA = EXTRA_AXES.reduce((mask, letter) => mask | bit(letter), 0);
/** Words of an ordinary move: no code but one G. */
const ORDINARY = bit('G') | AXES | CENTRES | FEED | POWER;

/** G0 to G3, tenfold like all codes. */
const MOTIONS: ReadonlySet<number> = new Set([0, 10, 20, 30]);
/** Codes that take the words of their line for something else than a move: G4, G10, G28, G30, G92. */
const AXIS_TAKERS: ReadonlySet<number> = new Set([40, 100, 280, 300, 920]);

/** Whether it matters to the job that a line is carried out: it moves the head, or sets feed, power, beam, air or what is not known. */
function bearsOnJob(block: Block): boolean {
  if (block.mask & (AXES | CENTRES | FEED | POWER | EXTRA)) return true;
  for (let i = 0; i < block.gCount; i++) if (!QUIET_G.has(block.g[i]!)) return true;
  for (let i = 0; i < block.mCount; i++) if (SWITCHES.has(block.m[i]!) || !QUIET_M.has(block.m[i]!)) return true;
  return false;
}

/** The line's axis words are a place to go to: not the limits of those axes, which an M code sets unless the line names a motion. */
function goesSomewhere(block: Block, named: boolean): boolean {
  if (!(block.mask & (AXES | CENTRES))) return false;
  for (let i = 0; i < block.mCount && !named; i++) if (MOTION_LIMITS.has(block.m[i]!)) return false;
  return true;
}

/** Carries out blocks in the order of RS274/NGC ([NISTIR-6556], table 8) and hands the moves on. */
export class Interpreter {
  readonly beam: BeamState;
  readonly frames: Frames;
  readonly drive: Drive;
  readonly dwells: Dwells;
  readonly units: Units;
  /** False when something that bears on motion or beam could not be followed. */
  followed = true;
  /** The program runs, S is the power and F a feed per minute. */
  #simple = false;
  readonly #state = new ModalState();
  readonly #moves: Moves;
  readonly #problems: ProblemList;
  readonly #evidence: Evidence;
  readonly #options: ToolpathOptions;
  /** What M2 or M30 found. */
  #end: Toolpath['end'] | null = null;
  /** Takes what stands behind M2, M30 or a closing %. */
  #afterEnd: AfterEnd | null = null;

  constructor(options: ToolpathOptions, moves: Moves, problems: ProblemList, evidence: Evidence) {
    this.#options = options;
    this.#moves = moves;
    this.#problems = problems;
    this.#evidence = evidence;
    this.beam = new BeamState(this.#state, options, moves, problems, evidence);
    this.#simple = this.beam.byS;
    this.frames = new Frames(this.#state, moves, problems);
    this.units = new Units(this.#state, moves, problems);
    this.dwells = new Dwells(moves, this.beam, problems);
    this.drive = new Drive(this.#state, options, moves, this.beam, this.frames, problems, evidence);
  }

  block(block: Block): void {
    const { mask } = block;
    // The fast path of a raster: X and S under a G1 that is in force.
    if (
      this.#moves.fastPath &&
      (mask & ~PIXEL) === 0 &&
      mask & X &&
      this.#state.motion === 10 &&
      this.#simple &&
      block.comment === null
    ) {
      if (mask & POWER) this.beam.sWord(block);
      this.drive.alongX(block);
      return;
    }
    if (this.#afterEnd !== null) {
      this.#evidence.note(block);
      this.#afterEnd.block(block, this.beam.ownsS(block));
      return;
    }
    // The next: one move, nothing else.
    if (block.mCount > 0 || block.gCount > 1 || mask & ~ORDINARY || this.#state.feedMode !== 'per-minute') {
      this.#whole(block);
      return;
    }
    if (block.gCount === 1) {
      const code = block.g[0]!;
      if (code !== 10 && code !== 0 && code !== 20 && code !== 30) {
        this.#whole(block);
        return;
      }
      this.#evidence.noteOneG(block);
      this.#state.motion = code;
    }
    if (mask & FEED) this.drive.feed(block);
    if (mask & POWER) {
      if (this.beam.byS) this.beam.sWord(block);
      else this.beam.foreignS(block);
    }
    if (mask & (AXES | CENTRES)) this.drive.move(block, this.#state.motion, false);
  }

  /** What is in force for the next line. */
  inForce(): InForce {
    return inForceOf(this.#state, this.#moves, this);
  }

  standingComment(comment: string): void {
    if (this.#afterEnd === null) this.drive.standingComment(comment);
  }

  /** A line for the controller or the sender that bears on the program; `text` is what it says. */
  hostLine(line: HostLine, place: Place, text: string): void {
    if (this.#afterEnd !== null) return;
    if (line.kind === 'homes') this.drive.homed();
    if (line.kind !== 'setting') return;
    if (line.number === FULL_SETTING) this.beam.setFull(line.value, place, text);
    else this.beam.setScaling(line.value === 1 ? 'scaled-with-speed' : 'constant', place, text);
  }

  /** A line that a switch at the controller leaves out or not: it is carried out, and told where that bears on the job. */
  optionalBlock(block: Block): void {
    if (this.#afterEnd === null && bearsOnJob(block))
      this.#lose('block-delete', block.place(), 'the block-delete slash');
    this.block(block);
  }

  /** A closing %: what stands behind it is not the program's. */
  close(): void {
    this.#afterEnd ??= new AfterEnd('%', this.#options.power.word, this.beam.atEnd(), this.#problems);
    this.#simple = false;
  }

  /** The state that the program leaves behind. */
  finish(lastLine: number): Toolpath['end'] {
    const place = onLine(lastLine, 0, 0);
    return this.#end ?? { place, stated: false, beam: this.beam.command(), setting: this.beam.value };
  }

  #whole(block: Block): void {
    const { mask } = block;
    const state = this.#state;
    this.#evidence.note(block);
    this.beam.note(block);
    reportConflicts(block, this.#problems);
    // Units bear on the feed of their own line too, as controllers have it that convert a whole line at once.
    for (let i = 0; i < block.gCount; i++) {
      this.#feedMode(block.g[i]!);
      this.units.code(block, i);
    }
    if (mask & FEED && state.feedMode !== 'inverse-time') this.drive.feed(block);
    if (mask & POWER) {
      if (this.beam.ownsS(block)) this.beam.sWord(block);
      else if (!this.beam.byS) this.beam.foreignS(block);
    }
    if (mask & bit('T')) this.drive.tool(block.values[slot('T')]!);
    for (let i = 0; i < block.mCount; i++) this.#mCode(block, i);
    this.#gCodes(block);
    if (mask & EXTRA) {
      const letter = EXTRA_AXES.find((axis) => mask & bit(axis))!;
      this.#lose('extra-axis', block.placeOf(letter), letter);
    }
    for (let i = 0; i < block.mCount; i++) this.#stopCode(block, i);
  }

  /** Modes first, then whatever takes the axis words. */
  #gCodes(block: Block): void {
    const state = this.#state;
    let motion = state.motion;
    let named = false;
    let machineFrame = false;
    let cancels = false;
    let known = true;
    let taker = -1;
    for (let i = 0; i < block.gCount; i++) {
      const code = block.g[i]!;
      if (MOTIONS.has(code)) {
        motion = code;
        named = true;
      } else if (code === 530) {
        machineFrame = true;
        this.frames.note('G53', block.placeOfG(i));
      } else if (AXIS_TAKERS.has(code)) taker = code;
      else if (code === 800) cancels = true;
      else if (!this.#mode(code, block, block.placeOfG(i))) {
        known = false;
        if (CYCLES.has(code) || SPLINES.has(code)) {
          motion = -1;
          named = true;
        }
      }
    }
    if (cancels && !named && motion < 0) motion = 0;
    state.motion = motion;
    if (taker >= 0) this.#takeAxes(block, taker);
    else if (known && goesSomewhere(block, named)) this.drive.move(block, motion, machineFrame);
  }

  /** Carries out the code (tenfold) that takes the axis words of its line for something else than a move. */
  #takeAxes(block: Block, code: number): void {
    if (code === 40) this.dwells.wait(block);
    else if (code === 920) this.frames.shift(block);
    else if (code !== 100) this.drive.home(block, codeName('G', code));
    else if (!this.frames.origin(block)) this.#lose('unknown-code', block.place(), 'G10');
  }

  /** Motion or beam can no longer be followed. What has the same `kind` is one problem. */
  #lose(what: string, place: Place, text: string, kind = what): void {
    this.#problems.add('not-analysed', place, { what, text, lines: 1 }, kind);
    this.followed = false;
  }

  #feedMode(code: number): void {
    const state = this.#state;
    if (code === 930) {
      state.feedMode = 'inverse-time';
      this.#simple = false;
    }
    if (code !== 940) return;
    // A feed given as an inverse time is no feed per minute.
    if (state.feedMode === 'inverse-time') state.feed = Number.NaN;
    state.feedMode = 'per-minute';
    this.#simple = this.beam.byS;
  }

  /** Codes that change what is in force; false when the code is not followed. */
  #mode(code: number, block: Block, place: Place): boolean {
    const state = this.#state;
    switch (code) {
      case 170:
        state.plane = 'XY';
        return true;
      case 180:
        state.plane = 'ZX';
        return true;
      case 190:
        state.plane = 'YZ';
        return true;
      case 200:
      case 210:
      case 700:
      case 710:
        return true;
      case 900:
        state.absolute = true;
        return true;
      case 910:
        state.absolute = false;
        return true;
      case 901:
        state.absoluteCentres = true;
        return true;
      case 911:
        state.absoluteCentres = false;
        return true;
      case 930:
      case 940:
        return true;
      case 410:
      case 411:
      case 420:
      case 421:
        return this.#notApplied('cutter-compensation', code, place);
      case 430:
      case 431:
      case 432:
        return this.#notApplied('tool-length-offset', code, place);
      default:
        if (QUIET_G.has(code) || this.frames.code(code, place)) return true;
        return this.#unknownG(code, block, place);
    }
  }

  /** A G code that is not followed; true where the profile says that it leaves beam and motion alone, and it stands by itself. */
  #unknownG(code: number, block: Block, place: Place): boolean {
    const name = codeName('G', code);
    if (CYCLES.has(code)) this.#lose('canned-cycle', place, name);
    else if (SPLINES.has(code)) this.#lose('spline', place, name);
    // Whether axis words are the code's own or those of a move is not known.
    else if (block.mask & AXES) this.#lose('unknown-code', place, name, `unknown-code ${name}`);
    else return this.#unknown('unknown-code', name, place);
    return false;
  }

  /** Not followed, and the path taken as written all the same. */
  #notApplied(what: string, code: number, place: Place): true {
    this.#unknown(what, codeName('G', code), place);
    return true;
  }

  /** A code that is not followed; true where the profile says that it leaves beam and motion alone. */
  #unknown(what: string, name: string, place: Place): boolean {
    if (this.#options.harmless.has(name)) return true;
    this.#lose(what, place, name, `${what} ${name}`);
    return false;
  }

  #mCode(block: Block, i: number): void {
    if (this.beam.mCode(block, i)) return;
    const code = block.m[i]!;
    const place = block.placeOfM(i);
    const text = codeName('M', code);
    if (OUTPUTS.has(code)) {
      // An output that the profile does not name may gate or weaken the beam; one that is set to 0 fires nothing.
      if (!this.beam.setsToZero(block, code)) this.#unknown('output', text, place);
    } else if (code === 980 || code === 990) this.#lose('subprogram', place, text);
    else if (code === 2040) this.#acceleration(block);
    else if (code === 2200 || code === 2210) this.#shares(block, code, place);
    else if (MOTION_LIMITS.has(code)) {
      this.#problems.add('not-analysed', place, { what: 'motion-limits', text, lines: 1 }, `motion-limits ${text}`);
    } else if (!QUIET_M.has(code)) this.#unknown('unknown-code', text, place);
  }

  /** M204: the acceleration at the feed (P, or S for all moves), in units per second squared. */
  #acceleration(block: Block): void {
    const letter = ['P', 'S'].find((l) => block.mask & bit(l));
    const mmPerS2 = letter ? block.values[slot(letter)]! * this.#state.scale : 0;
    if (mmPerS2 > 0) this.#moves.setAcceleration(mmPerS2);
  }

  /**
   * M220 and M221: the share of the feed that the head goes at, and of the flow, in percent. Without S they ask; what B and R bring back,
   * and what less flow does to a beam, is not known.
   */
  #shares(block: Block, code: number, place: Place): void {
    const percent = block.mask & POWER ? block.values[slot('S')]! : Number.NaN;
    if (percent > 0 && code === 2200) {
      this.#state.feedShare = percent / 100;
      this.#moves.fastPath = false;
    } else if (block.mask & (POWER | bit('B') | bit('R')) && percent !== 100) {
      this.#unknown('unknown-code', codeName('M', code), place);
    }
  }

  #stopCode(block: Block, i: number): void {
    const code = block.m[i]!;
    if (code === 0 || code === 10) this.dwells.pause(block.placeOfM(i));
    else if (code === 20 || code === 300) {
      this.#simple = false;
      this.#end = { place: block.placeOfM(i), stated: true, beam: this.beam.command(), setting: this.beam.value };
      this.#moves.stop();
      this.#state.endProgram();
      this.frames.refresh();
      this.#afterEnd = new AfterEnd(codeName('M', code), this.#options.power.word, this.beam.atEnd(), this.#problems);
      this.beam.endProgram();
    }
  }
}
