import { timeAtS } from '../../geometry/motion/motion.ts';
import { MotionPlanner, WINDOW } from '../../geometry/motion/planner.ts';
import { lengthOfStrokeMm, STROKE_SCALED, type StrokeStore } from '../strokes.ts';
import type { ToolpathTime } from '../toolpath.ts';
import type { HeadLimits } from './head-limits.ts';
import type { MotionJournal } from './motion-journal.ts';
import type { RasterFinder } from './raster.ts';
import { bookStrokes } from './stroke-times.ts';

/** What a segment is booked on; 0 and above: a raster area. */
export const TRAVEL = -1;
export const CUT = -2;

/** A stretch that goes to the planner as one: moves of one kind in one direction at one speed. Reused. */
export class Segment {
  lengthMm = 0;
  nominalMmPerS = 0;
  kind = TRAVEL;
  /** Strokes in it. */
  firstStroke = 0;
  strokes = 0;
  /** Of a raster line: where power begins (−1: nowhere) and ends, the settings there, and the line. */
  poweredFrom = -1;
  fromSetting = 0;
  poweredTo = 0;
  toSetting = 0;
  line = 0;
  /** A raster line, and not the way to the next. */
  scan = false;

  begin(kind: number, nominalMmPerS: number): void {
    this.lengthMm = 0;
    this.kind = kind;
    this.nominalMmPerS = nominalMmPerS;
    this.strokes = 0;
    this.poweredFrom = -1;
    this.scan = false;
  }
}

/** Books the time of each planned segment where it belongs: strokes and their labels, raster areas, travel. */
export class TimeLedger {
  readonly time: ToolpathTime = { totalS: 0, cuttingS: 0, rasterS: 0, travelS: 0, dwellS: 0 };
  readonly timeByLabelS: number[] = [];
  /** Travel booked since the candidate for a raster began, s. */
  candidateTravelS = 0;
  readonly #limits: HeadLimits;
  readonly #strokes: StrokeStore;
  readonly #raster: RasterFinder;
  readonly #planner: MotionPlanner;
  readonly #journal: MotionJournal | null;
  /** Notes on the segments that the planner holds, by its slot. */
  readonly #kinds = new Int32Array(WINDOW);
  readonly #firsts = new Uint32Array(WINDOW);
  readonly #counts = new Uint32Array(WINDOW);
  readonly #scans = new Uint8Array(WINDOW);
  readonly #powered = new Float64Array(WINDOW * 4);
  readonly #lines = new Uint32Array(WINDOW);
  #settled = 0;

