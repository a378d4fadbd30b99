import type { Moves } from '../../model/motion/moves.ts';
import type { ToolpathOffsets } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, codeName, slot } from '../text/block.ts';
import { type ModalState, SYSTEMS } from './state.ts';

/** No bed is a kilometre wide: larger coordinates are mistakes, mm. */
export const COORDINATE_LIMIT = 1e6;

const XY = bit('X') | bit('Y');
const AXES = [slot('X'), slot('Y'), slot('Z')];

/** Where program coordinates lie in the machine's frame: G54 … G59.3, G10, G92 and its kin ([NISTIR-6556], 3.2.2 and 3.5). */
export class Frames {
  /** Machine coordinate minus program coordinate, mm. */
  x = 0;
  y = 0;
  z = 0;
  /** Codes that moved the frame or left it, and the first place. */
  readonly used = new Set<string>();
  place: Place | null = null;
  /** The first code that moves the work by an amount that the program does not tell. */
  unfollowed: ToolpathOffsets['unfollowed'] = null;
  /** The first that counts from the machine's own zero. */
  fromMachine: ToolpathOffsets['fromMachine'] = null;
  /** Work coordinate systems whose origin the program has set. */
  readonly #set = new Set<number>();
  readonly #state: ModalState;
  readonly #moves: Moves;
  readonly #problems: ProblemList;

  constructor(state: ModalState, moves: Moves, problems: ProblemList) {
    this.#state = state;
    this.#moves = moves;
    this.#problems = problems;
  }

  /** G54 … G59.3 and G92.1 … G92.3; false when the code is none of them. */
  code(code: number, place: Place): boolean {
    const state = this.#state;
    const name = codeName('G', code);
    const system = code >= 540 && code <= 593 ? SYSTEMS.indexOf(name as (typeof SYSTEMS)[number]) : -1;
    if (system >= 0) {
      state.system = system;
      // G54 alone is what every controller starts with.
      if (system > 0) this.note(name, place);
      if (system > 0 && !this.#set.has(system)) this.unfollowed ??= { word: name, place };
    } else if (code === 921) {
      state.shift.fill(0);
      state.saved.fill(0);
    } else if (code === 922) {
      state.saved.set(state.shift);
      state.shift.fill(0);
    } else if (code === 923) {
      state.shift.set(state.saved);
      if (!this.used.has('G92')) this.unfollowed ??= { word: name, place };
    } else return false;
    if (system < 0) this.note(name, place);
    this.refresh();
    return true;
  }

  /** G92: the point where the head is gets the given coordinates. */
  shift(block: Block): void {
    const state = this.#state;
    this.restsOnPlace('G92', block);
    AXES.forEach((letter, axis) => {
      if (!this.#usable(block, letter)) return;
      const here = this.#here(axis) - state.origins[3 * state.system + axis]!;
      state.shift[axis] = here - block.values[letter]! * state.scale;
    });
    state.saved.set(state.shift);
    this.refresh();
    this.note('G92', block.place());
  }

  /** G10 L2 and L20: sets the origin of a work coordinate system; false when it asks for anything else. */
  origin(block: Block): boolean {
    const state = this.#state;
    const value = (letter: string) => (block.mask & bit(letter) ? block.values[slot(letter)]! : Number.NaN);
    const how = value('L');
    const which = block.mask & bit('P') ? value('P') : 0;
    const turned = value('R');
    if (how !== 2 && how !== 20) return false;
    if (!Number.isInteger(which) || which < 0 || which > SYSTEMS.length || (!Number.isNaN(turned) && turned !== 0))
      return false;
    const system = which === 0 ? state.system : which - 1;
    if (how === 20) this.restsOnPlace('G10', block);
    else if (block.mask & XY) this.fromMachine ??= { word: 'G10', place: block.place() };
    this.#set.add(system);
    AXES.forEach((letter, axis) => {
      if (!this.#usable(block, letter)) return;
      const given = block.values[letter]! * state.scale;
      state.origins[3 * system + axis] = how === 2 ? given : this.#here(axis) - state.shift[axis]! - given;
    });
    this.refresh();
    this.note('G10', block.place());
    return true;
  }

  /** The given axes stand at the machine's own zero, or (not `atZero`) at another place of the machine's. */
  homed(axes: number, atZero: boolean): void {
    const state = this.#state;
    state.homed = atZero ? state.homed | axes : state.homed & ~axes;
    state.named &= ~axes;
  }

  /** The block rests on where the head is: known where the program has told that place. */
  restsOnPlace(word: string, block: Block): void {
    const unknown = block.mask & XY & ~this.#state.named;
    if (unknown & ~this.#state.homed) this.unfollowed ??= { word, place: block.place() };
    else if (unknown) this.fromMachine ??= { word, place: block.place() };
  }

  note(name: string, place: Place): void {
    this.used.add(name);
    this.place ??= place;
  }

  refresh(): void {
    this.x = this.#state.offset(0);
    this.y = this.#state.offset(1);
    this.z = this.#state.offset(2);
  }

  #here(axis: number): number {
    return axis === 0 ? this.#moves.x : axis === 1 ? this.#moves.y : this.#moves.z;
  }

  #usable(block: Block, letter: number): boolean {
    if (!(block.mask & (1 << letter))) return false;
    if (Math.abs(block.values[letter]! * this.#state.scale) <= COORDINATE_LIMIT) return true;
    const name = String.fromCharCode(65 + letter);
    const text = `${name}${block.values[letter]}`;
    this.#problems.add('number-out-of-range', block.placeOf(name), { text, limit: `${COORDINATE_LIMIT} mm` });
    return false;
  }
}
