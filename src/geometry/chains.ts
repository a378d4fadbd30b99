import { PointGrid } from './points.ts';

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

/** Items that follow each other in order, end to start, before any are turned round. */
interface Run {
  first: number;
  last: number;
  closed: boolean;
}

/**
 * Joins items end to end into chains: first those that follow one another in the given order, then open runs whose ends
 * lie within `toleranceMm`, turned round where needed. A chain is closed when its ends meet. Where more than two ends
 * meet, the earliest item wins. `lengthMm` gives item lengths where an item is no straight line (a full circle has its
 * ends in one place).
 */
export function joinChains(ends: Ends, toleranceMm: number, lengthMm?: Float64Array): Chains {
  const runs = findRuns(ends, toleranceMm, lengthMm);
  const grid = new PointGrid(toleranceMm);
  // Ends of run r are the points 2r (start) and 2r + 1 (end).
  for (const run of runs) {
    grid.add(ends.x0[run.first]!, ends.y0[run.first]!);
    grid.add(ends.x1[run.last]!, ends.y1[run.last]!);
  }
  const take = (r: number): void => {
    grid.remove(2 * r);
    grid.remove(2 * r + 1);
  };
  for (const [r, run] of runs.entries()) if (run.closed) take(r);

  const writer = new ChainWriter(ends);
  const used = new Uint8Array(runs.length);
  for (const [r, run] of runs.entries()) {
    if (used[r]) continue;
    used[r] = 1;
    take(r);
    const parts = [{ run: r, turned: false }];
    if (!run.closed) extend(parts, runs, ends, grid, toleranceMm, used, take);
    writer.put(
      parts.map(({ run: at, turned }) => ({ ...runs[at]!, turned })),
      toleranceMm,
    );
  }
  return writer.finish();
}

interface Part {
  run: number;
  turned: boolean;
}

/** Grows a chain of runs at its end, then at its start, until it closes or nothing touches it. */
function extend(
  parts: Part[],
  runs: readonly Run[],
  ends: Ends,
  grid: PointGrid,
  tolerance: number,
  used: Uint8Array,
  take: (run: number) => void,
): void {
  const endOf = (part: Part, atEnd: boolean): [number, number] => {
    const run = runs[part.run]!;
    return atEnd !== part.turned
      ? [ends.x1[run.last]!, ends.y1[run.last]!]
      : [ends.x0[run.first]!, ends.y0[run.first]!];
  };
  const before: Part[] = [];
  for (const forwards of [true, false]) {
    for (;;) {
      const head = before[before.length - 1] ?? parts[0]!;
      const tail = parts[parts.length - 1]!;
      const [hx, hy] = endOf(head, false);
      const [tx, ty] = endOf(tail, true);
      if (parts.length + before.length > 1 && Math.hypot(hx - tx, hy - ty) <= tolerance) break;
      const point = grid.near(forwards ? tx : hx, forwards ? ty : hy, tolerance, () => true);
      if (point < 0) break;
      const run = point >> 1;
      used[run] = 1;
      take(run);
      const atItsEnd = (point & 1) === 1;
      if (forwards) parts.push({ run, turned: atItsEnd });
      else before.push({ run, turned: !atItsEnd });
    }
  }
  if (before.length > 0) {
    const all = [...before.reverse(), ...parts];
    parts.length = 0;
    for (const part of all) parts.push(part);
  }
}

function findRuns(ends: Ends, tolerance: number, lengthMm: Float64Array | undefined): Run[] {
  const runs: Run[] = [];
  const { count, x0, y0, x1, y1 } = ends;
  let first = 0;
  let length = 0;
  for (let i = 0; i < count; i++) {
    length += lengthMm?.[i] ?? Math.hypot(x1[i]! - x0[i]!, y1[i]! - y0[i]!);
    const home = Math.hypot(x1[i]! - x0[first]!, y1[i]! - y0[first]!) <= tolerance;
    const closed = home && length > 4 * tolerance;
    const goesOn = i + 1 < count && Math.hypot(x1[i]! - x0[i + 1]!, y1[i]! - y0[i + 1]!) <= tolerance;
    if (goesOn && !closed) continue;
    runs.push({ first, last: i, closed });
    first = i + 1;
    length = 0;
  }
  return runs;
}

class ChainWriter {
  readonly #ends: Ends;
  readonly #start: number[] = [0];
  readonly #item: Uint32Array;
  readonly #reversed: Uint8Array;
  readonly #closed: number[] = [];
  readonly #corners: number[] = [];
  #used = 0;

  constructor(ends: Ends) {
    this.#ends = ends;
    this.#item = new Uint32Array(ends.count);
    this.#reversed = new Uint8Array(ends.count);
  }

  put(runs: readonly (Run & { turned: boolean })[], tolerance: number): void {
    const from = this.#used;
    for (const { first, last, turned } of runs) {
      for (let k = 0; k <= last - first; k++) {
        this.#item[this.#used] = turned ? last - k : first + k;
        this.#reversed[this.#used++] = turned ? 1 : 0;
      }
    }
    const { x0, y0, x1, y1 } = this.#ends;
    const a = this.#item[from]!;
    const b = this.#item[this.#used - 1]!;
    const [sx, sy] = this.#reversed[from] ? [x1[a]!, y1[a]!] : [x0[a]!, y0[a]!];
    const [ex, ey] = this.#reversed[this.#used - 1] ? [x0[b]!, y0[b]!] : [x1[b]!, y1[b]!];
    const meets = runs.length > 1 && Math.hypot(sx - ex, sy - ey) <= tolerance;
    this.#closed.push(runs[0]!.closed || meets ? 1 : 0);
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
