import type { Place } from '../../source/place.ts';
import { STROKE_AIR } from '../strokes.ts';
import type { RasterArea } from '../toolpath.ts';
import type { StraightRun } from './straight-run.ts';

/**
 * Neighbouring lines that make a raster: no drawing to be cut has as many so close. After one area, its continuation
 * (same direction, speed and no more power) needs fewer.
 */
const LINES = 12;
const LINES_AGAIN = 3;
/** Lines closer than this are one line, mm. */
const SAME_LINE = 0.008;
/** Sine of the angle up to which lines are parallel. */
const PARALLEL = 2e-3;
/** Coordinates are rounded: a short piece may leave the line by this much, mm. */
const ROUNDING = 0.003;
/** Blank stretch across the lines that an area may span, mm. */
const BLANK = 10;
/** Gaps that are kept for the median. */
const GAPS = 1024;

/** Sums of one area while it is read and planned. */
export class AreaSums {
  /** Direction of the lines, speed and what else they have in common: those of the first. */
  x = 1;
  y = 0;
  speedMmPerS = 0;
  flags = 0;
  label = 0;
  /** Distances between neighbouring lines. */
  gaps: number[] = [];
  lines = 0;
  /** Where the last line lies, across the direction. */
  offset = 0;
  /** +1 or −1: the side to which the lines advance; 0 while there is one line. */
  side = 0;
  /** Extent of the last line, along the direction. */
  low = 0;
  high = 0;
  /** The last run was a powered way from line to line. */
  connected = false;
  firstLine = 0;
  lastLine = 0;
  peakLine = 0;
  minX = 0;
  minY = 0;
  maxX = 0;
  maxY = 0;
  strokes = 0;
  lengthMm = 0;
  poweredMm = 0;
  settingS = 0;
  peak = 0;
  maxSetting = 0;
  minSetting = 0;
  runOutMm = 0;
  runOuts = 0;
  timeS = 0;
  /** Time and length of the lines proper, without the ways between them. */
  scanS = 0;
  scanMm = 0;
  /** What had been kept when the first line began. */
  strokesBefore = 0;
  travelsBefore = 0;
  segmentsBefore = 0;

  /** Starts again with this run as the first line. */
  begin(run: StraightRun): void {
    this.x = run.x;
    this.y = run.y;
    this.speedMmPerS = run.speedMmPerS;
    this.flags = run.flags;
    this.label = run.label;
    if (this.gaps.length > 0) this.gaps = [];
    this.lines = 1;
    this.offset = this.offsetOf(run.startX, run.startY);
    this.side = 0;
    this.low = this.lowOf(run);
    this.high = this.lowOf(run) + run.lengthMm;
    this.connected = false;
    this.firstLine = run.firstLine;
    this.minX = Number.POSITIVE_INFINITY;
    this.minY = Number.POSITIVE_INFINITY;
    this.maxX = Number.NEGATIVE_INFINITY;
    this.maxY = Number.NEGATIVE_INFINITY;
    this.strokes = 0;
    this.lengthMm = 0;
    this.poweredMm = 0;
    this.settingS = 0;
    this.peak = 0;
    this.maxSetting = 0;
    this.minSetting = Number.POSITIVE_INFINITY;
    this.runOutMm = 0;
    this.runOuts = 0;
    this.strokesBefore = run.strokesBefore;
    this.travelsBefore = run.travelsBefore;
    this.segmentsBefore = run.segmentsBefore;
    this.add(run);
  }

  /** Distance of a point across the lines. */
  offsetOf(x: number, y: number): number {
    return this.x * y - this.y * x;
  }

  /** Lower end of a line, along the direction. */
  lowOf(run: StraightRun): number {
    const from = this.x * run.startX + this.y * run.startY;
    return this.x * run.x + this.y * run.y > 0 ? from : from - run.lengthMm;
  }

  /** Is a stretch of this direction and length parallel to the lines, as far as rounded coordinates tell? */
  isParallel(x: number, y: number, z: number, lengthMm: number): boolean {
    const allowed = Math.max(PARALLEL, ROUNDING / lengthMm);
    return Math.abs(this.x * y - this.y * x) <= allowed && Math.abs(z) <= PARALLEL;
  }

