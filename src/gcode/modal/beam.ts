import type { Moves } from '../../model/motion/moves.ts';
import type { ToolpathOptions } from '../../model/reader.ts';
import { STROKE_AIR, STROKE_SCALED } from '../../model/strokes.ts';
import type { BeamCommand, Toolpath } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, codeName, onLine, slot } from '../text/block.ts';
import type { BeamAtEnd } from './after-end.ts';
import { BeamWords } from './beam-words.ts';
import type { Evidence } from './evidence.ts';
import type { ModalState } from './state.ts';

/** M codes beside which an S word is the power (or spindle speed); beside any other it belongs to that code. */
const S_IS_POWER: ReadonlySet<number> = new Set([0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 300, 480, 490]);

const S = slot('S');

/** M codes for a beam in any dialect (tenfold), with the letter of the number that they give; '' for those without. */
const VALUE_LETTERS: ReadonlyMap<number, string> = new Map([
  [30, ''],
  [40, ''],
  [620, ''],
  [640, ''],
  [670, 'Q'],
  [680, 'Q'],
  [1060, 'S'],
]);

/** Is the S of this line a power (or a spindle's speed), and not an argument of another code? */
function isPower(block: Block): boolean {
  for (let i = 0; i < block.mCount; i++) if (!S_IS_POWER.has(block.m[i]!)) return false;
  for (let i = 0; i < block.gCount; i++) if (block.g[i] === 40 && !(block.mask & bit('P'))) return false;
  return true;
}

/** Power and air as the program commands them, by the words that the profile declares. */
export class BeamState {
  /** Setting with the beam on, 0 with it off; a fraction of full. */
  value = 0;
  highest: Toolpath['highestSetting'] = null;
  lowest: Toolpath['lowestPoweredSetting'] = null;
  /** The S word carries the power. */
  readonly byS: boolean;
  readonly words = new BeamWords();
  readonly #state: ModalState;
  readonly #options: ToolpathOptions;
  readonly #moves: Moves;
  readonly #problems: ProblemList;
  readonly #evidence: Evidence;
  /** The number that means full power, and whether M4 scales it: the profile's, until the program sets its own. */
  #full: number;
  #m4: ToolpathOptions['m4'];
  /** Below 0: no S was seen yet. */
  #highest = -1;
  #lowest = Number.POSITIVE_INFINITY;
  #raw = 0;
  /** Where the setting in force was given. */
  #line = 0;
  #start = 0;
  #end = 0;
  /** S was given above zero while neither M3 nor M4 was on. */
  #idleS = false;

  constructor(state: ModalState, options: ToolpathOptions, moves: Moves, problems: ProblemList, evidence: Evidence) {
    this.#state = state;
    this.#options = options;
    this.#moves = moves;
    this.#problems = problems;
    this.#evidence = evidence;
    this.#full = options.power.full;
    this.#m4 = options.m4;
    this.byS = options.power.word === 'S';
  }

  /** Is the S of this line the power that the profile goes by? */
  ownsS(block: Block): boolean {
    return this.byS && isPower(block);
  }

  /** The number that was last given for the power; 0 before the first. */
  get raw(): number {
    return this.#raw;
  }

