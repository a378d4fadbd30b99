import { PointGrid } from '../index/point-grid.ts';

/** Things with two ends, as parallel arrays: segments, or strokes by their ends. */
export interface Ends {
  count: number;
  x0: Float64Array;
  y0: Float64Array;
  x1: Float64Array;
  y1: Float64Array;
}

/** Items joined end to end. Chain i holds `item[start[i]] … item[start[i + 1] - 1]` in order. */
export interface Chains {
  count: number;
  start: Uint32Array;
  item: Uint32Array;
  /** 1 where the item is run through from its end to its start. */
  reversed: Uint8Array;
  closed: Uint8Array;
  /** Where each chain begins and ends, mm. */
  startX: Float64Array;
  startY: Float64Array;
  endX: Float64Array;
  endY: Float64Array;
  /** Distance between the two ends of each chain, mm. */
  gapMm: Float64Array;
}

/** What has to be known of items beyond their ends. */
export interface Course {
  /** Length of an item, mm, where it is no straight line (a full circle has its ends in one place). */
  readonly lengthOf?: (item: number) => number;
  /**
   * Whether two items leave the place at which these ends of them meet along the same line, so that the one would run back along the
   * other. An end is twice the item's number, and one more where the item ends there.
   */
  readonly leaveTogether?: (end: number, other: number) => boolean;
}

/**
 * Joins items end to end into chains: first those that follow one another in the given order, then open runs whose ends
 * lie within `toleranceMm`, turned round where needed. A chain is closed when its ends meet. Where more than two ends
 * meet, the earliest item wins. With `leaveTogether` no chain turns back where it came from: a line that is run along twice is two
 * chains, open ones.
 */
export function joinChains(ends: Ends, toleranceMm: number, course: Course = {}): Chains {
  return new Joiner(ends, findRuns(ends, toleranceMm, course), toleranceMm, course).join();
}

/** Items that follow each other in order, end to start, before any are turned round: `start[r]` up to `start[r + 1]`. */
interface Runs {
  count: number;
  start: Uint32Array;
  closed: Uint8Array;
}

function findRuns(ends: Ends, tolerance: number, { lengthOf, leaveTogether }: Course): Runs {
  const { count, x0, y0, x1, y1 } = ends;
  const start = new Uint32Array(count + 1);
  const closed = new Uint8Array(count);
  let runs = 0;
  let first = 0;
  let length = 0;
  for (let i = 0; i < count; i++) {
    length += lengthOf?.(i) ?? apart(x0[i]!, y0[i]!, x1[i]!, y1[i]!);
    const home = apart(x0[first]!, y0[first]!, x1[i]!, y1[i]!) <= tolerance;
    const closes = home && length > 4 * tolerance;
    const touches = i + 1 < count && apart(x1[i]!, y1[i]!, x0[i + 1]!, y0[i + 1]!) <= tolerance;
    if (touches && !closes && !leaveTogether?.(2 * i + 1, 2 * i + 2)) continue;
    closed[runs] = closes ? 1 : 0;
    start[++runs] = i + 1;
    first = i + 1;
    length = 0;
  }
  return { count: runs, start, closed };
}

/** Joins runs by their ends; those of run r are the points 2r (start) and 2r + 1 (end). */
class Joiner {
  readonly #ends: Ends;
  readonly #runs: Runs;
  readonly #tolerance: number;
  readonly #course: Course;
  readonly #points: PointGrid;
  readonly #used: Uint8Array;

  constructor(ends: Ends, runs: Runs, tolerance: number, course: Course) {
    this.#ends = ends;
    this.#runs = runs;
    this.#tolerance = tolerance;
    this.#course = course;
    this.#used = new Uint8Array(runs.count);
    this.#points = new PointGrid(tolerance, 2 * runs.count);
    for (let r = 0; r < runs.count; r++) {
      for (const point of [2 * r, 2 * r + 1]) {
        this.#points.add(this.#xOf(point), this.#yOf(point));
        if (runs.closed[r] === 1) this.#points.remove(point);
      }
    }
  }