  /** Notes that the lines have advanced to `offset`. */
  advance(offset: number): void {
    const step = offset - this.offset;
    this.side = Math.sign(step);
    this.offset = offset;
    this.lines++;
    if (this.gaps.length < GAPS) this.gaps.push(Math.abs(step));
  }

  /** Adds the sums of a run that bears power. */
  add(run: StraightRun): void {
    this.strokes += run.pieces;
    this.lengthMm += run.poweredMm + run.idleMm;
    this.poweredMm += run.poweredMm;
    this.settingS += run.settingMm / run.speedMmPerS;
    const peak = run.maxSetting / run.speedMmPerS;
    if (peak > this.peak) {
      this.peak = peak;
      this.peakLine = run.peakLine;
    }
    this.maxSetting = Math.max(this.maxSetting, run.maxSetting);
    this.minSetting = Math.min(this.minSetting, run.minSetting);
    this.lastLine = run.lastLine;
    this.minX = Math.min(this.minX, run.fromX, run.toX);
    this.maxX = Math.max(this.maxX, run.fromX, run.toX);
    this.minY = Math.min(this.minY, run.fromY, run.toY);
    this.maxY = Math.max(this.maxY, run.fromY, run.toY);
    if (this.isParallel(run.x, run.y, run.z, run.lengthMm)) {
      this.runOutMm += run.leadMm + run.trailMm;
      this.runOuts += 2;
    }
  }

  /**
   * Constant power on a head that is still speeding up delivers more: what `lengthMm` receives that takes `seconds` there.
   */
  burn(lengthMm: number, setting: number, line: number, seconds: number): void {
    const density = (setting * seconds) / lengthMm;
    if (density > this.peak) {
      this.peak = density;
      this.peakLine = line;
    }
  }

  finish(): RasterArea {
    const sorted = [...this.gaps].sort((a, b) => a - b);
    const pitchMm = sorted[sorted.length >> 1] ?? 0;
    const perArea = pitchMm > 0 ? 1 / pitchMm : 0;
    const degrees = (Math.atan2(this.y, this.x) * 180) / Math.PI;
    return {
      place: wholeLine(this.firstLine),
      endLine: this.lastLine,
      label: this.label,
      minX: this.minX,
      minY: this.minY,
      maxX: this.maxX,
      maxY: this.maxY,
      strokes: this.strokes,
      lengthMm: this.lengthMm,
      poweredMm: this.poweredMm,
      pitchMm,
      directionDeg: ((Math.round(degrees * 1e6) / 1e6 + 360) % 180) + 0,
      meanSettingSPerMm2: this.poweredMm > 0 ? (this.settingS / this.poweredMm) * perArea : 0,
      peakSettingSPerMm2: this.peak * perArea,
      peakPlace: wholeLine(this.peakLine),
      speedMmPerS: this.speedMmPerS,
      reachedMmPerS: this.scanS > 0 ? this.scanMm / this.scanS : 0,
      runOutMm: this.runOuts > 0 ? this.runOutMm / this.runOuts : 0,
      timeS: this.timeS,
      maxSetting: this.maxSetting,
      minSetting: this.minSetting,
      air: (this.flags & STROKE_AIR) !== 0,
    };
  }
}

/** A place that is known by its line alone. */
export function wholeLine(line: number): Place {
  return { line, column: 1, endLine: line, endColumn: 1 };
}

/**
 * Tells rasters from drawings as the moves go by. A candidate is a first line and its neighbours: parallel, advancing to
 * one side by at most twice the spot, at one speed, lying side by side. Until it has enough lines its strokes are kept as
 * any others; then they are taken back and the area is summed.
 */
export class RasterFinder {
  /** Areas found, in program order. */
  readonly areas: AreaSums[] = [];
  /** The area that is open: the last of `areas`. */
  area: AreaSums | null = null;
  candidate: AreaSums | null = null;
  /** The candidate, or what will be the next: most never become an area. */
  #spare = new AreaSums();
  readonly #gapMm: number;

  constructor(spotMm: number) {
    this.#gapMm = 2 * spotMm;
  }