  constructor(limits: HeadLimits, strokes: StrokeStore, raster: RasterFinder, journal: MotionJournal | null) {
    this.#journal = journal;
    this.#limits = limits;
    this.#strokes = strokes;
    this.#raster = raster;
    this.#planner = new MotionPlanner(limits, (slot, entry, peak, exit, time) =>
      this.#settle(slot, entry, peak, exit, time),
    );
  }

  /** Segments pushed so far. */
  get segments(): number {
    return this.#planner.next;
  }

  push(segment: Segment, inX: number, inY: number, inZ: number, outX: number, outY: number, outZ: number): void {
    const slot = this.#planner.push(segment.lengthMm, segment.nominalMmPerS, inX, inY, inZ, outX, outY, outZ);
    this.#kinds[slot] = segment.kind;
    this.#firsts[slot] = segment.firstStroke;
    this.#counts[slot] = segment.strokes;
    this.#scans[slot] = segment.scan ? 1 : 0;
    this.#powered[4 * slot] = segment.poweredFrom;
    this.#powered[4 * slot + 1] = segment.fromSetting;
    this.#powered[4 * slot + 2] = segment.poweredTo;
    this.#powered[4 * slot + 3] = segment.toSetting;
    this.#lines[slot] = segment.line;
    this.#journal?.add(segment, [inX, inY, inZ, outX, outY, outZ], this.#limits.accelerationMmPerS2);
  }

  /** The head comes to rest. */
  stop(): void {
    this.#journal?.rest();
    this.#planner.stop();
  }

  finish(): void {
    this.stop();
    const time = this.time;
    time.totalS = time.cuttingS + time.rasterS + time.travelS + time.dwellS;
  }

  /**
   * The candidate has become an area: what was booked on its strokes and ways goes over to it, what is still to be settled
   * too. Answers with the length of the strokes, mm.
   */
  takeBack(): number {
    const area = this.#raster.area!;
    const index = this.#raster.areas.length - 1;
    const { time } = this;
    const s = this.#strokes;
    let lengthMm = 0;
    for (let i = area.strokesBefore; i < s.count; i++) {
      const length = lengthOfStrokeMm(s, i);
      lengthMm += length;
      const reached = s.reachedMmPerS[i]!;
      if (!(reached > 0)) continue;
      const seconds = length / reached;
      this.timeByLabelS[s.label[i]!]! -= seconds;
      time.cuttingS -= seconds;
      time.rasterS += seconds;
      area.timeS += seconds;
      area.scanS += seconds;
      area.scanMm += length;
      s.reachedMmPerS[i] = 0;
    }
    s.count = area.strokesBefore;
    this.#journal?.retake(area.segmentsBefore, index);
    time.travelS -= this.candidateTravelS;
    time.rasterS += this.candidateTravelS;
    area.timeS += this.candidateTravelS;
    for (let number = Math.max(area.segmentsBefore, this.#planner.first); number < this.#planner.next; number++) {
      const slot = number & (WINDOW - 1);
      this.#scans[slot] = this.#kinds[slot] === CUT ? 1 : 0;
      this.#kinds[slot] = index;
      this.#powered[4 * slot] = -1;
    }
    return lengthMm;
  }

  #settle(slot: number, entry: number, peak: number, exit: number, time: number): void {
    const kind = this.#kinds[slot]!;
    const number = this.#settled++;
    if (kind === TRAVEL) {
      this.time.travelS += time;
      const candidate = this.#raster.candidate;
      if (candidate && number >= candidate.segmentsBefore) this.candidateTravelS += time;
    } else if (kind === CUT) {
      this.time.cuttingS += time;
      this.#settleStrokes(slot, entry, peak, exit, time);
    } else {
      this.#settleScan(kind, slot, entry, peak, exit, time);
    }
  }

  #settleStrokes(slot: number, entry: number, peak: number, exit: number, time: number): void {
    const s = this.#strokes;
    const length = this.#planner.lengthOf(slot);
    const a = this.#limits.accelerationMmPerS2;
    const [first, count] = [this.#firsts[slot]!, this.#counts[slot]!];
    bookStrokes(s, this.timeByLabelS, first, count, length, a, entry, peak, exit, time);
  }

  #settleScan(kind: number, slot: number, entry: number, peak: number, exit: number, time: number): void {
    const area = this.#raster.areas[kind]!;
    const length = this.#planner.lengthOf(slot);
    this.time.rasterS += time;
    area.timeS += time;
    if (this.#scans[slot] === 0) return;
    area.scanS += time;
    area.scanMm += length;
    const from = this.#powered[4 * slot]!;
    if (from < 0 || area.flags & STROKE_SCALED) return;
    const to = this.#powered[4 * slot + 2]!;
    const a = this.#limits.accelerationMmPerS2;
    // Energy is felt over the width of the beam, so the ends are judged by their first and last spot.
    const spot = Math.min(this.#limits.spotMm, to - from);
    const line = this.#lines[slot]!;
    const first = timeAtS(from + spot, length, a, entry, peak, exit) - timeAtS(from, length, a, entry, peak, exit);
    const last = timeAtS(to, length, a, entry, peak, exit) - timeAtS(to - spot, length, a, entry, peak, exit);
    area.burn(spot, this.#powered[4 * slot + 1]!, line, first);
    area.burn(spot, this.#powered[4 * slot + 3]!, line, last);
  }
}
