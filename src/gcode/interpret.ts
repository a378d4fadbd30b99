import type { Place } from '../source/place.ts';
import { type Block, bit, codeName, onLine, slot } from './block.ts';
import { CYCLES, G_GROUPS, GROUP, type Group, M_GROUPS, OUTPUTS, QUIET_G, QUIET_M, SPLINES } from './codes.ts';
import { arcTo } from './curves.ts';
import type { Evidence } from './evidence.ts';
import { Labels } from './labels.ts';
import type { Moves } from './moves.ts';
import type { ProblemList } from './problems.ts';
import { type ModalState, SYSTEMS } from './state.ts';
import { type Dwell, STROKE_AIR, STROKE_SCALED, type Toolpath, type ToolpathOptions } from './toolpath.ts';

const X = slot('X');
const Y = slot('Y');
const Z = slot('Z');
const AXES = bit('X') | bit('Y') | bit('Z');
const EXTRA_AXES = ['A', 'B', 'C', 'U', 'V', 'W'];
/** Words of an ordinary move: no code but one G. */
const ORDINARY = bit('G') | AXES | bit('I') | bit('J') | bit('K') | bit('R') | bit('F') | bit('S');

/** No bed is a kilometre wide: larger coordinates are mistakes, mm. */
const COORDINATE_LIMIT = 1e6;
/** Dwells that are kept; all are counted in the time. */
const DWELLS = 10_000;
/** M codes beside which an S word is the power (or spindle speed); beside any other it belongs to that code. */
const S_IS_POWER: ReadonlySet<number> = new Set([0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 300, 480, 490]);

/** Carries out blocks in the order of RS274/NGC (NISTIR 6556, table 8) and hands the moves on. */
export class Interpreter {
  readonly state: ModalState;
  readonly labels = new Labels();
  readonly dwells: Dwell[] = [];
  readonly offsetsUsed = new Set<string>();
  offsetsPlace: Place | null = null;
  units: Toolpath['units'] = 'none-stated';
  analysed = true;
  programEnd: Toolpath['end']['programEnd'] = null;
  end: Toolpath['end'] | null = null;
  highest: Toolpath['highestSetting'] = null;
  lowest: Toolpath['lowestPoweredSetting'] = null;
  fastest: Toolpath['highestSpeed'] = null;

  readonly #options: ToolpathOptions;
  readonly #moves: Moves;
  readonly #problems: ProblemList;
  readonly #evidence: Evidence;
  readonly #byS: boolean;
  /** Setting with the beam on, 0 with it off. */
  #beam = 0;
  #lowestBeam = Number.POSITIVE_INFINITY;
  #raw = 0;
  #settingLine = 0;
  #settingStart = 0;
  #settingEnd = 0;
  /** S was given above zero while neither M3 nor M4 was on. */
  #idleS = false;
  #offX = 0;
  #offY = 0;
  #offZ = 0;
  #comment: string | null = null;
  #labelStale = true;
  #lastRise = 0;

  constructor(state: ModalState, options: ToolpathOptions, moves: Moves, problems: ProblemList, evidence: Evidence) {
    this.state = state;
    this.#options = options;
    this.#moves = moves;
    this.#problems = problems;
    this.#evidence = evidence;
    this.#byS = options.power.word === 'S';
  }

  /** A comment that stands on a line without motion holds for what follows. */
  standingComment(comment: string): void {
    if (comment !== '' && this.programEnd === null) {
      this.#comment = comment;
      this.#labelStale = true;
    }
  }

