import { cornerSpeedOfSine, profile } from './motion.ts';

/** What the head can do. */
export interface MotionLimits {
  accelerationMmPerS2: number;
  /** Junction deviation, mm. */
  cornerDeviationMm: number;
}

/** Called for each segment in order, once its speeds are settled. */
export type Planned = (
  slot: number,
  entryMmPerS: number,
  peakMmPerS: number,
  exitMmPerS: number,
  timeS: number,
) => void;

/** Segments looked ahead; a power of two. */
export const WINDOW = 512;

/**
 * Look-ahead over a bounded window: each segment is entered no faster than its corner allows and no faster than it can
 * brake for what follows. The end of the window counts as a stop, and only its older half is settled, so that memory stays
 * bounded; with hundreds of segments in view the error is far below that of the machine's own figures.
 *
 * `push` answers with a slot (0 … WINDOW − 1) under which the caller may keep its own notes until the segment is settled.
 */
export class MotionPlanner {
  readonly #length = new Float64Array(WINDOW);
  readonly #nominal = new Float64Array(WINDOW);
  readonly #limit = new Float64Array(WINDOW);
  readonly #entry = new Float64Array(WINDOW + 1);
  readonly #limits: MotionLimits;
  readonly #planned: Planned;
  #first = 0;
  #next = 0;
  #exit = 0;
  #lastX = 0;
  #lastY = 0;
  #lastZ = 0;
  #lastNominal = 0;

  constructor(limits: MotionLimits, planned: Planned) {
    this.#limits = limits;
    this.#planned = planned;
  }

  /** Running numbers of the segments that are not settled: `first` up to `next`, exclusive; a slot is the number modulo WINDOW. */
  get first(): number {
    return this.#first;
  }

  get next(): number {
    return this.#next;
  }

  /** Length of a segment that is not settled. */
  lengthOf(slot: number): number {
    return this.#length[slot]!;
  }

  /**
   * A segment of `lengthMm` > 0 at no more than `speedMmPerS` > 0, entered in the unit direction (inX, inY, inZ) and left
   * in (outX, outY, outZ). Numbers and no record: this is the measured hot loop of motion, called for every move.
   */
  push(
    lengthMm: number,
    speedMmPerS: number,
    inX: number,
    inY: number,
    inZ: number,
    outX: number,
    outY: number,
    outZ: number,
  ): number {
    if (this.#next - this.#first === WINDOW) this.#settle(WINDOW / 2);
    const slot = this.#next & (WINDOW - 1);
    const dot = this.#lastX * inX + this.#lastY * inY + this.#lastZ * inZ;
    const s = Math.sqrt(Math.max(0, (1 + dot) / 2));
    const corner =
      this.#lastNominal === 0
        ? 0
        : cornerSpeedOfSine(s, this.#limits.cornerDeviationMm, this.#limits.accelerationMmPerS2);
    this.#length[slot] = lengthMm;
    this.#nominal[slot] = speedMmPerS;
    this.#limit[slot] = Math.min(corner, speedMmPerS, this.#lastNominal);
    this.#lastX = outX;
    this.#lastY = outY;
    this.#lastZ = outZ;
    this.#lastNominal = speedMmPerS;
    this.#next++;
    return slot;
  }

  /** The head comes to rest here: all segments are settled. */
  stop(): void {
    this.#settle(this.#next - this.#first);
    this.#exit = 0;
    this.#lastNominal = 0;
  }

  #settle(count: number): void {
    const twoA = 2 * this.#limits.accelerationMmPerS2;
    const pending = this.#next - this.#first;
    const entry = this.#entry;
    let after = 0;
    entry[pending] = 0;
    for (let i = pending - 1; i >= 0; i--) {
      const slot = (this.#first + i) & (WINDOW - 1);
      const braking = Math.sqrt(after * after + twoA * this.#length[slot]!);
      after = Math.min(this.#limit[slot]!, braking);
      entry[i] = after;
    }
    let enter = this.#exit;
    for (let i = 0; i < count; i++) {
      const slot = (this.#first + i) & (WINDOW - 1);
      const length = this.#length[slot]!;
      const leave = Math.min(entry[i + 1]!, Math.sqrt(enter * enter + twoA * length));
      const { peakMmPerS, timeS } = profile(
        length,
        this.#nominal[slot]!,
        this.#limits.accelerationMmPerS2,
        enter,
        leave,
      );
      this.#planned(slot, enter, peakMmPerS, leave, timeS);
      enter = leave;
    }
    this.#exit = enter;
    this.#first += count;
  }
}

/** Speeds of the head along one path. */
export interface PlannedPath {
  lengthMm: number;
  timeS: number;
  /** Mean speed really reached: length over time, mm/s; 0 for a path without length. */
  reachedMmPerS: number;
  /** Highest speed anywhere on the path. */
  peakMmPerS: number;
}

/** Times one path after the other with one planner: making its window takes longer than timing a short path. */
export class PathTimer {
  readonly #planner: MotionPlanner;
  #timeS = 0;
  #peakMmPerS = 0;

  constructor(limits: MotionLimits) {
    this.#planner = new MotionPlanner(limits, (_, __, peak, ___, time) => {
      this.#timeS += time;
      this.#peakMmPerS = Math.max(this.#peakMmPerS, peak);
    });
  }

  /**
   * Time of a path of straight segments (x0, y0, x1, y1, … in mm), from rest to rest, at no more than `speedMmPerS`.
   * A closed path returns to its first point. Points that are no numbers, and segments without length, are passed over.
   */
  plan(xy: ArrayLike<number>, closed: boolean, speedMmPerS: number): PlannedPath {
    this.#timeS = 0;
    this.#peakMmPerS = 0;
    let lengthMm = 0;
    const points = Math.floor(xy.length / 2);
    for (let i = 1; i <= (closed ? points : points - 1); i++) {
      const to = i % points;
      const dx = xy[2 * to]! - xy[2 * i - 2]!;
      const dy = xy[2 * to + 1]! - xy[2 * i - 1]!;
      const length = Math.hypot(dx, dy);
      if (!(length > 0)) continue;
      lengthMm += length;
      this.#planner.push(length, speedMmPerS, dx / length, dy / length, 0, dx / length, dy / length, 0);
    }
    this.#planner.stop();
    const timeS = this.#timeS;
    return { lengthMm, timeS, peakMmPerS: this.#peakMmPerS, reachedMmPerS: timeS > 0 ? lengthMm / timeS : 0 };
  }
}
