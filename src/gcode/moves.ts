import { timeAtS } from '../geometry/motion.ts';
import { MotionPlanner, WINDOW } from '../geometry/planner.ts';
import { type Arc, arcExtent } from './arcs.ts';
import { RasterFinder, wholeLine } from './raster.ts';
import { Run } from './run.ts';
import { StrokeStore, TravelStore } from './strokes.ts';
import {
  type Bounds,
  type HotRapids,
  STROKE_SCALED,
  STROKE_STARTS_PATH,
  type ToolpathOptions,
  type ToolpathTime,
} from './toolpath.ts';

/** What a planned segment is booked on; 0 and above: a raster area. */
const TRAVEL = -1;
const CUT = -2;

/** Bends flatter than this do not end a run: sine of the angle, squared. Their corner speed is far beyond any machine's. */
const STRAIGHT = 1e-6;

function emptyBounds(): Bounds {
  const high = Number.POSITIVE_INFINITY;
  return { minX: high, minY: high, minZ: high, maxX: -high, maxY: -high, maxZ: -high };
}

function widen(bounds: Bounds, x: number, y: number, z: number): void {
  if (x < bounds.minX) bounds.minX = x;
  if (x > bounds.maxX) bounds.maxX = x;
  if (y < bounds.minY) bounds.minY = y;
  if (y > bounds.maxY) bounds.maxY = y;
  if (z < bounds.minZ) bounds.minZ = z;
  if (z > bounds.maxZ) bounds.maxZ = z;
}

/**
 * Takes the moves one by one and sends each where it belongs: powered ones to the strokes or, once a raster is recognised,
 * to the sums of its area; all to the planner. The interpreter sets `toX` … `flags` and calls; nothing is made per move.
 */
export class Moves {
  /** Where the head is, mm in the machine's frame. */
  x = 0;
  y = 0;
  z = 0;
  /** The next move: its end, setting (0: no power), speed as programmed (NaN: none) and what bears on it. */
  toX = 0;
  toY = 0;
  toZ = 0;
  setting = 0;
  speedMmPerS = Number.NaN;
  label = 0;
  /** STROKE_SCALED | STROKE_AIR. */
  flags = 0;
  /** Beam or head was elsewhere since the last stroke. */
  startsPath = true;

  moves = 0;
  readonly strokes = new StrokeStore();
  readonly travels = new TravelStore();
  readonly raster: RasterFinder;
  readonly bounds = emptyBounds();
  readonly poweredBounds = emptyBounds();
  readonly hotRapids: HotRapids = { count: 0, lengthMm: 0, first: null, setting: 0 };
  readonly time: ToolpathTime = { totalS: 0, cuttingS: 0, rasterS: 0, travelS: 0, dwellS: 0 };
  readonly timeByLabelS: number[] = [];
  cutLengthMm = 0;
  rapidLengthMm = 0;

  readonly #options: ToolpathOptions;
  readonly #planner: MotionPlanner;
  readonly #run = new Run();
  /** The stretch that goes to the planner as one segment. */
  #segLength = 0;
  #segNominal = 0;
  #segKind = TRAVEL;
  #segFirst = 0;
  #segCount = 0;
  #segPoweredFrom = -1;
  #segFromSetting = 0;
  #segPoweredTo = 0;
  #segToSetting = 0;
  #segLine = 0;
  /** Notes on segments in the planner, by its slot. */
  readonly #kinds = new Int32Array(WINDOW);
  readonly #firsts = new Uint32Array(WINDOW);
  readonly #counts = new Uint32Array(WINDOW);
  readonly #scans = new Uint8Array(WINDOW);
  readonly #ends = new Float64Array(WINDOW * 4);
  readonly #lines = new Uint32Array(WINDOW);
  #settled = 0;
  /** Travel booked since the candidate for a raster began, s. */
  #candidateTravelS = 0;

