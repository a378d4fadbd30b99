import { SegmentIndex } from '../../geometry/index/segment-index.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import { distanceToSegment, type Segments } from '../../geometry/segments/segments.ts';
import type { StrokeContour } from '../strokes/stroke-contours.ts';

/** A loose end this near to another cut ends on it: half a kerf and what programs round, mm. */
const ON_ANOTHER_MM = 0.3;
/** Parts of the index, mm: ends have no length. */
const PART_MM = 1;
/** Consecutive segments of a contour that are searched for together. */
const TOGETHER = 8;
/** Of so few ends no smaller index is made. */
const FEW = 64;

/**
 * Numbers of the open contours with an end that does not lie on another contour, ascending. The ends are indexed and all
 * contours pass by them: ends are few beside what they may lie on.
 */
export function looseEnds(contours: readonly StrokeContour[]): number[] {
  const search = new EndSearch(endsOfOpen(contours));
  for (let c = 0; c < contours.length && search.left > 0; c++) {
    const { xy, closed } = contours[c]!;
    const points = xy.length >> 1;
    const segments = closed ? points : points - 1;
    for (let from = 0; from < segments; from += TOGETHER) {
      search.takeThoseOn(c, xy, from, Math.min(from + TOGETHER, segments));
    }
  }
  return search.owners();
}

/** Ends that nothing was found at so far. */
class EndSearch {
  /** How many there are. */
  left: number;
  #ends: Segments;
  #index: SegmentIndex;
  /** 1 for the indexed ends that are still loose. */
  #loose: Uint8Array;

  constructor(ends: Segments) {
    this.left = ends.count;
    this.#ends = ends;
    this.#index = new SegmentIndex(ends, PART_MM);
    this.#loose = new Uint8Array(ends.count).fill(1);
  }

  /** Takes the ends that lie on segments `from … to − 1` of contour `c` from the loose ones. */
  takeThoseOn(c: number, xy: Float64Array, from: number, to: number): void {
    const { x0, y0, owner } = this.#ends;
    const near = this.#index.searchBox(boxOf(xy, from, to), ON_ANOTHER_MM);
    for (let k = 0; k < this.#index.foundCount; k++) {
      const end = near[k]!;
      if (this.#loose[end] === 0 || owner[end] === c) continue;
      if (!passesBy(x0[end]!, y0[end]!, xy, from, to)) continue;
      this.#loose[end] = 0;
      this.left--;
    }
    // Where contours are crowded most ends are soon found to lie on one: what is left is looked for alone.
    if (2 * this.left < this.#loose.length && this.#loose.length > FEW) this.#indexThoseLeft();
  }

  /** Contours of the ends that are left, ascending. */
  owners(): number[] {
    const open = new Set<number>();
    for (let end = 0; end < this.#loose.length; end++) if (this.#loose[end] === 1) open.add(this.#ends.owner[end]!);
    return [...open];
  }

  #indexThoseLeft(): void {
    const { x0, y0, owner } = this.#ends;
    const isLeft = (_: number, end: number): boolean => this.#loose[end] === 1;
    const x = x0.filter(isLeft);
    const y = y0.filter(isLeft);
    this.#ends = { count: x.length, x0: x, y0: y, x1: x, y1: y, owner: owner.filter(isLeft), ignored: 0 };
    this.#index = new SegmentIndex(this.#ends, PART_MM);
    this.#loose = new Uint8Array(x.length).fill(1);
  }
}

/** Box around points `from … to` of a contour; the one after the last is the first. */
function boxOf(xy: Float64Array, from: number, to: number): Box {
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (let point = from; point <= to; point++) {
    const at = (2 * point) % xy.length;
    box.minX = Math.min(box.minX, xy[at]!);
    box.minY = Math.min(box.minY, xy[at + 1]!);
    box.maxX = Math.max(box.maxX, xy[at]!);
    box.maxY = Math.max(box.maxY, xy[at + 1]!);
  }
  return box;
}

/** Whether one of the segments `from … to − 1` of a contour comes near to a place. */
function passesBy(x: number, y: number, xy: Float64Array, from: number, to: number): boolean {
  for (let i = from; i < to; i++) {
    const next = (2 * i + 2) % xy.length;
    if (distanceToSegment(x, y, xy[2 * i]!, xy[2 * i + 1]!, xy[next]!, xy[next + 1]!) <= ON_ANOTHER_MM) return true;
  }
  return false;
}

/** The two ends of each open contour as segments without length, owned by the contour. */
function endsOfOpen(contours: readonly StrokeContour[]): Segments {
  const open = Array.from(contours.keys()).filter((c) => !contours[c]!.closed);
  const x = new Float64Array(2 * open.length);
  const y = new Float64Array(2 * open.length);
  const owner = new Uint32Array(2 * open.length);
  for (const [k, c] of open.entries()) {
    const { xy } = contours[c]!;
    x.set([xy[0]!, xy[xy.length - 2]!], 2 * k);
    y.set([xy[1]!, xy[xy.length - 1]!], 2 * k);
    owner.fill(c, 2 * k, 2 * k + 2);
  }
  return { count: x.length, x0: x, y0: y, x1: x, y1: y, owner, ignored: 0 };
}
