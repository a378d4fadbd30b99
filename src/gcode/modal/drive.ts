import { Labels } from '../../model/labels.ts';
import type { Moves } from '../../model/motion/moves.ts';
import type { ToolpathOptions } from '../../model/reader.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, slot } from '../text/block.ts';
import type { BeamState } from './beam.ts';
import { arcTo } from './curves.ts';
import type { Evidence } from './evidence.ts';
import { COORDINATE_LIMIT, type Frames } from './frames.ts';
import type { ModalState } from './state.ts';

const X = slot('X');
const Y = slot('Y');
const Z = slot('Z');
const F = slot('F');
const X_BIT = bit('X');
const Y_BIT = bit('Y');
const Z_BIT = bit('Z');
const AXES = X_BIT | Y_BIT | Z_BIT;
const FEED = bit('F');

/** Turns axis words, feed and motion mode into moves in the machine's frame. */
export class Drive {
  readonly labels = new Labels();
  fastest: Toolpath['highestSpeed'] = null;
  /** False when a move could not be made as written. */
  followed = true;
  readonly #state: ModalState;
  readonly #options: ToolpathOptions;
  readonly #moves: Moves;
  readonly #beam: BeamState;
  readonly #frames: Frames;
  readonly #problems: ProblemList;
  readonly #evidence: Evidence;
  #comment: string | null = null;
  #labelStale = true;
  #lastRise = 0;

  constructor(
    state: ModalState,
    options: ToolpathOptions,
    moves: Moves,
    beam: BeamState,
    frames: Frames,
    problems: ProblemList,
    evidence: Evidence,
  ) {
    this.#state = state;
    this.#options = options;
    this.#moves = moves;
    this.#beam = beam;
    this.#frames = frames;
    this.#problems = problems;
    this.#evidence = evidence;
  }

  /** A comment that stands on a line of its own holds for the strokes that follow. */
  standingComment(comment: string): void {
    if (comment === '') return;
    this.#comment = comment;
    this.#moves.fastPath = false;
    this.#labelStale = true;
  }

  /** The comment that holds for the strokes that follow; null before the first. */
  get comment(): string | null {
    return this.#comment;
  }

  tool(number: number): void {
    this.#state.tool = number;
    this.#moves.fastPath = false;
    this.#labelStale = true;
  }

  feed(block: Block): void {
    this.#moves.fastPath = false;
    const value = block.values[F]!;
    if (value > 0) {
      this.#state.feed = value * this.#state.scale;
      return;
    }
    this.#problems.add('zero-feed', block.placeOf('F'), { feed: value });
    this.#state.feed = 0;
  }

  /** The fast path: G1 to an X with nothing else on the line but S. */
  alongX(block: Block): void {
    const moves = this.#moves;
    const state = this.#state;
    const v = block.values[X]! * state.scale;
    const x = state.absolute ? v + this.#frames.x : moves.x + v;
    moves.setting = this.#beam.value;
    moves.toX = x;
    const near = x < COORDINATE_LIMIT / 4 && x > -COORDINATE_LIMIT / 4;
    if (!near || !moves.fastPath || !moves.pixel(block.line)) this.move(block, 10, false);
  }