  block(block: Block): void {
    const state = this.state;
    if (this.programEnd !== null) {
      this.#evidence.note(block);
      if ((block.mask & AXES) !== 0) this.#problems.add('after-end', block.place(), { lines: 1 });
      return;
    }
    if (block.mCount > 0 || block.gCount > 1 || (block.mask & ~ORDINARY) !== 0 || state.feedMode !== 'per-minute') {
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
      state.motion = code;
    }
    if ((block.mask & FEED) !== 0) this.#feed(block);
    if ((block.mask & POWER) !== 0 && this.#byS) this.#power(block);
    if ((block.mask & (AXES | CENTRES)) !== 0) this.#move(block, state.motion, false);
  }

  /** The state that the program leaves behind. */
  finish(lastLine: number): Toolpath['end'] {
    return this.end ?? { place: onLine(lastLine, 0, 0), programEnd: null, mode: this.#modeNow(), setting: this.#beam };
  }

  #whole(block: Block): void {
    const { mask } = block;
    const state = this.state;
    this.#evidence.note(block);
    this.#conflicts(block);
    for (let i = 0; i < block.gCount; i++) this.#feedMode(block.g[i]!);
    const sIsPower = this.#sIsPower(block);
    if (mask & FEED && state.feedMode !== 'inverse-time') this.#feed(block);
    if (mask & POWER && this.#byS && sIsPower) this.#power(block);
    if (mask & bit('T')) {
      state.tool = block.values[slot('T')]!;
      this.#labelStale = true;
    }
    for (let i = 0; i < block.mCount; i++) this.#mCode(block, i);
    let motion = state.motion;
    let machineFrame = false;
    let takesAxes = '';
    let skip = false;
    let newMotion = false;
    for (let i = 0; i < block.gCount; i++) {
      const code = block.g[i]!;
      if (code === 0 || code === 10 || code === 20 || code === 30) {
        motion = code;
        newMotion = true;
      } else if (code === 530) {
        machineFrame = true;
        this.#offset('G53', block.placeOfG(i));
      } else if (code === 40) takesAxes = 'G4';
      else if (code === 100 || code === 280 || code === 300 || code === 920) takesAxes = codeName('G', code);
      else if (!this.#modal(code, block, i)) {
        skip = true;
        if (CYCLES.has(code) || SPLINES.has(code)) {
          motion = -1;
          newMotion = true;
        }
      }
    }
    if (block.gCount > 0 && !newMotion && motion === -1 && block.g.subarray(0, block.gCount).includes(800)) motion = 0;
    state.motion = motion;
    if (takesAxes === 'G4') this.#dwell(block);
    else if (takesAxes === 'G92') this.#shift(block);
    else if (takesAxes === 'G10') this.#origin(block);
    else if (takesAxes !== '') this.#home(block, takesAxes);
    else if (mask & (AXES | CENTRES) && !skip) this.#move(block, motion, machineFrame);
    if (mask & bit('A') || mask & bit('B') || mask & bit('C') || mask & bit('U') || mask & bit('V') || mask & bit('W'))
      this.#extraAxes(block);
    for (let i = 0; i < block.mCount; i++) this.#stopCode(block, i);
  }

  #lose(what: string, place: Place, text: string): void {
    this.#problems.add('not-analysed', place, { what, text, lines: 1 }, what);
    this.analysed = false;
  }

  #extraAxes(block: Block): void {
    const letter = EXTRA_AXES.find((axis) => block.mask & bit(axis))!;
    this.#lose('extra-axis', block.placeOf(letter), letter);
  }