  join(): Chains {
    const writer = new ChainWriter(this.#ends, this.#runs, this.#tolerance);
    for (let r = 0; r < this.#runs.count; r++) {
      if (this.#used[r] === 1) continue;
      this.#take(r);
      writer.put(this.#runs.closed[r] === 1 ? [2 * r] : this.#chainFrom(r));
    }
    return writer.finish();
  }

  /** Grows a chain from run r at its end, then at its start, until it closes or nothing touches it. Runs by the point they begin with. */
  #chainFrom(r: number): number[] {
    const after = [2 * r];
    const before: number[] = [];
    for (const forwards of [true, false]) {
      for (;;) {
        const head = before[before.length - 1] ?? after[0]!;
        const tail = otherEnd(after[after.length - 1]!);
        const parts = after.length + before.length;
        if (parts > 1 && this.#apart(head, tail) <= this.#tolerance) break;
        const from = forwards ? tail : head;
        const point = this.#points.near(this.#xOf(from), this.#yOf(from), this.#tolerance, this.#goingOnFrom(from));
        if (point < 0) break;
        this.#take(point >> 1);
        if (forwards) after.push(point);
        else before.push(otherEnd(point));
      }
    }
    return [...before.reverse(), ...after];
  }

  /** Whether a chain that has come to one point may go on at another; undefined where it may at all of them. */
  #goingOnFrom(from: number): ((point: number) => boolean) | undefined {
    const { leaveTogether } = this.#course;
    return leaveTogether && ((point) => !leaveTogether(this.#endAt(from), this.#endAt(point)));
  }

  /** The end of an item that lies at a point. */
  #endAt(point: number): number {
    const { start } = this.#runs;
    return point & 1 ? 2 * start[(point >> 1) + 1]! - 1 : 2 * start[point >> 1]!;
  }

  #take(r: number): void {
    this.#used[r] = 1;
    this.#points.remove(2 * r);
    this.#points.remove(2 * r + 1);
  }

  #apart(a: number, b: number): number {
    return apart(this.#xOf(a), this.#yOf(a), this.#xOf(b), this.#yOf(b));
  }

  #xOf(point: number): number {
    const end = this.#endAt(point);
    return (end & 1 ? this.#ends.x1 : this.#ends.x0)[end >> 1]!;
  }

  #yOf(point: number): number {
    const end = this.#endAt(point);
    return (end & 1 ? this.#ends.y1 : this.#ends.y0)[end >> 1]!;
  }
}

/** The other end of the run that a point ends. */
const otherEnd = (point: number): number => point ^ 1;

const apart = (x0: number, y0: number, x1: number, y1: number): number =>
  Math.sqrt((x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0));

class ChainWriter {
  readonly #ends: Ends;
  readonly #runs: Runs;
  readonly #tolerance: number;
  readonly #start: number[] = [0];
  readonly #item: Uint32Array;
  readonly #reversed: Uint8Array;
  readonly #closed: number[] = [];
  readonly #corners: number[] = [];
  #used = 0;

  constructor(ends: Ends, runs: Runs, tolerance: number) {
    this.#ends = ends;
    this.#runs = runs;
    this.#tolerance = tolerance;
    this.#item = new Uint32Array(ends.count);
    this.#reversed = new Uint8Array(ends.count);
  }

  /** A chain of runs, each by the point it begins with. */
  put(points: readonly number[]): void {
    const from = this.#used;
    for (const point of points) {
      const first = this.#runs.start[point >> 1]!;
      const last = this.#runs.start[(point >> 1) + 1]! - 1;
      const turned = point & 1;
      for (let k = 0; k <= last - first; k++) {
        this.#item[this.#used] = turned ? last - k : first + k;
        this.#reversed[this.#used++] = turned;
      }
    }
    const { x0, y0, x1, y1 } = this.#ends;
    const a = this.#item[from]!;
    const b = this.#item[this.#used - 1]!;
    const [sx, sy] = this.#reversed[from] ? [x1[a]!, y1[a]!] : [x0[a]!, y0[a]!];
    const [ex, ey] = this.#reversed[this.#used - 1] ? [x0[b]!, y0[b]!] : [x1[b]!, y1[b]!];
    const meets = points.length > 1 && apart(sx, sy, ex, ey) <= this.#tolerance;
    this.#closed.push(this.#runs.closed[points[0]! >> 1]! || meets ? 1 : 0);
    this.#corners.push(sx, sy, ex, ey);
    this.#start.push(this.#used);
  }

  finish(): Chains {
    const n = this.#closed.length;
    const corner = (at: number): Float64Array => Float64Array.from({ length: n }, (_, i) => this.#corners[4 * i + at]!);
    const [startX, startY, endX, endY] = [corner(0), corner(1), corner(2), corner(3)];
    return {
      count: n,
      start: Uint32Array.from(this.#start),
      item: this.#item,
      reversed: this.#reversed,
      closed: Uint8Array.from(this.#closed),
      startX,
      startY,
      endX,
      endY,
      gapMm: Float64Array.from({ length: n }, (_, i) => Math.hypot(startX[i]! - endX[i]!, startY[i]! - endY[i]!)),
    };
  }
}
