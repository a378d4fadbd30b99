import { grown } from '../../geometry/segments/grow-array.ts';

/** More segments than this are not kept: some 80 MB. */
export const MOST_KEPT = 1_000_000;

/** Numbers for each segment: the unit directions in which it is entered and left. */
const DIRECTIONS = 6;

/**
 * What went to the motion planner, segment by segment, so that the time of a program can be planned anew with other speeds or more
 * passes without reading it again. Kept only where a reader is asked to: it costs 80 bytes a segment.
 */
export class MotionJournal {
  count = 0;
  /** Segments beyond the limit: then nothing can be planned anew. */
  dropped = 0;
  lengthMm = new Float64Array(1024);
  nominalMmPerS = new Float64Array(1024);
  /** Of segment i, from 6 i: the direction in which it is entered (x, y, z) and the one in which it is left. */
  directions = new Float64Array(1024 * DIRECTIONS);
  /** TRAVEL, CUT, or the index of a raster area. */
  kind = new Int32Array(1024);
  /** Of a cut: its first stroke, and how many it has. */
  firstStroke = new Uint32Array(1024);
  strokes = new Uint32Array(1024);
  /** Before these segments the head comes to rest, rising; parallel, the acceleration from there on, mm/s². */
  readonly rests: number[] = [];
  readonly accelerationsMmPerS2: number[] = [];

  add(
    segment: { lengthMm: number; nominalMmPerS: number; kind: number; firstStroke: number; strokes: number },
    directions: readonly [number, number, number, number, number, number],
    accelerationMmPerS2: number,
  ): void {
    if (this.count >= MOST_KEPT) {
      this.dropped++;
      return;
    }
    if (this.count === this.lengthMm.length) this.#grow();
    const i = this.count++;
    this.lengthMm[i] = segment.lengthMm;
    this.nominalMmPerS[i] = segment.nominalMmPerS;
    this.kind[i] = segment.kind;
    this.firstStroke[i] = segment.firstStroke;
    this.strokes[i] = segment.kind >= 0 ? 0 : segment.strokes;
    this.directions.set(directions, i * DIRECTIONS);
    if (this.accelerationsMmPerS2.at(-1) !== accelerationMmPerS2) this.#rest(i, accelerationMmPerS2);
  }

  /** The head comes to rest before the next segment. */
  rest(): void {
    const acceleration = this.accelerationsMmPerS2.at(-1);
    if (acceleration !== undefined && this.rests.at(-1) !== this.count) this.#rest(this.count, acceleration);
  }

  /** Segments from this one on have turned out to be of a raster area. */
  retake(from: number, area: number): void {
    for (let i = from; i < this.count; i++) {
      this.kind[i] = area;
      this.strokes[i] = 0;
    }
  }

  #rest(at: number, accelerationMmPerS2: number): void {
    if (this.rests.at(-1) === at) {
      this.accelerationsMmPerS2[this.rests.length - 1] = accelerationMmPerS2;
      return;
    }
    this.rests.push(at);
    this.accelerationsMmPerS2.push(accelerationMmPerS2);
  }

  #grow(): void {
    const capacity = Math.min(MOST_KEPT, this.lengthMm.length * 4);
    this.lengthMm = grown(this.lengthMm, capacity);
    this.nominalMmPerS = grown(this.nominalMmPerS, capacity);
    this.directions = grown(this.directions, capacity * DIRECTIONS);
    this.kind = grown(this.kind, capacity);
    this.firstStroke = grown(this.firstStroke, capacity);
    this.strokes = grown(this.strokes, capacity);
  }
}