  #sIsPower(block: Block): boolean {
    for (let i = 0; i < block.mCount; i++) if (!S_IS_POWER.has(block.m[i]!)) return false;
    for (let i = 0; i < block.gCount; i++) if (block.g[i] === 40 && !(block.mask & bit('P'))) return false;
    return true;
  }

  #conflicts(block: Block): void {
    const seen = new Map<Group, string>();
    const check = (group: Group | undefined, name: string, place: Place) => {
      if (!group) return;
      const first = seen.get(group);
      if (first !== undefined && first !== name)
        this.#problems.add('modal-conflict', place, { first, second: name, group }, `${first} ${name}`);
      seen.set(group, name);
    };
    for (let i = 0; i < block.gCount; i++) {
      const code = block.g[i]!;
      const name = codeName('G', code);
      const group = G_GROUPS.get(code);
      check(group, name, block.placeOfG(i));
      // Two codes that both want the line's X, Y and Z.
      const axes = block.mask & AXES && (group === GROUP.motion || group === GROUP.axisWords);
      if (axes && group !== GROUP.axisWords) check(GROUP.axisWords, name, block.placeOfG(i));
    }
    for (let i = 0; i < block.mCount; i++)
      check(M_GROUPS.get(block.m[i]!), codeName('M', block.m[i]!), block.placeOfM(i));
  }

  #feedMode(code: number): void {
    if (code === 930) this.state.feedMode = 'inverse-time';
    else if (code === 940) {
      // A feed given as an inverse time is no feed per minute.
      if (this.state.feedMode === 'inverse-time') this.state.feed = Number.NaN;
      this.state.feedMode = 'per-minute';
    }
  }

  /** Codes that change what is in force; false when the code is not followed. */
  #modal(code: number, block: Block, i: number): boolean {
    const state = this.state;
    const place = () => block.placeOfG(i);
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
      case 700:
        this.#setUnits(25.4, place());
        return true;
      case 210:
      case 710:
        this.#setUnits(1, place());
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
      case 921:
        state.shift.fill(0);
        state.saved.fill(0);
        break;
      case 922:
        state.saved.set(state.shift);
        state.shift.fill(0);
        break;
      case 923:
        state.shift.set(state.saved);
        break;
      case 930:
      case 940:
        return true;
      case 410:
      case 411:
      case 420:
      case 421:
        this.#problems.add(
          'not-analysed',
          place(),
          { what: 'cutter-compensation', text: codeName('G', code), lines: 1 },
          'cutter-compensation',
        );
        return true;
      case 430:
      case 431:
      case 432:
        this.#problems.add(
          'not-analysed',
          place(),
          { what: 'tool-length-offset', text: codeName('G', code), lines: 1 },
          'tool-length-offset',
        );
        return true;
      default: {
        const system =
          code >= 540 && code <= 593 ? SYSTEMS.indexOf(codeName('G', code) as (typeof SYSTEMS)[number]) : -1;
        if (system >= 0) {
          state.system = system;
          this.#refresh();
          if (system > 0) this.#offset(SYSTEMS[system]!, place());
          return true;
        }
        if (QUIET_G.has(code)) return true;
        this.#lose(
          CYCLES.has(code) ? 'canned-cycle' : SPLINES.has(code) ? 'spline' : 'unknown-code',
          place(),
          codeName('G', code),
        );
        return false;
      }
    }
    this.#refresh();
    this.#offset(codeName('G', code), place());
    return true;
  }

  #setUnits(scale: number, place: Place): void {
    const state = this.state;
    const name = (s: number) => (s === 1 ? 'mm' : 'inch');
    if (scale !== state.scale) {
      if (this.#moves.moves > 0)
        this.#problems.add('units-changed', place, { from: name(state.scale), to: name(scale) });
      state.scale = scale;
    }
    if (this.units === 'none-stated') this.units = name(scale);
  }

  #offset(name: string, place: Place): void {
    this.offsetsUsed.add(name);
    this.offsetsPlace ??= place;
  }

  #refresh(): void {
    this.#offX = this.state.offset(0);
    this.#offY = this.state.offset(1);
    this.#offZ = this.state.offset(2);
  }

  #feed(block: Block): void {
    const value = block.values[slot('F')]!;
    if (!(value > 0)) {
      this.#problems.add('zero-feed', block.placeOf('F'), { feed: value });
      this.state.feed = 0;
      return;
    }
    this.state.feed = value * this.state.scale;
  }

  #power(block: Block): void {
    const i = slot('S');
    const raw = block.values[i]!;
    this.#settingLine = block.line;
    this.#settingStart = block.starts[i]!;
    this.#settingEnd = block.ends[i]!;
    if (raw > this.#evidence.highestS) this.#evidence.highestS = raw;
    this.#setPower(raw);
    if (this.state.mode === 'off' && raw > 0) this.#idleS = true;
  }

  /** Sets the power to `raw` of the profile's scale; its place has been noted. */
  #setPower(raw: number): void {
    const full = this.#options.power.full;
    if (raw < 0) {
      this.#problems.add('negative-power', this.#settingPlace(), { value: raw });
      raw = 0;
    }
    const value = raw / full;
    this.#raw = raw;
    this.state.setting = value;
    if (value > 0 && (this.highest === null || value > this.highest.value))
      this.highest = { value, raw, place: this.#settingPlace() };
    this.#beam = this.#byS && this.state.mode === 'off' ? 0 : value;
  }

  #settingPlace(): Place {
    return onLine(this.#settingLine, this.#settingStart, this.#settingEnd);
  }

  #modeNow(): Dwell['mode'] {
    return this.#byS ? this.state.mode : this.#beam > 0 ? 'M3' : 'off';
  }

  #setMode(mode: Dwell['mode']): void {
    this.#idleS = false;
    if (mode !== this.state.mode) {
      this.#moves.stop();
      this.#moves.startsPath = true;
    }
    this.state.mode = mode;
    if (this.#byS) this.#beam = mode === 'off' ? 0 : this.state.setting;
    this.#setFlags();
  }

  #setFlags(): void {
    const scaled = this.#byS && this.state.mode === 'M4' && this.#options.m4 === 'scaled-with-speed';
    this.#moves.flags = (scaled ? STROKE_SCALED : 0) | (this.state.air || this.state.mist ? STROKE_AIR : 0);
  }

  #setAir(air: boolean, mist: boolean): void {
    const before = this.state.air || this.state.mist;
    this.state.air = air;
    this.state.mist = mist;
    if (!before && (air || mist)) {
      this.#moves.stop();
      this.#moves.wait(this.#options.airDelayS);
    }
    this.#setFlags();
  }

  #mCode(block: Block, i: number): void {
    const code = block.m[i]!;
    const word = this.#options.power.word;
    const notePlace = (letter: string) => {
      const given = (block.mask & bit(letter)) !== 0;
      this.#settingLine = block.line;
      this.#settingStart = given ? block.starts[slot(letter)]! : block.mStarts[i]!;
      this.#settingEnd = given ? block.ends[slot(letter)]! : block.mEnds[i]!;
      return given;
    };
    if (code === 30 || code === 40) this.#setMode(code === 30 ? 'M3' : 'M4');
    else if (code === 50) this.#setMode('off');
    else if (code === 70) this.#setAir(this.state.air, true);
    else if (code === 80) this.#setAir(true, this.state.mist);
    else if (code === 90) this.#setAir(false, false);
    else if (code === 1060 && word === 'M106')
      this.#setPower(notePlace('S') ? block.values[slot('S')]! : this.#options.power.full);
    else if (code === 1070 && word === 'M106') this.#setPower(0);
    else if (code === 670 || code === 680) {
      if (word !== 'analog') this.#lose('output', block.placeOfM(i), codeName('M', code));
      else this.#setPower(notePlace('Q') ? block.values[slot('Q')]! : 0);
    } else if (OUTPUTS.has(code)) this.#lose('output', block.placeOfM(i), codeName('M', code));
    else if (code === 980 || code === 990) this.#lose('subprogram', block.placeOfM(i), codeName('M', code));
    else if (!QUIET_M.has(code)) {
      this.#problems.add(
        'not-analysed',
        block.placeOfM(i),
        { what: 'unknown-code', text: codeName('M', code), lines: 1 },
        `M ${code}`,
      );
    }
  }

  #stopCode(block: Block, i: number): void {
    const code = block.m[i]!;
    if (code === 0 || code === 10) {
      this.#moves.stop();
      this.#keepDwell(block.placeOfM(i), 0, true);
    } else if (code === 20 || code === 300) {
      this.programEnd = code === 20 ? 'M2' : 'M30';
      this.end = { place: block.placeOfM(i), programEnd: this.programEnd, mode: this.#modeNow(), setting: this.#beam };
      this.#moves.stop();
      this.state.endProgram();
      this.#refresh();
      this.#beam = 0;
      this.#setFlags();
    }
  }

  #keepDwell(place: Place, seconds: number, pause: boolean): void {
    if (this.dwells.length >= DWELLS) return;
    this.dwells.push({
      place,
      seconds,
      pause,
      setting: this.#beam,
      mode: this.#modeNow(),
      x: this.#moves.x,
      y: this.#moves.y,
    });
  }

  #dwell(block: Block): void {
    this.#moves.stop();
    // RS274 has P in seconds; other dialects give seconds by X, U or S.
    const letter = ['P', 'X', 'U', 'S'].find((l) => block.mask & bit(l));
    const seconds = letter ? block.values[slot(letter)]! : 0;
    if (!(seconds > 0)) return;
    this.#moves.wait(seconds);
    this.#keepDwell(block.place(), seconds, false);
  }

  #shift(block: Block): void {
    const { state } = this;
    [X, Y, Z].forEach((letter, axis) => {
      if (!(block.mask & (1 << letter)) || !this.#inRange(block, letter)) return;
      const here = axis === 0 ? this.#moves.x : axis === 1 ? this.#moves.y : this.#moves.z;
      state.shift[axis] = here - state.origins[3 * state.system + axis]! - block.values[letter]! * state.scale;
    });
    state.saved.set(state.shift);
    this.#refresh();
    this.#offset('G92', block.place());
  }

  #origin(block: Block): void {
    const { state } = this;
    const how = block.mask & bit('L') ? block.values[slot('L')] : Number.NaN;
    const which = block.mask & bit('P') ? block.values[slot('P')]! : 0;
    const turned = block.mask & bit('R') && block.values[slot('R')] !== 0;
    if ((how !== 2 && how !== 20) || !Number.isInteger(which) || which < 0 || which > SYSTEMS.length || turned) {
      this.#lose('unknown-code', block.place(), 'G10');
      return;
    }
    const system = which === 0 ? state.system : which - 1;
    [X, Y, Z].forEach((letter, axis) => {
      if (!(block.mask & (1 << letter)) || !this.#inRange(block, letter)) return;
      const here = axis === 0 ? this.#moves.x : axis === 1 ? this.#moves.y : this.#moves.z;
      const value = block.values[letter]! * state.scale;
      state.origins[3 * system + axis] = how === 2 ? value : here - state.shift[axis]! - value;
    });
    this.#refresh();
    this.#offset('G10', block.place());
  }

  /** By way of the given point (where one is given) to the machine's own zero. */
  #home(block: Block, name: string): void {
    this.#offset(name, block.place());
    const moves = this.#moves;
    const given = [X, Y, Z].filter((letter) => block.mask & (1 << letter));
    if (given.some((letter) => !Number.isNaN(block.values[letter]!))) this.#move(block, 0, false);
    moves.toX = given.length === 0 || given.includes(X) ? 0 : moves.x;
    moves.toY = given.length === 0 || given.includes(Y) ? 0 : moves.y;
    moves.toZ = given.length === 0 || given.includes(Z) ? 0 : moves.z;
    this.#rapid(block.line);
    moves.stop();
  }

  #inRange(block: Block, letter: number): boolean {
    const value = block.values[letter]! * this.state.scale;
    if (value <= COORDINATE_LIMIT && value >= -COORDINATE_LIMIT) return true;
    const name = String.fromCharCode(65 + letter);
    this.#problems.add('number-out-of-range', block.placeOf(name), {
      text: `${name}${block.values[letter]}`,
      limit: `${COORDINATE_LIMIT} mm`,
    });
    this.analysed = false;
    return false;
  }

  #rapid(line: number): void {
    const hot = this.#beam > 0;
    if (hot && this.#beam > this.#moves.hotRapids.setting) this.#moves.hotRapids.setting = this.#beam;
    this.#moves.line(line, true, hot);
  }

  #move(block: Block, motion: number, machineFrame: boolean): void {
    const moves = this.#moves;
    const state = this.state;
    const { mask, values } = block;
    const scale = state.scale;
    const absolute = state.absolute || machineFrame;
    let x = moves.x;
    let y = moves.y;
    let z = moves.z;
    if (mask & X_BIT) {
      const v = values[X]! * scale;
      if (!Number.isNaN(v)) x = absolute ? v + (machineFrame ? 0 : this.#offX) : x + v;
    }
    if (mask & Y_BIT) {
      const v = values[Y]! * scale;
      if (!Number.isNaN(v)) y = absolute ? v + (machineFrame ? 0 : this.#offY) : y + v;
    }
    if (mask & Z_BIT) {
      const v = values[Z]! * scale;
      if (!Number.isNaN(v)) {
        const to = absolute ? v + (machineFrame ? 0 : this.#offZ) : z + v;
        if (this.#beam === 0 && to !== z && Math.sign(to - z) !== this.#lastRise) {
          this.#lastRise = Math.sign(to - z);
          this.#evidence.penMoves++;
        }
        z = to;
      }
    }
    const far = Math.abs(x) + Math.abs(y) + Math.abs(z);
    if (!(far <= COORDINATE_LIMIT)) {
      this.#problems.add('number-out-of-range', block.place(), {
        text: `X${x} Y${y} Z${z}`,
        limit: `${COORDINATE_LIMIT} mm`,
      });
      this.analysed = false;
      return;
    }
    moves.toX = x;
    moves.toY = y;
    moves.toZ = z;
    if (motion === 0) {
      if (mask & AXES) this.#rapid(block.line);
      return;
    }
    if (motion < 0) {
      // A cycle or spline goes on: where it leaves the head is all that is known.
      this.#lose('canned-cycle', block.place(), 'a line of the cycle or curve before it');
      moves.stop();
      moves.x = x;
      moves.y = y;
      return;
    }
    if (motion === 10 && !(mask & AXES)) return;
    this.#feedMove(block, motion);
  }

  #feedMove(block: Block, motion: number): void {
    const moves = this.#moves;
    const state = this.state;
    moves.setting = this.#beam;
    if (this.#idleS && this.#byS) this.#powerWithoutBeam(block);
    if (state.feedMode === 'per-minute') {
      moves.speedMmPerS = state.feed > 0 ? state.feed / 60 : Number.NaN;
      if (Number.isNaN(state.feed)) this.#problems.add('missing-feed', block.place(), {});
      else if (this.fastest === null || moves.speedMmPerS > this.fastest.mmPerS) this.#noteFastest(block);
    }
    if (this.#beam > 0) {
      if (this.#labelStale || block.comment !== null) this.#relabel(block);
      if (this.#beam < this.#lowestBeam) {
        this.#lowestBeam = this.#beam;
        this.lowest = { value: this.#beam, raw: this.#raw, place: this.#settingPlace() };
      }
    }
    if (motion === 10) {
      if (state.feedMode !== 'per-minute')
        this.#inverseTime(block, Math.hypot(moves.toX - moves.x, moves.toY - moves.y, moves.toZ - moves.z));
      moves.line(block.line, false, false);
      return;
    }
    const lost = arcTo(block, motion === 20, state, moves, this.#problems, this.#options, (length) => {
      if (state.feedMode !== 'per-minute') this.#inverseTime(block, length);
    });
    if (lost) this.analysed = false;
  }

  /** G93: F is one over the minutes of this move. */
  #inverseTime(block: Block, lengthMm: number): void {
    const moves = this.#moves;
    moves.speedMmPerS = Number.NaN;
    const f = block.mask & FEED ? block.values[slot('F')]! : Number.NaN;
    if (f > 0) moves.speedMmPerS = (lengthMm * f) / 60;
    else if (block.mask & FEED) this.#problems.add('zero-feed', block.placeOf('F'), { feed: f });
    else this.#problems.add('missing-feed', block.place(), {}, 'G93');
    if (moves.speedMmPerS > 0 && (this.fastest === null || moves.speedMmPerS > this.fastest.mmPerS))
      this.#noteFastest(block);
  }

  #noteFastest(block: Block): void {
    if (!(this.#moves.speedMmPerS > 0)) return;
    this.fastest = { mmPerS: this.#moves.speedMmPerS, place: block.mask & FEED ? block.placeOf('F') : block.place() };
  }

  #powerWithoutBeam(block: Block): void {
    if (this.state.setting > 0) {
      const place = block.mask & POWER ? block.placeOf('S') : this.#settingPlace();
      this.#problems.add('power-without-beam', place, { value: this.#raw });
    }
    this.#idleS = false;
  }

  #relabel(block: Block): void {
    const own = block.comment !== null && block.comment !== '';
    this.#moves.label = this.labels.indexOf(own ? block.comment : this.#comment, this.state.tool, block.line);
    this.#labelStale = own;
  }
}

const FEED = bit('F');
const POWER = bit('S');
const CENTRES = bit('I') | bit('J') | bit('K') | bit('R');
const X_BIT = bit('X');
const Y_BIT = bit('Y');
const Z_BIT = bit('Z');
