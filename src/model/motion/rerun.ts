import { type MotionLimits, MotionPlanner, WINDOW } from '../../geometry/motion/planner.ts';
import { lengthOfStrokeMm, STROKE_STARTS_PATH, StrokeStore, type Strokes } from '../strokes.ts';
import type { Toolpath, ToolpathTime } from '../toolpath.ts';
import type { HeadLimits } from './head-limits.ts';
import type { MotionJournal } from './motion-journal.ts';
import { bookStrokes } from './stroke-times.ts';
import { CUT, TRAVEL } from './time-ledger.ts';

/** Ends of a line nearer than this are one place, mm: the head goes on without a way back. */
const CLOSED_MM = 0.05;

/** Strokes in a row, from `first` up to `until` (exclusive), that are run so often one after the other; 0: not at all. */
export interface StrokeRun {
  readonly first: number;
  readonly until: number;
  readonly times: number;
}

/** How the strokes of a program are to be run instead. */
export interface OtherMotion {
  /** Those that are run another number of times than once: ascending, apart. */
  readonly runs: readonly StrokeRun[];
  /** Setting (a fraction of full) and programmed speed, mm/s, of each stroke. */
  readonly setting: Float64Array;
  readonly speedMmPerS: Float64Array;
  /** Z of a stroke when it is run for the first, second, … time, mm; null: as it is. */
  zMm(stroke: number, again: number): number | null;
}

/** A program as it would be read with other motion. */
export interface Rerun {
  readonly strokes: Strokes;
  /** Of each old stroke the first that came of it, and how far its copies are apart; the number of times is that of its run. */
  readonly firstOf: Uint32Array;
  readonly times: Uint8Array;
  readonly apart: Uint32Array;
  readonly time: ToolpathTime;
  readonly timeByLabelS: number[];
  readonly cutLengthMm: number;
  readonly travelLengthMm: number;
  readonly moves: number;
}

/**
 * Plans the motion of a program anew. Where strokes in a row are run again, the head goes straight back to where they begin, and at once
 * where they end there; where they are left out, it goes straight to their end and not by way of their start. Times of raster areas stay but for how the head comes
 * and goes. Strokes of other speeds that would then lie in a row like a raster stay strokes.
 */
export function rerun(toolpath: Toolpath, journal: MotionJournal, limits: HeadLimits, other: OtherMotion): Rerun {
  return new Replay(toolpath, journal, limits, other).play();
}

/** A part of a segment whose strokes have one speed and belong to one run. */
interface Piece {
  readonly segment: number;
  readonly first: number;
  readonly until: number;
  readonly lengthMm: number;
  readonly nominalMmPerS: number;
  /** Null: run once. */
  readonly run: StrokeRun | null;
}

class Replay {
  readonly #toolpath: Toolpath;
  readonly #journal: MotionJournal;
  readonly #other: OtherMotion;
  readonly #limits: HeadLimits;
  readonly #motion: MotionLimits;
  readonly #planner: MotionPlanner;
  readonly #store = new StrokeStore();
  readonly #time: ToolpathTime;
  readonly #timeByLabelS: number[] = [];
  readonly #kinds = new Int32Array(WINDOW);
  readonly #firsts = new Uint32Array(WINDOW);
  readonly #counts = new Uint32Array(WINDOW);
  readonly #firstOf: Uint32Array;
  readonly #times: Uint8Array;
  readonly #apart: Uint32Array;
  #run = 0;
  /** Pieces of the run that is not whole yet. */
  #open: Piece[] = [];
  /** What lies between the last stroke and the next: ways without power, and rests with the acceleration after them. */
  #ways: ({ readonly segment: number } | { readonly restAt: number })[] = [];
  /** Where the head is, when that is not the end of the last stroke. */
  #elsewhere: readonly [xMm: number, yMm: number] | null = null;
  #travelLengthMm: number;
  #moves: number;