  /** Takes a finished run outside an area, and tells what it did to the candidate. */
  consider(run: StraightRun): 'nothing' | 'extends' | 'restarts' | 'opens-area' {
    if (run.pieces === 0) return 'nothing';
    const candidate = this.candidate;
    if (candidate && this.#extends(candidate, run)) {
      candidate.add(run);
      if (candidate.lines < this.#needed(candidate)) return 'extends';
      this.areas.push(candidate);
      this.area = candidate;
      this.candidate = null;
      this.#spare = new AreaSums();
      return 'opens-area';
    }
    this.candidate = null;
    if (Math.abs(run.z) <= PARALLEL && !run.mixed) {
      this.candidate = this.#spare;
      this.candidate.begin(run);
    }
    return 'restarts';
  }

  #needed(candidate: AreaSums): number {
    const last = this.areas.at(-1);
    const again =
      last !== undefined &&
      last.speedMmPerS === candidate.speedMmPerS &&
      last.flags === candidate.flags &&
      candidate.maxSetting <= last.maxSetting &&
      candidate.isParallel(last.x, last.y, 0, Number.POSITIVE_INFINITY);
    return again ? LINES_AGAIN : LINES;
  }

  #extends(candidate: AreaSums, run: StraightRun): boolean {
    if (!candidate.isParallel(run.x, run.y, run.z, run.lengthMm)) {
      // One such way at a time: a curve of short chords is no raster.
      if (candidate.connected || !this.#connects(run.lengthMm)) return false;
      candidate.connected = true;
      return true;
    }
    candidate.connected = false;
    if (run.mixed || run.speedMmPerS !== candidate.speedMmPerS || run.flags !== candidate.flags) return false;
    const offset = candidate.offsetOf(run.startX, run.startY);
    const step = offset - candidate.offset;
    const low = candidate.lowOf(run);
    const high = low + run.lengthMm;
    const overlap = Math.min(high, candidate.high) - Math.max(low, candidate.low);
    if (Math.abs(step) <= SAME_LINE) {
      // A second pass over the same stretch is a cut.
      if (overlap > SAME_LINE) return false;
      candidate.low = Math.min(low, candidate.low);
      candidate.high = Math.max(high, candidate.high);
      return true;
    }
    if (Math.abs(step) > this.#gapMm || (candidate.side !== 0 && Math.sign(step) !== candidate.side)) return false;
    // The treads of a stair do not lie side by side.
    if (overlap < 0.5 * Math.min(high - low, candidate.high - candidate.low)) return false;
    candidate.advance(offset);
    candidate.low = low;
    candidate.high = high;
    return true;
  }

  /** A short powered way from one line to the next. */
  #connects(lengthMm: number): boolean {
    return lengthMm <= this.#gapMm;
  }

  /**
   * Does a powered piece of `lengthMm` from (x, y), the first of `run` that bears power, belong to the open area? If not,
   * the area is closed.
   */
  accepts(
    run: StraightRun,
    lengthMm: number,
    x: number,
    y: number,
    setting: number,
    speedMmPerS: number,
    flags: number,
  ): boolean {
    const area = this.area;
    if (!area) return false;
    if (!area.isParallel(run.x, run.y, run.z, lengthMm)) {
      if (this.#connects(run.lengthMm + lengthMm)) return true;
      this.close();
      return false;
    }
    const offset = area.offsetOf(x, y);
    const step = offset - area.offset;
    const same = Math.abs(step) <= SAME_LINE;
    const near = Math.abs(step) <= this.#gapMm || (Math.abs(step) <= BLANK && setting <= area.maxSetting);
    if (
      speedMmPerS !== area.speedMmPerS ||
      flags !== area.flags ||
      !(same || (near && Math.sign(step) === area.side))
    ) {
      this.close();
      return false;
    }
    if (!same) area.advance(offset);
    return true;
  }

  /** Is a way to (x, y) still one inside the open area, and not the way to the next job? */
  reaches(x: number, y: number): boolean {
    const area = this.area!;
    return Math.abs(area.offsetOf(x, y) - area.offset) <= BLANK;
  }

  /** What follows belongs to no area and continues no candidate. */
  close(): void {
    this.area = null;
    this.candidate = null;
  }
}