  sWord(block: Block): void {
    const raw = block.values[S]!;
    const value = raw / this.#full;
    // Nothing new: no record either way, nothing to report.
    if (value <= this.#highest && (value >= this.#lowest || value === 0) && this.#state.mode !== 'off') {
      this.#raw = raw;
      this.value = value;
      return;
    }
    this.#moves.fastPath = false;
    const place = block.placeOf('S');
    this.#line = block.line;
    this.#start = place.column - 1;
    this.#end = place.endColumn - 1;
    if (raw > this.#evidence.highestS) this.#evidence.highestS = raw;
    this.words.saw('S', raw, place);
    this.#set(raw);
    if (raw > 0 && this.#state.mode === 'off') this.#idleS = true;
  }

  /** An S that is no power by the profile. */
  foreignS(block: Block): void {
    if (isPower(block)) this.words.saw('S', block.values[S]!, block.placeOf('S'));
  }

  /** The program sets the number that means full power, at `place`. */
  setFull(full: number, place: Place, text: string): void {
    if (full !== this.#options.power.full) this.#problems.add('other-scale', place, { text, what: 'full', set: full });
    this.#full = full;
    this.#moves.fastPath = false;
    if (this.value > 0) this.value = this.#raw / full;
  }

  /** The program sets whether M4 scales the power with the speed, at `place`. */
  setScaling(m4: ToolpathOptions['m4'], place: Place, text: string): void {
    if (m4 !== this.#options.m4) this.#problems.add('other-scale', place, { text, what: 'm4', set: m4 });
    this.#m4 = m4;
    this.#setFlags();
  }

  /** Does this line set an output (tenfold code) to nothing? */
  setsToZero(block: Block, code: number): boolean {
    const letter = VALUE_LETTERS.get(code) ?? '';
    return letter !== '' && (block.mask & bit(letter)) !== 0 && block.values[slot(letter)] === 0;
  }

  /** Notes the words for a beam on a line that has M codes. */
  note(block: Block): void {
    for (let i = 0; i < block.mCount; i++) {
      const code = block.m[i]!;
      const letter = VALUE_LETTERS.get(code);
      if (letter === undefined) continue;
      const given = letter !== '' && (block.mask & bit(letter)) !== 0;
      this.words.saw(codeName('M', code), given ? block.values[slot(letter)]! : null, block.placeOfM(i));
    }
  }

  /** M3 … M9, fan and analog words; false when the code is none of them. */
  mCode(block: Block, i: number): boolean {
    const word = this.#options.power.word;
    switch (block.m[i]) {
      case 30:
        this.#setMode('M3');
        return true;
      case 40:
        this.#setMode('M4');
        return true;
      case 50:
        this.#setMode('off');
        return true;
      case 70:
        this.#setAir(this.#state.air, true);
        return true;
      case 80:
        this.#setAir(true, this.#state.mist);
        return true;
      case 90:
        this.#setAir(false, false);
        return true;
      case 1060:
        if (word === 'M106') this.#set(this.#notePlace(block, i, 'S') ? block.values[S]! : this.#full);
        return word === 'M106';
      case 1070:
        if (word === 'M106') this.#set(0);
        return word === 'M106';
      case 670:
      case 680:
        if (word === 'analog') this.#set(this.#notePlace(block, i, 'Q') ? block.values[slot('Q')]! : 0);
        return word === 'analog';
      default:
        return false;
    }
  }

  /** How the beam is commanded. Fan and analog words know only on and off. */
  command(): BeamCommand {
    const word = this.byS ? this.#state.mode : this.value > 0 ? 'M3' : 'off';
    return { mode: word === 'off' ? 'off' : word === 'M4' ? 'on-in-motion' : 'on', word };
  }

  /** A move at the feed is about to be made. */
  beforeFeedMove(block: Block): void {
    if (this.#idleS) {
      this.#idleS = false;
      if (this.#raw > 0) {
        const place = block.mask & bit('S') ? block.placeOf('S') : this.#place();
        this.#problems.add('power-without-beam', place, { value: this.#raw });
      }
    }
    if (this.value > 0 && this.value < this.#lowest) {
      this.#lowest = this.value;
      this.lowest = { value: this.value, raw: this.#raw, place: this.#place() };
    }
  }

  /** What is in force for lines that stand behind the program's end. A fan or an analog output stays as it was set. */
  atEnd(): BeamAtEnd {
    return { on: !this.byS || this.#state.mode !== 'off', raw: this.#raw };
  }

  /** The program is over. */
  endProgram(): void {
    this.value = 0;
    this.#setFlags();
  }

  #place(): Place {
    return onLine(this.#line, this.#start, this.#end);
  }

  #notePlace(block: Block, i: number, letter: string): boolean {
    const given = (block.mask & bit(letter)) !== 0;
    this.#line = block.line;
    const place = given ? block.placeOf(letter) : block.placeOfM(i);
    this.#start = place.column - 1;
    this.#end = place.endColumn - 1;
    return given;
  }

  /** Sets the power to `raw` of the profile's scale; its place has been noted. */
  #set(raw: number): void {
    let given = raw;
    if (raw < 0) {
      this.#problems.add('negative-power', this.#place(), { value: raw });
      given = 0;
    }
    const value = given / this.#full;
    this.#raw = given;
    if (value > this.#highest) {
      this.#highest = value;
      if (value > 0) this.highest = { value, raw: given, place: this.#place() };
    }
    this.value = this.byS && this.#state.mode === 'off' ? 0 : value;
  }

  #setMode(mode: ModalState['mode']): void {
    this.#idleS = false;
    // A controller runs its queue empty before it switches the beam.
    if (mode !== this.#state.mode) {
      this.#moves.stop();
      this.#moves.startsPath = true;
    }
    this.#state.mode = mode;
    if (this.byS) this.value = mode === 'off' ? 0 : this.#raw / this.#full;
    this.#setFlags();
  }

  #setAir(air: boolean, mist: boolean): void {
    const before = this.#state.air || this.#state.mist;
    this.#state.air = air;
    this.#state.mist = mist;
    if (!before && (air || mist)) {
      this.#moves.stop();
      this.#moves.wait(this.#options.airDelayS);
    }
    this.#setFlags();
  }

  #setFlags(): void {
    this.#moves.fastPath = false;
    const scaled = this.byS && this.#state.mode === 'M4' && this.#m4 === 'scaled-with-speed';
    this.#moves.flags = (scaled ? STROKE_SCALED : 0) | (this.#state.air || this.#state.mist ? STROKE_AIR : 0);
  }
}