  constructor(toolpath: Toolpath, journal: MotionJournal, limits: HeadLimits, other: OtherMotion) {
    this.#toolpath = toolpath;
    this.#journal = journal;
    this.#limits = limits;
    this.#other = other;
    const { accelerationMmPerS2, cornerDeviationMm } = limits;
    this.#motion = { accelerationMmPerS2, cornerDeviationMm };
    this.#time = { ...toolpath.time, totalS: 0, cuttingS: 0, rasterS: 0, travelS: 0 };
    this.#firstOf = new Uint32Array(toolpath.strokes.count);
    this.#times = new Uint8Array(toolpath.strokes.count);
    this.#apart = new Uint32Array(toolpath.strokes.count);
    this.#travelLengthMm = toolpath.travelLengthMm;
    this.#moves = toolpath.moves;
    this.#planner = new MotionPlanner(this.#motion, (slot, entry, peak, exit, time) =>
      this.#settle(slot, entry, peak, exit, time),
    );
  }

  play(): Rerun {
    const { count, kind } = this.#journal;
    let rest = 0;
    for (let s = 0; s < count; s++) {
      if (this.#journal.rests[rest] === s) this.#restsBefore(rest++);
      if (kind[s] === CUT) {
        this.#cut(s);
        continue;
      }
      this.#close();
      this.#ways.push({ segment: s });
      if (kind[s] !== TRAVEL) this.#goWays();
    }
    this.#close();
    this.#goWays();
    this.#planner.stop();
    return this.#done();
  }

  #restsBefore(rest: number): void {
    this.#close();
    const restAt = this.#journal.accelerationsMmPerS2[rest]!;
    this.#ways.push({ restAt });
    // What comes before is settled by the acceleration that it has.
    if (restAt !== this.#motion.accelerationMmPerS2) this.#goWays();
  }

  #cut(segment: number): void {
    for (const piece of this.#pieces(segment)) {
      if (this.#open[0] && this.#open[0].run !== piece.run) this.#close();
      this.#open.push(piece);
      // What is run once waits for nothing.
      if (piece.run === null) this.#close();
    }
  }

  /** The run that is open is whole. */
  #close(): void {
    const pieces = this.#open;
    this.#open = [];
    this.#emitRun(pieces);
  }

  /** The head goes where it went between two strokes. */
  #goWays(): void {
    for (const way of this.#ways) {
      if ('restAt' in way) this.#rest(way.restAt);
      else {
        const { kind, lengthMm, nominalMmPerS } = this.#journal;
        this.#push(way.segment, kind[way.segment]!, lengthMm[way.segment]!, nominalMmPerS[way.segment]!, 0, 0);
      }
    }
    this.#ways = [];
  }

  /** Strokes are left out, and with them the way to where they begin: the head goes straight to where they end. */
  #leaveOut(xMm: number, yMm: number): void {
    const last = this.#store.count - 1;
    if (last < 0 || this.#ways.some((way) => 'segment' in way && this.#journal.kind[way.segment] !== TRAVEL)) {
      this.#goWays();
      return;
    }
    const rest = this.#ways.findLast((way) => 'restAt' in way);
    for (const way of this.#ways) {
      if (!('segment' in way)) continue;
      this.#travelLengthMm -= this.#journal.lengthMm[way.segment]!;
      this.#moves--;
    }
    this.#ways = [];
    const [x, y] = this.#elsewhere ?? [this.#store.endX[last]!, this.#store.endY[last]!];
    this.#straightTo(xMm - x, yMm - y);
    if (rest && 'restAt' in rest) this.#rest(rest.restAt);
    this.#elsewhere = [xMm, yMm];
  }

  #rest(accelerationMmPerS2: number): void {
    this.#planner.stop();
    this.#motion.accelerationMmPerS2 = accelerationMmPerS2;
  }

  #done(): Rerun {
    const time = this.#time;
    time.totalS = time.cuttingS + time.rasterS + time.travelS + time.dwellS;
    let cutLengthMm = 0;
    for (let i = 0; i < this.#store.count; i++) cutLengthMm += lengthOfStrokeMm(this.#store, i);
    return {
      strokes: this.#store.finish(),
      firstOf: this.#firstOf,
      times: this.#times,
      apart: this.#apart,
      time,
      timeByLabelS: this.#toolpath.labels.map((_, i) => this.#timeByLabelS[i] ?? 0),
      cutLengthMm,
      travelLengthMm: this.#travelLengthMm,
      moves: this.#moves,
    };
  }

  /** The run that a stroke belongs to; null where it is run once. To be asked in rising order. */
  #runAt(stroke: number): StrokeRun | null {
    const { runs } = this.#other;
    while (this.#run < runs.length && runs[this.#run]!.until <= stroke) this.#run++;
    const run = runs[this.#run];
    return run && run.first <= stroke ? run : null;
  }

  /** The strokes of a segment, parted where the speed or the run changes. */
  *#pieces(segment: number): Iterable<Piece> {
    const first = this.#journal.firstStroke[segment]!;
    const until = first + this.#journal.strokes[segment]!;
    let from = first;
    while (from < until) {
      const nominalMmPerS = this.#nominalOf(segment, from);
      const run = this.#runAt(from);
      const end = Math.min(until, run ? run.until : (this.#other.runs[this.#run]?.first ?? until));
      let to = from + 1;
      while (to < end && this.#nominalOf(segment, to) === nominalMmPerS) to++;
      const whole = from === first && to === until;
      const lengthMm = whole ? this.#journal.lengthMm[segment]! : this.#lengthOf(from, to);
      yield { segment, first: from, until: to, lengthMm, nominalMmPerS, run };
      from = to;
    }
  }

  /** The speed that a stroke may have where no corner slows it, mm/s. */
  #nominalOf(segment: number, stroke: number): number {
    const { strokes } = this.#toolpath;
    const speed = this.#other.speedMmPerS[stroke]!;
    if (Object.is(speed, strokes.speedMmPerS[stroke])) return this.#journal.nominalMmPerS[segment]!;
    const within = speed > 0 && speed < this.#limits.speedMmPerS ? speed : this.#limits.speedMmPerS;
    if (strokes.sweepRad[stroke] === 0) return within;
    const radius = Math.hypot(
      strokes.startX[stroke]! - strokes.centreX[stroke]!,
      strokes.startY[stroke]! - strokes.centreY[stroke]!,
    );
    return Math.min(within, Math.sqrt(this.#motion.accelerationMmPerS2 * radius));
  }

  #lengthOf(from: number, to: number): number {
    let lengthMm = 0;
    for (let i = from; i < to; i++) lengthMm += lengthOfStrokeMm(this.#toolpath.strokes, i);
    return lengthMm;
  }

  /** Pieces that belong together, as often as their run says. */
  #emitRun(pieces: readonly Piece[]): void {
    const [head] = pieces;
    if (!head) return;
    const { first } = head;
    const times = head.run?.times ?? 1;
    const until = pieces.at(-1)!.until;
    const { strokes } = this.#toolpath;
    const end = [strokes.endX[until - 1]!, strokes.endY[until - 1]!] as const;
    const backX = strokes.startX[first]! - end[0];
    const backY = strokes.startY[first]! - end[1];
    const closed = Math.hypot(backX, backY) <= CLOSED_MM;
    this.#times.fill(times, first, until);
    this.#apart.fill(until - first, first, until);
    for (let i = first; i < until; i++) this.#firstOf[i] = this.#store.count + (i - first);
    this.#moves += (times - 1) * (until - first);
    if (times === 0) {
      this.#leaveOut(...end);
      return;
    }
    this.#goWays();
    this.#elsewhere = null;
    for (let again = 0; again < times; again++) {
      if (again > 0 && !closed) this.#straightTo(backX, backY);
      for (const { segment, first: from, until: to, lengthMm, nominalMmPerS } of pieces) {
        const at = this.#store.count;
        for (let i = from; i < to; i++) this.#copy(i, again, again > 0 && closed && i === first);
        this.#push(segment, CUT, lengthMm, nominalMmPerS, at, to - from);
      }
    }
  }

  /** A rapid by so much; none where that is nothing. */
  #straightTo(byX: number, byY: number): void {
    const lengthMm = Math.hypot(byX, byY);
    if (lengthMm <= CLOSED_MM) return;
    this.#moves++;
    this.#travelLengthMm += lengthMm;
    const [x, y] = [byX / lengthMm, byY / lengthMm];
    const slot = this.#planner.push(lengthMm, this.#limits.rapidMmPerS, x, y, 0, x, y, 0);
    this.#kinds[slot] = TRAVEL;
  }

  #push(segment: number, kind: number, lengthMm: number, nominalMmPerS: number, first: number, count: number): void {
    const [inX = 0, inY = 0, inZ = 0, outX = 0, outY = 0, outZ = 0] = this.#journal.directions.subarray(
      6 * segment,
      6 * segment + 6,
    );
    const slot = this.#planner.push(lengthMm, nominalMmPerS, inX, inY, inZ, outX, outY, outZ);
    this.#kinds[slot] = kind;
    this.#firsts[slot] = first;
    this.#counts[slot] = count;
  }

  /** Appends a copy of a stroke. */
  #copy(stroke: number, again: number, goesOn: boolean): void {
    const to = this.#store;
    if (!to.room()) return;
    const from = this.#toolpath.strokes;
    const i = to.count++;
    for (const key of KEPT) to[key][i] = from[key][stroke]!;
    const zMm = this.#other.zMm(stroke, again);
    if (zMm !== null) {
      to.startZ[i] = zMm;
      to.endZ[i] = zMm;
    }
    to.setting[i] = this.#other.setting[stroke]!;
    to.speedMmPerS[i] = this.#other.speedMmPerS[stroke]!;
    to.flags[i] = goesOn ? from.flags[stroke]! & ~STROKE_STARTS_PATH : from.flags[stroke]!;
  }

  #settle(slot: number, entry: number, peak: number, exit: number, time: number): void {
    const kind = this.#kinds[slot]!;
    if (kind === TRAVEL) this.#time.travelS += time;
    else if (kind !== CUT) this.#time.rasterS += time;
    else {
      this.#time.cuttingS += time;
      const s = this.#store;
      const length = this.#planner.lengthOf(slot);
      const a = this.#motion.accelerationMmPerS2;
      const [first, count] = [this.#firsts[slot]!, this.#counts[slot]!];
      bookStrokes(s, this.#timeByLabelS, first, count, length, a, entry, peak, exit, time);
    }
  }
}

/** What a copy of a stroke has of it, but for setting, speed, Z, flags and the times that are planned. */
const KEPT = [
  'startX',
  'startY',
  'startZ',
  'endX',
  'endY',
  'endZ',
  'centreX',
  'centreY',
  'sweepRad',
  'line',
  'label',
] as const;
