import { type Arc, arcDirection, arcExtent } from '../../geometry/segments/arc.ts';
import { flattenArc } from '../../geometry/segments/segments.ts';
import { STROKE_STARTS_PATH, StrokeStore, TravelStore } from '../strokes.ts';
import type { MovesMade, PoweredRapids, StrokeLabel } from '../toolpath.ts';
import { emptyBounds, ifAny, widen } from './bounds.ts';
import type { HeadLimits } from './head-limits.ts';
import type { MotionJournal } from './motion-journal.ts';
import { RasterFinder, wholeLine } from './raster.ts';
import { StraightRun } from './straight-run.ts';
import { CUT, Segment, TimeLedger, TRAVEL } from './time-ledger.ts';

/** Bends flatter than this do not end a run: sine of the angle, squared. Their corner speed is far beyond any machine's. */
const STRAIGHT = 1e-6;
/** Coordinates are rounded: short pieces may leave the line by this much, mm, squared. */
const ROUNDING = 0.002 ** 2;

/** An arc without power is kept as chords this close to it, mm. */
const TRAVEL_CHORD_MM = 0.05;

/**
 * Takes the moves of a program one by one and sends each where it belongs: powered ones to the strokes or, once a raster is recognised,
 * to the sums of its area; all to the planner. A reader sets `toX` … `flags` and calls; nothing is made per move.
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
  /**
   * The last move was a pixel of a raster line along X, and what bears on the next one has not changed since: `pixel` may take it.
   * Whoever changes feed, label, beam mode or air ends it.
   */
  fastPath = false;
  /** Beam or head was elsewhere since the last stroke. */
  startsPath = true;

  moves = 0;
  readonly strokes = new StrokeStore();
  readonly travels = new TravelStore();
  readonly raster: RasterFinder;
  readonly ledger: TimeLedger;
  readonly bounds = emptyBounds();
  readonly poweredBounds = emptyBounds();
  readonly poweredRapids: PoweredRapids = { count: 0, lengthMm: 0, first: null, setting: 0 };
  cutLengthMm = 0;
  travelLengthMm = 0;

  readonly #limits: HeadLimits;
  readonly #mostAcceleration: number;
  readonly #run = new StraightRun();
  readonly #segment = new Segment();
  readonly #journal: MotionJournal | null;

  /** @param journal keeps what goes to the planner; null where nobody will ask for it */
  constructor(limits: HeadLimits, journal: MotionJournal | null = null) {
    this.#journal = journal;
    // A copy: the program may change them.
    const { accelerationMmPerS2, cornerDeviationMm, rapidMmPerS, speedMmPerS, spotMm } = limits;
    this.#limits = { accelerationMmPerS2, cornerDeviationMm, rapidMmPerS, speedMmPerS, spotMm };
    this.#mostAcceleration = limits.accelerationMmPerS2;
    this.raster = new RasterFinder(limits.spotMm);
    this.ledger = new TimeLedger(this.#limits, this.strokes, this.raster, journal);
  }

  /**
   * The fast path of a raster: one more pixel to `toX`, which lies on along the line. False when it does not, and nothing has
   * been done. To be called while `fastPath` only; it does what `line` would.
   */
  pixel(line: number): boolean {
    const run = this.#run;
    const setting = this.setting;
    const dx = this.toX - this.x;
    const segment = this.#segment;
    const length = dx * run.x;
    if (!(length > 0)) return false;
    this.moves++;
    if (!(setting > 0)) {
      run.idle(length, false);
      segment.lengthMm += length;
      this.startsPath = true;
      this.x = this.toX;
      return true;
    }
    run.pieces++;
    run.lengthMm += length;
    run.trailMm = 0;
    run.settingMm += setting * length;
    run.lastLine = line;
    if (setting > run.maxSetting) {
      run.maxSetting = setting;
      run.peakLine = line;
    }
    if (setting < run.minSetting) run.minSetting = setting;
    segment.lengthMm += length;
    segment.poweredTo = segment.lengthMm;
    segment.toSetting = setting;
    segment.line = line;
    run.toX = this.toX;
    this.x = this.toX;
    return true;
  }

  /** A straight move to (toX, toY, toZ). `poweredRapid`: a rapid while power is commanded. */
  // biome-ignore lint/complexity/noExcessiveCognitiveComplexity: a measured hot loop, called for every move of a raster
  line(line: number, rapid: boolean, poweredRapid: boolean): void {
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
      const bend = cx * cx + cy * cy + cz * cz;
      const straight = bend <= STRAIGHT || bend * length * length <= ROUNDING;
      if (!run.open || !straight || run.x * ux + run.y * uy + run.z * uz < 0) this.#turn(ux, uy, uz);
    }
    // Where the head was before is not known; where its first move ends is.
    if (this.moves++ === 0) widen(this.bounds, this.toX, this.toY, this.toZ);
    const powered = !rapid && this.setting > 0;
    const machine = rapid ? this.#limits.rapidMmPerS : this.#limits.speedMmPerS;
    const nominal = !rapid && this.speedMmPerS > 0 && this.speedMmPerS < machine ? this.speedMmPerS : machine;

    if (this.raster.area !== null && this.#inArea(powered, length)) {
      const segment = this.#stretch(this.raster.areas.length - 1, nominal);
      if (powered) {
        if (segment.poweredFrom < 0) {
          segment.poweredFrom = segment.lengthMm;
          segment.fromSetting = this.setting;
        }
        segment.poweredTo = segment.lengthMm + length;
        segment.toSetting = this.setting;
        segment.line = line;
        this.#power(length, nominal, line);
      } else {
        run.idle(length, rapid);
      }
    } else if (powered) {
      this.#stretch(CUT, nominal);
      if (run.pieces === 0) this.#notesOnRun();
      this.#power(length, nominal, line);
      this.cutLengthMm += length;
      this.#stroke(line, 0, 0, 0);
    } else {
      this.#stretch(TRAVEL, nominal);
      run.idle(length, rapid);
      if (!rapid) this.travelLengthMm += length;
      this.travels.add(this.x, this.y, this.toX, this.toY);
    }
    this.#segment.lengthMm += length;
    if (!powered) this.startsPath = true;
    if (rapid) {
      this.travelLengthMm += length;
      if (poweredRapid) this.#notePoweredRapid(line, length);
    }
    this.x = this.toX;
    this.y = this.toY;
    this.z = this.toZ;
    this.fastPath = powered && run.scan && run.y === 0 && run.z === 0;
  }

  /** An arc or helix in the XY plane to (toX, toY, toZ). */
  arc(line: number, arc: Arc): void {
    this.fastPath = false;
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
    const programmed = this.speedMmPerS > 0 ? this.speedMmPerS : this.#limits.speedMmPerS;
    const nominal = Math.min(
      programmed,
      this.#limits.speedMmPerS,
      Math.sqrt(this.#limits.accelerationMmPerS2 * arc.radius),
    );
    if (powered) {
      this.raster.close();
      this.cutLengthMm += length;
      widen(this.poweredBounds, minX, minY, Math.min(this.z, this.toZ));
      widen(this.poweredBounds, maxX, maxY, Math.max(this.z, this.toZ));
    } else {
      this.travelLengthMm += length;
      const { centreA: cx, centreB: cy, sweepRad } = arc;
      const ends = { startX: this.x, startY: this.y, endX: this.toX, endY: this.toY };
      flattenArc({ cx, cy, ...ends, sweepRad }, TRAVEL_CHORD_MM, (x0, y0, x1, y1) => this.travels.add(x0, y0, x1, y1));
    }
    const segment = this.#stretch(powered ? CUT : TRAVEL, nominal);
    if (powered) this.#stroke(line, arc.centreA, arc.centreB, arc.sweepRad);
    else this.startsPath = true;
    segment.lengthMm = length;
    const share = flat / length;
    const [inX, inY] = arcDirection(arc, this.x, this.y, share);
    const [outX, outY] = arcDirection(arc, this.toX, this.toY, share);
    this.ledger.push(segment, inX, inY, rise / length, outX, outY, rise / length);
    segment.lengthMm = 0;
    this.x = this.toX;
    this.y = this.toY;
    this.z = this.toZ;
  }

  /** The head comes to rest: before a dwell, a change of beam mode, at the end. */
  stop(): void {
    this.fastPath = false;
    this.#endRun();
    this.ledger.stop();
  }

  /** The acceleration from here on, mm/s²; never above what the machine was said to do. The head is taken to come to rest first. */
  setAcceleration(mmPerS2: number): void {
    const within = Math.min(mmPerS2, this.#mostAcceleration);
    if (within === this.#limits.accelerationMmPerS2) return;
    // What was planned by the old one is settled by it.
    this.stop();
    this.#limits.accelerationMmPerS2 = within;
  }

  /** Adds a wait, s. */
  wait(seconds: number): void {
    this.ledger.time.dwellS += seconds;
  }

  /** Settles everything and tells what has become of it; call once. `labels`: those that the strokes bear, by their index. */
  finish(labels: readonly StrokeLabel[]): MovesMade {
    this.stop();
    this.ledger.finish();
    const areas = this.raster.areas.map((sums) => sums.finish());
    return {
      moves: this.moves,
      strokes: this.strokes.finish(),
      areas,
      travels: this.travels.finish(),
      poweredRapids: this.poweredRapids,
      cutLengthMm: this.cutLengthMm,
      travelLengthMm: this.travelLengthMm,
      rasterLengthMm: areas.reduce((sum, area) => sum + area.lengthMm, 0),
      boundsMm: ifAny(this.bounds),
      poweredBoundsMm: ifAny(this.poweredBounds),
      time: this.ledger.time,
      timeByLabelS: labels.map((_, i) => this.ledger.timeByLabelS[i] ?? 0),
      ...(this.#journal ? { journal: this.#journal } : {}),
    };
  }

  #stroke(line: number, centreX: number, centreY: number, sweepRad: number): void {
    const s = this.strokes;
    if (!s.room()) return;
    const i = s.count++;
    s.startX[i] = this.x;
    s.startY[i] = this.y;
    s.endX[i] = this.toX;
    s.endY[i] = this.toY;
    s.setting[i] = this.setting;
    s.speedMmPerS[i] = this.speedMmPerS;
    s.line[i] = line;
    // Mostly 0, as the arrays are: memory that is not written to is never taken.
    if (s.label[i] !== this.label) s.label[i] = this.label;
    if (s.startZ[i] !== this.z) s.startZ[i] = this.z;
    if (s.endZ[i] !== this.toZ) s.endZ[i] = this.toZ;
    if (s.sweepRad[i] !== sweepRad) s.sweepRad[i] = sweepRad;
    if (sweepRad !== 0) {
      s.centreX[i] = centreX;
      s.centreY[i] = centreY;
    }
    s.flags[i] = this.flags | (this.startsPath ? STROKE_STARTS_PATH : 0);
    this.startsPath = false;
    if (this.#segment.strokes++ === 0) this.#segment.firstStroke = i;
  }

  /** Does this piece belong to the open area? A powered one that does not closes it. */
  #inArea(powered: boolean, length: number): boolean {
    const run = this.#run;
    if (!powered) {
      if (this.raster.reaches(this.toX, this.toY)) return true;
      this.#turn(run.x, run.y, run.z);
      this.raster.close();
      return false;
    }
    const speed = this.speedMmPerS > 0 ? this.speedMmPerS : this.#limits.speedMmPerS;
    if (run.inArea) {
      const fits = run.speedMmPerS === speed && run.flags === this.flags;
      if (
        fits &&
        (this.raster.area!.isParallel(run.x, run.y, run.z, length) || run.lengthMm + length <= 2 * this.#limits.spotMm)
      )
        return true;
      this.#turn(run.x, run.y, run.z);
    }
    if (this.raster.accepts(run, length, this.x, this.y, this.setting, speed, this.flags)) {
      run.inArea = true;
      run.scan = this.raster.area!.isParallel(run.x, run.y, run.z, length);
      this.#notesOnRun();
      return true;
    }
    this.#turn(run.x, run.y, run.z);
    return false;
  }

  /** Adds a powered piece to the run. */
  #power(length: number, nominal: number, line: number): void {
    const run = this.#run;
    if (run.pieces === 0) {
      run.fromX = this.x;
      run.fromY = this.y;
      run.fromZ = this.z;
    }
    run.toX = this.toX;
    run.toY = this.toY;
    run.toZ = this.toZ;
    run.power(length, this.setting, this.speedMmPerS > 0 ? this.speedMmPerS : nominal, line);
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
    run.segmentsBefore = this.ledger.segments;
  }

  #endRun(): void {
    const run = this.#run;
    if (!run.open) return;
    this.#closeSegment();
    run.end(this.x, this.y, this.z);
    widen(this.bounds, this.x, this.y, this.z);
    if (run.pieces > 0) {
      widen(this.bounds, run.fromX, run.fromY, run.fromZ);
      widen(this.poweredBounds, run.fromX, run.fromY, run.fromZ);
      widen(this.poweredBounds, run.toX, run.toY, run.toZ);
    }
    const area = this.raster.area;
    if (area) {
      if (run.inArea) area.add(run);
      return;
    }
    const outcome = this.raster.consider(run);
    if (outcome === 'opens-area') {
      this.cutLengthMm -= this.ledger.takeBack();
      this.travels.rewind(this.raster.area!.travelsBefore);
    } else if (outcome === 'restarts') this.ledger.candidateTravelS = 0;
  }

  /** Goes on with the segment, or begins another. */
  #stretch(kind: number, nominal: number): Segment {
    const segment = this.#segment;
    if (segment.lengthMm > 0) {
      if (kind === segment.kind && nominal === segment.nominalMmPerS) return segment;
      this.#closeSegment();
    }
    segment.begin(kind, nominal);
    return segment;
  }

  #closeSegment(): void {
    const segment = this.#segment;
    if (segment.lengthMm === 0) return;
    const { x, y, z } = this.#run;
    segment.scan = segment.poweredFrom >= 0 && this.raster.areas[segment.kind]!.isParallel(x, y, z, segment.lengthMm);
    this.ledger.push(segment, x, y, z, x, y, z);
    segment.lengthMm = 0;
  }

  #notePoweredRapid(line: number, length: number): void {
    const rapids = this.poweredRapids;
    rapids.count++;
    rapids.lengthMm += length;
    rapids.first ??= wholeLine(line);
  }
}