  /** Carries out the axis and centre words of a block under a motion code (tenfold; −1: one that is not followed). */
  move(block: Block, motion: number, machineFrame: boolean): void {
    const moves = this.#moves;
    const { mask } = block;
    if (!this.#aim(block, machineFrame)) return;
    if (motion === 0) {
      if (mask & AXES) this.rapid(block.line);
    } else if (motion > 0) {
      if (motion !== 10 || mask & AXES) this.#feedMove(block, motion);
    } else {
      // A cycle or curve goes on: where it leaves the head is all that is known.
      const text = 'a line of the cycle or curve before it';
      this.#problems.add('not-analysed', block.place(), { what: 'canned-cycle', text, lines: 1 }, 'canned-cycle');
      this.followed = false;
      moves.stop();
      moves.x = moves.toX;
      moves.y = moves.toY;
      moves.z = moves.toZ;
    }
  }

  /** G28, G30: by way of the given point, where one is given, to the machine's own zero. */
  home(block: Block, name: string): void {
    this.#frames.note(name, block.place());
    const moves = this.#moves;
    const given = [X, Y, Z].filter((letter) => block.mask & (1 << letter));
    if (given.some((letter) => !Number.isNaN(block.values[letter]!))) this.move(block, 0, false);
    moves.toX = given.length === 0 || given.includes(X) ? 0 : moves.x;
    moves.toY = given.length === 0 || given.includes(Y) ? 0 : moves.y;
    moves.toZ = given.length === 0 || given.includes(Z) ? 0 : moves.z;
    // Where the machine's zero lies seen from the work is not known, so the way there is no part of the job's extent.
    moves.stop();
    const extent = { ...moves.bounds };
    this.rapid(block.line);
    moves.stop();
    Object.assign(moves.bounds, extent);
    const axes = given.length === 0 ? AXES : block.mask & AXES;
    // G30 goes to a second place of the machine's, which is not known.
    this.#frames.homed(axes, name === 'G28');
  }

  /** A line for the host has sent all axes home. */
  homed(): void {
    const moves = this.#moves;
    moves.stop();
    moves.startsPath = true;
    moves.x = 0;
    moves.y = 0;
    moves.z = 0;
    this.#frames.homed(AXES, true);
  }

  rapid(line: number): void {
    const setting = this.#beam.value;
    const { poweredRapids } = this.#moves;
    if (setting > 0) poweredRapids.setting = Math.max(poweredRapids.setting, setting);
    this.#moves.line(line, true, setting > 0);
  }

  /** Sets the end of the next move; false when it lies beyond all bounds. */
  // biome-ignore lint/complexity/noExcessiveCognitiveComplexity: a measured hot loop, called for every move of a program
  #aim(block: Block, machineFrame: boolean): boolean {
    const moves = this.#moves;
    const { scale } = this.#state;
    const { mask, values } = block;
    const absolute = this.#state.absolute || machineFrame;
    let x = moves.x;
    let y = moves.y;
    let z = moves.z;
    // A bare axis letter of G28 has no number.
    if (mask & X_BIT) {
      const v = values[X]! * scale;
      if (!Number.isNaN(v)) x = absolute ? v + (machineFrame ? 0 : this.#frames.x) : x + v;
    }
    if (mask & Y_BIT) {
      const v = values[Y]! * scale;
      if (!Number.isNaN(v)) y = absolute ? v + (machineFrame ? 0 : this.#frames.y) : y + v;
    }
    if (mask & Z_BIT) {
      const v = values[Z]! * scale;
      if (!Number.isNaN(v)) {
        const to = absolute ? v + (machineFrame ? 0 : this.#frames.z) : z + v;
        this.#noteRise(to - z);
        this.#evidence.lifted(to);
        z = to;
      }
    }
    if (absolute) this.#state.named |= machineFrame ? 0 : mask & AXES;
    else if (mask & AXES & ~this.#state.named) this.#frames.restsOnPlace('G91', block);
    const far = (x < 0 ? -x : x) + (y < 0 ? -y : y) + (z < 0 ? -z : z);
    if (!(far <= COORDINATE_LIMIT)) {
      const text = `X${x} Y${y} Z${z}`;
      this.#problems.add('number-out-of-range', block.place(), { text, limit: `${COORDINATE_LIMIT} mm` });
      this.followed = false;
      return false;
    }
    moves.toX = x;
    moves.toY = y;
    moves.toZ = z;
    return true;
  }

  /** Counts how often Z turns with the beam off: a pen or a cutter does that. */
  #noteRise(rise: number): void {
    const way = Math.sign(rise);
    if (this.#beam.value !== 0 || way === 0 || way === this.#lastRise) return;
    this.#lastRise = way;
    this.#evidence.penMoves++;
  }

  /** Straight into the work, or on a slope, as a focus that is lowered along a line. */
  #goesDown(): void {
    const { x, y, z, toX, toY, toZ } = this.#moves;
    if (Math.hypot(toX - x, toY - y) <= z - toZ) this.#evidence.plunge(toZ);
  }

  #feedMove(block: Block, motion: number): void {
    const moves = this.#moves;
    const state = this.#state;
    const power = this.#beam.value;
    const inverse = state.feedMode === 'inverse-time';
    moves.setting = power;
    this.#beam.beforeFeedMove(block);
    if (!inverse) {
      moves.speedMmPerS = state.feed > 0 ? (state.feed * state.feedShare) / 60 : Number.NaN;
      if (Number.isNaN(state.feed)) this.#problems.add('missing-feed', block.place(), {});
      else if (this.fastest === null || moves.speedMmPerS > this.fastest.mmPerS) this.#noteFastest(block);
    }
    if (power > 0 && moves.toZ < moves.z) this.#goesDown();
    if (power > 0 && (this.#labelStale || block.comment !== null)) this.#relabel(block);
    if (motion === 10) {
      if (inverse) this.#inverseTime(block, Math.hypot(moves.toX - moves.x, moves.toY - moves.y, moves.toZ - moves.z));
      moves.line(block.line, false, false);
      return;
    }
    const made = arcTo(block, motion === 20, state, moves, this.#problems, this.#options, (length) => {
      if (inverse) this.#inverseTime(block, length);
    });
    if (!made) this.followed = false;
  }

  /** G93: F is one over the minutes of this move, and each move has its own. */
  #inverseTime(block: Block, lengthMm: number): void {
    const moves = this.#moves;
    const f = block.mask & FEED ? block.values[F]! : Number.NaN;
    moves.speedMmPerS = f > 0 ? (lengthMm * f * this.#state.feedShare) / 60 : Number.NaN;
    if (Number.isNaN(f)) this.#problems.add('missing-feed', block.place(), {}, 'G93');
    else if (!(f > 0)) this.#problems.add('zero-feed', block.placeOf('F'), { feed: f });
    else if (this.fastest === null || moves.speedMmPerS > this.fastest.mmPerS) this.#noteFastest(block);
  }

  #noteFastest(block: Block): void {
    const mmPerS = this.#moves.speedMmPerS;
    if (mmPerS > 0) this.fastest = { mmPerS, place: block.mask & FEED ? block.placeOf('F') : block.place() };
  }

  #relabel(block: Block): void {
    const own = block.comment !== null && block.comment !== '';
    this.#moves.label = this.labels.indexOf(own ? block.comment : this.#comment, this.#state.tool, block.line);
    // The comment of a line of motion holds for that line alone.
    this.#labelStale = own;
    if (own) this.#moves.fastPath = false;
  }
}