  constructor(options: ToolpathOptions) {
    this.#options = options;
    this.raster = new RasterFinder(options.spotMm);
    this.#planner = new MotionPlanner(options, (slot, entry, peak, exit, time) =>
      this.#settle(slot, entry, peak, exit, time),
    );
  }

  /** A straight move to (toX, toY, toZ). `hot`: a rapid while power is commanded. */
  line(line: number, rapid: boolean, hot: boolean): void {
    const dx = this.toX - this.x;
    const dy = this.toY - this.y;
    const dz = this.toZ - this.z;
    const run = this.#run;
    let length: number;
    if (dy === 0 && dz === 0) {
      if (dx === 0) return;
      length = dx < 0 ? -dx : dx;
      if (!run.open || run.x !== (dx < 0 ? -1 : 1)) this.#turn(dx < 0 ? -1 : 1, 0, 0);
    } else {
      length = Math.sqrt(dx * dx + dy * dy + dz * dz);
      const ux = dx / length;
      const uy = dy / length;
      const uz = dz / length;
      const cx = run.y * uz - run.z * uy;
      const cy = run.z * ux - run.x * uz;
      const cz = run.x * uy - run.y * ux;
      if (!run.open || cx * cx + cy * cy + cz * cz > STRAIGHT || run.x * ux + run.y * uy + run.z * uz < 0)
        this.#turn(ux, uy, uz);
    }
    this.moves++;
    const powered = !rapid && this.setting > 0;
    const machine = rapid ? this.#options.rapidMmPerS : this.#options.speedMmPerS;
    const nominal = !rapid && this.speedMmPerS > 0 && this.speedMmPerS < machine ? this.speedMmPerS : machine;

    if (this.raster.area !== null && this.#inArea(powered, length)) {
      this.#segment(this.raster.areas.length - 1, nominal);
      if (powered) {
        if (this.#segPoweredFrom < 0) {
          this.#segPoweredFrom = this.#segLength;
          this.#segFromSetting = this.setting;
        }
        this.#segPoweredTo = this.#segLength + length;
        this.#segToSetting = this.setting;
        this.#segLine = line;
        run.power(length, this.setting, this.speedMmPerS > 0 ? this.speedMmPerS : nominal, line);
      } else {
        run.idle(length, rapid);
      }
    } else if (powered) {
      this.#segment(CUT, nominal);
      if (run.pieces === 0) this.#notesOnRun();
      run.power(length, this.setting, this.speedMmPerS > 0 ? this.speedMmPerS : nominal, line);
      this.cutLengthMm += length;
      this.#stroke(line, Number.NaN, Number.NaN, 0);
    } else {
      this.#segment(TRAVEL, nominal);
      run.idle(length, rapid);
      if (!rapid) this.rapidLengthMm += length;
      this.travels.add(this.x, this.y, this.toX, this.toY);
    }
    this.#segLength += length;
    if (!powered) this.startsPath = true;
    if (rapid) {
      this.rapidLengthMm += length;
      if (hot) this.#hotRapid(line, length);
    }
    this.x = this.toX;
    this.y = this.toY;
    this.z = this.toZ;
  }

  /** An arc or helix in the XY plane to (toX, toY, toZ). */
  arc(line: number, arc: Arc): void {
    this.#endRun();
    const flat = arc.radius * Math.abs(arc.sweepRad);
    const rise = this.toZ - this.z;
    const length = Math.hypot(flat, rise);
    if (!(length > 0)) return;
    this.moves++;
    const powered = this.setting > 0;
    const [minX, minY, maxX, maxY] = arcExtent(this.x, this.y, this.toX, this.toY, arc);
    widen(this.bounds, minX, minY, this.toZ);
    widen(this.bounds, maxX, maxY, this.toZ);
    const programmed = this.speedMmPerS > 0 ? this.speedMmPerS : this.#options.speedMmPerS;
    const nominal = Math.min(
      programmed,
      this.#options.speedMmPerS,
      Math.sqrt(this.#options.accelerationMmPerS2 * arc.radius),
    );
    if (powered) {
      this.raster.close();
      this.cutLengthMm += length;
      widen(this.poweredBounds, minX, minY, Math.min(this.z, this.toZ));
      widen(this.poweredBounds, maxX, maxY, Math.max(this.z, this.toZ));
    } else {
      this.rapidLengthMm += length;
      this.travels.add(this.x, this.y, this.toX, this.toY);
    }
    this.#segment(powered ? CUT : TRAVEL, nominal);
    if (powered) this.#stroke(line, arc.centreA, arc.centreB, arc.sweepRad);
    else this.startsPath = true;
    this.#segLength = length;
    const turn = Math.sign(arc.sweepRad);
    const share = flat / length;
    const tangent = (x: number, y: number): [number, number] => {
      const r = Math.hypot(x - arc.centreA, y - arc.centreB) || 1;
      return [(-turn * (y - arc.centreB) * share) / r, (turn * (x - arc.centreA) * share) / r];
    };
    const [inX, inY] = tangent(this.x, this.y);
    const [outX, outY] = tangent(this.toX, this.toY);
    this.#push(inX, inY, rise / length, outX, outY, rise / length, false);
    this.x = this.toX;
    this.y = this.toY;
    this.z = this.toZ;
  }

  /** The head comes to rest: before a dwell, a change of beam mode, at the end. */
  stop(): void {
    this.#endRun();
    this.#planner.stop();
  }

  /** Adds a wait, s. */
  wait(seconds: number): void {
    this.time.dwellS += seconds;
  }

  /** Settles everything; call once. */
  finish(): void {
    this.stop();
    this.time.totalS = this.time.cuttingS + this.time.rasterS + this.time.travelS + this.time.dwellS;
  }

  #stroke(line: number, centreX: number, centreY: number, sweepRad: number): void {
    const s = this.strokes;
    if (!s.room()) return;
    const i = s.count++;
    s.startX[i] = this.x;
    s.startY[i] = this.y;
    s.startZ[i] = this.z;
    s.endX[i] = this.toX;
    s.endY[i] = this.toY;
    s.endZ[i] = this.toZ;
    s.centreX[i] = centreX;
    s.centreY[i] = centreY;
    s.sweepRad[i] = sweepRad;
    s.setting[i] = this.setting;
    s.speedMmPerS[i] = this.speedMmPerS;
    s.line[i] = line;
    s.label[i] = this.label;
    s.flags[i] = this.flags | (this.startsPath ? STROKE_STARTS_PATH : 0);
    this.startsPath = false;
    if (this.#segCount === 0) this.#segFirst = i;
    this.#segCount++;
  }

  /** Does this piece belong to the open area? A powered one that does not closes it. */
  #inArea(powered: boolean, length: number): boolean {
    const run = this.#run;
    if (!powered) return true;
    const speed = this.speedMmPerS > 0 ? this.speedMmPerS : this.#options.speedMmPerS;
    if (run.inArea) {
      const fits = run.speedMmPerS === speed && run.flags === this.flags;
      if (
        fits &&
        (this.raster.area!.isParallel(run.x, run.y, run.z) || run.lengthMm + length <= 2 * this.#options.spotMm)
      )
        return true;
      this.#turn(run.x, run.y, run.z);
    }
    if (this.raster.accepts(run, length, this.x, this.y, this.setting, speed, this.flags)) {
      run.inArea = true;
      this.#notesOnRun();
      return true;
    }
    this.#turn(run.x, run.y, run.z);
    return false;
  }

  #notesOnRun(): void {
    this.#run.flags = this.flags;
    this.#run.label = this.label;
  }

  #turn(x: number, y: number, z: number): void {
    this.#endRun();
    const run = this.#run;
    run.begin(x, y, z, this.x, this.y, this.z);
    run.strokesBefore = this.strokes.count;
    run.travelsBefore = this.travels.count;
    run.segmentsBefore = this.#planner.next;
  }

  #endRun(): void {
    const run = this.#run;
    if (!run.open) return;
    run.open = false;
    this.#closeSegment();
    widen(this.bounds, this.x, this.y, this.z);
    if (run.pieces > 0) {
      widen(
        this.poweredBounds,
        run.startX + run.x * run.poweredFrom,
        run.startY + run.y * run.poweredFrom,
        run.startZ + run.z * run.poweredFrom,
      );
      widen(
        this.poweredBounds,
        run.startX + run.x * run.poweredTo,
        run.startY + run.y * run.poweredTo,
        run.startZ + run.z * run.poweredTo,
      );
    }
    const area = this.raster.area;
    if (area) {
      if (run.inArea) area.add(run);
      return;
    }
    const before = this.raster.candidate;
    if (this.raster.consider(run)) this.#takeBack();
    else if (this.raster.candidate !== before) this.#candidateTravelS = 0;
  }

  /** Goes on with the segment, or begins another. */
  #segment(kind: number, nominal: number): void {
    if (this.#segLength > 0 && kind === this.#segKind && nominal === this.#segNominal) return;
    this.#closeSegment();
    this.#segKind = kind;
    this.#segNominal = nominal;
    this.#segCount = 0;
    this.#segPoweredFrom = -1;
  }

  #closeSegment(): void {
    if (this.#segLength > 0) {
      const { x, y, z } = this.#run;
      this.#push(x, y, z, x, y, z, this.#segKind >= 0 && this.raster.areas[this.#segKind]!.isParallel(x, y, z));
    }
  }

  #push(inX: number, inY: number, inZ: number, outX: number, outY: number, outZ: number, scan: boolean): void {
    const slot = this.#planner.push(this.#segLength, this.#segNominal, inX, inY, inZ, outX, outY, outZ);
    this.#kinds[slot] = this.#segKind;
    this.#firsts[slot] = this.#segFirst;
    this.#counts[slot] = this.#segCount;
    this.#scans[slot] = scan ? 1 : 0;
    this.#ends[4 * slot] = this.#segPoweredFrom;
    this.#ends[4 * slot + 1] = this.#segFromSetting;
    this.#ends[4 * slot + 2] = this.#segPoweredTo;
    this.#ends[4 * slot + 3] = this.#segToSetting;
    this.#lines[slot] = this.#segLine;
    this.#segLength = 0;
    this.#segCount = 0;
    this.#segPoweredFrom = -1;
  }

  #hotRapid(line: number, length: number): void {
    const hot = this.hotRapids;
    hot.count++;
    hot.lengthMm += length;
    hot.first ??= wholeLine(line);
  }

  /** The planner has settled a segment. */
  #settle(slot: number, entry: number, peak: number, exit: number, time: number): void {
    const kind = this.#kinds[slot]!;
    const number = this.#settled++;
    if (kind === TRAVEL) {
      this.time.travelS += time;
      const candidate = this.raster.candidate;
      if (candidate && number >= candidate.segmentsBefore) this.#candidateTravelS += time;
    } else if (kind === CUT) {
      this.time.cuttingS += time;
      this.#settleStrokes(slot, entry, peak, exit, time);
    } else {
      this.#settleScan(kind, slot, entry, peak, exit, time);
    }
  }

  #settleStrokes(slot: number, entry: number, peak: number, exit: number, time: number): void {
    const s = this.strokes;
    const first = this.#firsts[slot]!;
    const count = this.#counts[slot]!;
    const length = this.#planner.lengthOf(slot);
    const a = this.#options.accelerationMmPerS2;
    let at = 0;
    let atS = 0;
    let speed = entry;
    for (let i = first; i < first + count; i++) {
      const to = i === first + count - 1 ? length : at + s.lengthMm(i);
      const toS = to === length ? time : timeAtS(to, length, a, entry, peak, exit);
      const leave =
        to === length
          ? exit
          : Math.min(peak, Math.sqrt(entry * entry + 2 * a * to), Math.sqrt(exit * exit + 2 * a * (length - to)));
      s.reachedMmPerS[i] = toS > atS ? (to - at) / (toS - atS) : peak;
      s.slowestMmPerS[i] = Math.min(speed, leave);
      const label = s.label[i]!;
      this.timeByLabelS[label] = (this.timeByLabelS[label] ?? 0) + (toS - atS);
      at = to;
      atS = toS;
      speed = leave;
    }
  }

  #settleScan(kind: number, slot: number, entry: number, peak: number, exit: number, time: number): void {
    const area = this.raster.areas[kind]!;
    const length = this.#planner.lengthOf(slot);
    this.time.rasterS += time;
    area.timeS += time;
    if (this.#scans[slot] === 0) return;
    area.scanS += time;
    area.scanMm += length;
    const from = this.#ends[4 * slot]!;
    if (from < 0 || (area.flags & STROKE_SCALED && this.#options.m4 === 'scaled-with-speed')) return;
    const to = this.#ends[4 * slot + 2]!;
    const a = this.#options.accelerationMmPerS2;
    const spot = Math.min(this.#options.spotMm, to - from);
    const seconds = (s0: number, s1: number) =>
      timeAtS(s1, length, a, entry, peak, exit) - timeAtS(s0, length, a, entry, peak, exit);
    area.burn(from, from + spot, this.#ends[4 * slot + 1]!, this.#lines[slot]!, seconds(from, from + spot));
    area.burn(to - spot, to, this.#ends[4 * slot + 3]!, this.#lines[slot]!, seconds(to - spot, to));
  }

  /** The candidate has become an area: what was kept of its lines goes over to its sums. */
  #takeBack(): void {
    const area = this.raster.area!;
    const index = this.raster.areas.length - 1;
    const s = this.strokes;
    for (let i = area.strokesBefore; i < s.count; i++) {
      const length = s.lengthMm(i);
      this.cutLengthMm -= length;
      const reached = s.reachedMmPerS[i]!;
      if (!(reached > 0)) continue;
      const seconds = length / reached;
      const label = s.label[i]!;
      this.time.cuttingS -= seconds;
      this.timeByLabelS[label]! -= seconds;
      this.time.rasterS += seconds;
      area.timeS += seconds;
      area.scanS += seconds;
      area.scanMm += length;
      s.reachedMmPerS[i] = 0;
    }
    s.count = area.strokesBefore;
    this.travels.rewind(area.travelsBefore);
    this.time.travelS -= this.#candidateTravelS;
    this.time.rasterS += this.#candidateTravelS;
    area.timeS += this.#candidateTravelS;
    for (let number = Math.max(area.segmentsBefore, this.#planner.first); number < this.#planner.next; number++) {
      const slot = number & (WINDOW - 1);
      this.#scans[slot] = this.#kinds[slot] === CUT ? 1 : 0;
      this.#kinds[slot] = index;
      this.#ends[4 * slot] = -1;
    }
  }
}
