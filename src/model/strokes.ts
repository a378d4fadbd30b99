import { grown } from '../geometry/segments/grow-array.ts';

/**
 * Powered motion, kept as parallel arrays in program order. Index i is one stroke: a line or an arc.
 * Coordinates are mm in the machine's frame (work offsets and G92 applied where they are known).
 */
export interface Strokes {
  count: number;
  startX: Float64Array;
  startY: Float64Array;
  startZ: Float64Array;
  endX: Float64Array;
  endY: Float64Array;
  endZ: Float64Array;
  /** Arc centre; without meaning on a line. Arcs outside the XY plane are kept as short lines. */
  centreX: Float64Array;
  centreY: Float64Array;
  /** Signed angle swept in radians, anticlockwise positive; 0 on a line. A full circle is ±2π, more turns are more. */
  sweepRad: Float64Array;
  /** Power setting as a fraction of full, 0..1 (may exceed 1 when the program asks for more). */
  setting: Float64Array;
  /** Programmed speed, mm/s; NaN when no feed was in force. */
  speedMmPerS: Float64Array;
  /** Length over time as the motion planner sees it: the mean speed really reached, mm/s. */
  reachedMmPerS: Float64Array;
  /** Slowest speed of the head inside the stroke (at its ends), mm/s. */
  slowestMmPerS: Float64Array;
  /** 1-based source line. */
  line: Uint32Array;
  /** Index into `Toolpath.labels`. */
  label: Uint32Array;
  /** Bit 0: power scaled with speed. Bit 1: the beam was off, or the head elsewhere, before this stroke (a new path starts). Bit 2: air assist on. */
  flags: Uint8Array;
}

export const STROKE_SCALED = 1;
export const STROKE_STARTS_PATH = 2;
export const STROKE_AIR = 4;

/** Rapids and unpowered moves at the feed. Kept only for pictures and the travel share: capped, in program order. */
export interface Travels {
  count: number;
  /** x0, y0, x1, y1 per travel. */
  xy: Float32Array;
  /** More travels than were kept. */
  dropped: number;
}

/** Most strokes that are kept: about 450 MB. A program with more is reported as not analysed. */
export const STROKE_LIMIT = 4_000_000;
/** Travels are only for pictures and shares. */
const TRAVEL_LIMIT = 100_000;

/** Length of stroke i: a line, an arc or a helix, mm. */
export function lengthOfStrokeMm(strokes: Strokes, i: number): number {
  const rise = strokes.endZ[i]! - strokes.startZ[i]!;
  const sweep = strokes.sweepRad[i]!;
  if (sweep !== 0) {
    const radius = Math.hypot(strokes.startX[i]! - strokes.centreX[i]!, strokes.startY[i]! - strokes.centreY[i]!);
    return Math.hypot(radius * sweep, rise);
  }
  return Math.hypot(strokes.endX[i]! - strokes.startX[i]!, strokes.endY[i]! - strokes.startY[i]!, rise);
}

/** Strokes in growing parallel arrays. */
export class StrokeStore {
  count = 0;
  /** Strokes beyond the limit. */
  dropped = 0;
  #capacity = 1024;
  startX = new Float64Array(1024);
  startY = new Float64Array(1024);
  startZ = new Float64Array(1024);
  endX = new Float64Array(1024);
  endY = new Float64Array(1024);
  endZ = new Float64Array(1024);
  centreX = new Float64Array(1024);
  centreY = new Float64Array(1024);
  sweepRad = new Float64Array(1024);
  setting = new Float64Array(1024);
  speedMmPerS = new Float64Array(1024);
  reachedMmPerS = new Float64Array(1024);
  slowestMmPerS = new Float64Array(1024);
  line = new Uint32Array(1024);
  label = new Uint32Array(1024);
  flags = new Uint8Array(1024);

  /** Room for one more stroke at index `count`; false when the limit is reached. */
  room(): boolean {
    if (this.count < this.#capacity) return true;
    if (this.count >= STROKE_LIMIT) {
      this.dropped++;
      return false;
    }
    // Memory that is not written to costs nothing, copying does: so grow in few steps.
    const capacity = Math.min(STROKE_LIMIT, this.#capacity * 16);
    this.startX = grown(this.startX, capacity);
    this.startY = grown(this.startY, capacity);
    this.startZ = grown(this.startZ, capacity);
    this.endX = grown(this.endX, capacity);
    this.endY = grown(this.endY, capacity);
    this.endZ = grown(this.endZ, capacity);
    this.centreX = grown(this.centreX, capacity);
    this.centreY = grown(this.centreY, capacity);
    this.sweepRad = grown(this.sweepRad, capacity);
    this.setting = grown(this.setting, capacity);
    this.speedMmPerS = grown(this.speedMmPerS, capacity);
    this.reachedMmPerS = grown(this.reachedMmPerS, capacity);
    this.slowestMmPerS = grown(this.slowestMmPerS, capacity);
    this.line = grown(this.line, capacity);
    this.label = grown(this.label, capacity);
    this.flags = grown(this.flags, capacity);
    this.#capacity = capacity;
    return true;
  }

  /** Views on the used part; nothing is copied. */
  finish(): Strokes {
    const n = this.count;
    return {
      count: n,
      startX: this.startX.subarray(0, n),
      startY: this.startY.subarray(0, n),
      startZ: this.startZ.subarray(0, n),
      endX: this.endX.subarray(0, n),
      endY: this.endY.subarray(0, n),
      endZ: this.endZ.subarray(0, n),
      centreX: this.centreX.subarray(0, n),
      centreY: this.centreY.subarray(0, n),
      sweepRad: this.sweepRad.subarray(0, n),
      setting: this.setting.subarray(0, n),
      speedMmPerS: this.speedMmPerS.subarray(0, n),
      reachedMmPerS: this.reachedMmPerS.subarray(0, n),
      slowestMmPerS: this.slowestMmPerS.subarray(0, n),
      line: this.line.subarray(0, n),
      label: this.label.subarray(0, n),
      flags: this.flags.subarray(0, n),
    };
  }
}

/** Unpowered moves, the first ones kept. */
export class TravelStore {
  count = 0;
  dropped = 0;
  #xy = new Float32Array(256);

  add(x0: number, y0: number, x1: number, y1: number): void {
    if (this.count === TRAVEL_LIMIT) {
      this.dropped++;
      return;
    }
    const at = 4 * this.count++;
    if (at + 4 > this.#xy.length) {
      const larger = new Float32Array(this.#xy.length * 2);
      larger.set(this.#xy);
      this.#xy = larger;
    }
    this.#xy[at] = x0;
    this.#xy[at + 1] = y0;
    this.#xy[at + 2] = x1;
    this.#xy[at + 3] = y1;
  }

  /** Forgets the travels after the first `count`. */
  rewind(count: number): void {
    this.count = Math.min(this.count, count);
  }

  finish(): Travels {
    return { count: this.count, xy: this.#xy.subarray(0, 4 * this.count), dropped: this.dropped };
  }
}
