/**
 * How much a job may cost: the one place where that is settled. Everything is counted in looks, about what it takes to compare two
 * segments (0.1 µs of a processor of 2020), never in seconds, so that the same job ends at the same place on every machine.
 *
 * Each search has a share of its own and none can use up another's. A file's size widens all of them, since what is drawn at length may
 * take longer; what a few bytes ask for without end may not.
 */
export interface WorkBudget {
  /** Which strokes run along the same line: passes, and with them the question of what goes through. */
  readonly passes: number;
  /** Passes that are predicted over all cuts, each about a tenth of a millisecond; where they lie at several focus positions they count for more. */
  readonly predictedPasses: number;
  /** What of the artwork the toolpath lacks, and the other way round; each. */
  readonly coverage: number;
  /** Lines that are drawn again. */
  readonly duplicates: number;
  readonly crossings: number;
  /** Bridges of material between two cuts. */
  readonly webs: number;
  /** Points of the outlines that artwork is drawn with. */
  readonly outlinePoints: number;
  /** Elements of artwork that others repeat, as `use` does in an SVG: each time counts. */
  readonly repeatedElements: number;
}

const SHARES: WorkBudget = {
  passes: 3_000_000,
  predictedPasses: 6_000,
  coverage: 1_000_000,
  duplicates: 1_000_000,
  crossings: 1_000_000,
  webs: 2_900_000,
  outlinePoints: 400_000,
  repeatedElements: 100_000,
};

/** However large a file is: what a job may hold in memory at a time. */
const MOST: Pick<WorkBudget, 'outlinePoints' | 'repeatedElements'> = {
  outlinePoints: 4_000_000,
  repeatedElements: 100_000,
};

/** Up to this size a job has the shares as they stand. */
const SMALL_BYTES = 100_000;
/** Shares grow with the file up to five times, and beyond this size again by as much for each half megabyte. */
const MOST_OF_SMALL = 5;
const LARGE_BYTES = 1_000_000;

/** The shares of a job whose files have so many bytes in all. */
export function workFor(bytes: number): WorkBudget {
  const grown = Math.max(1, Math.min(MOST_OF_SMALL, bytes / SMALL_BYTES), (MOST_OF_SMALL * bytes) / LARGE_BYTES);
  const share = (search: keyof WorkBudget) => Math.round(SHARES[search] * grown);
  return {
    passes: share('passes'),
    predictedPasses: share('predictedPasses'),
    coverage: share('coverage'),
    duplicates: share('duplicates'),
    crossings: share('crossings'),
    webs: share('webs'),
    outlinePoints: Math.min(MOST.outlinePoints, share('outlinePoints')),
    repeatedElements: Math.min(MOST.repeatedElements, share('repeatedElements')),
  };
}

/** How much of something was done, in words: "37 %", "less than 1 %". Never all of it, since then nothing needs to be said. */
export function shareDone(share: number): string {
  const percent = Math.min(99, Math.floor(100 * share));
  return percent < 1 ? 'less than 1 %' : `${percent} %`;
}
