import { PointGrid } from '../index/point-grid.ts';
import type { Narrow } from './closest.ts';

/** Fewer points than this are looked through one by one: most outlines come near each other in a few places only. */
const FEW = 12;
/**
 * More than this lie so close that the cells are made much smaller than the reach: all of a cell that is within reach as a whole are, so
 * that the first answers for it, and the cells across the edge, which have to be read, hold few.
 */
const MANY = 200;
const CELL_SHARE = 0.7;
const CELL_SHARE_OF_MANY = 1 / 6;

/** Narrow places that are one: the narrowest, and the pair of segments that the group began with. */
export interface NarrowGroup {
  narrowest: Narrow;
  first: Narrow;
}

/**
 * Keeps the narrowest place of each neighbourhood between two outlines (or two parts of one): places within `reachMm` of each other,
 * and those along which two segments run side by side. In the order in which the groups begin along the first outline.
 */
export function groupedPlaces(found: Narrow[], reachMm: number): NarrowGroup[] {
  // In order along the first outline, so that a long narrow grows into one group from its beginning.
  found.sort((a, b) => a.segmentA - b.segmentA || a.segmentB - b.segmentB);
  const points = new NumberedPoints(found.length, reachMm);
  const groupOf: number[] = [];
  const groups = new Groups();
  for (const place of found) {
    const { x, y, farXy } = place;
    let mine = -1;
    for (let k = -2; k < farXy.length; k += 2) {
      const kin = points.near(k < 0 ? x : farXy[k]!, k < 0 ? y : farXy[k + 1]!);
      if (kin < 0) continue;
      mine = groups.joined(groupOf[kin]!, mine);
    }
    mine = groups.with(mine, place);
    for (let k = -2; k < farXy.length; k += 2) {
      points.add(k < 0 ? x : farXy[k]!, k < 0 ? y : farXy[k + 1]!);
      groupOf.push(mine);
    }
  }
  return groups.all();
}

/** Groups that may become parts of others. */
class Groups {
  /** Each group; the number of another once it has become part of that. */
  readonly #groups: (NarrowGroup | number)[] = [];

  all(): NarrowGroup[] {
    return this.#groups.filter((one) => typeof one !== 'number');
  }

  /** Makes `mine` (−1: none yet) part of another group, and answers with the number that both have from now on. */
  joined(other: number, mine: number): number {
    const root = this.#rootOf(other);
    if (mine >= 0 && root !== mine) {
      this.with(root, (this.#groups[mine] as NarrowGroup).narrowest);
      this.#groups[mine] = root;
    }
    return root;
  }

  /** Puts a place into a group, a new one where it has none (−1), and answers with its number. */
  with(group: number, place: Narrow): number {
    if (group < 0) return this.#groups.push({ narrowest: place, first: place }) - 1;
    const one = this.#groups[group] as NarrowGroup;
    if (place.distanceMm < one.narrowest.distanceMm) one.narrowest = place;
    return group;
  }

  #rootOf(group: number): number {
    const groups = this.#groups;
    let root = group;
    for (let up = groups[root]; typeof up === 'number'; up = groups[root]) root = up;
    // Whoever asks next has a shorter way.
    for (let at = group; at !== root; ) {
      const up = groups[at] as number;
      groups[at] = root;
      at = up;
    }
    return root;
  }
}

/** Points numbered as they come, to find the first of them within reach of a place. */
class NumberedPoints {
  readonly #reachMm: number;
  readonly #xy: number[] = [];
  readonly #many: ManyPoints | null;

  constructor(expected: number, reachMm: number) {
    this.#reachMm = reachMm;
    this.#many = expected > FEW ? new ManyPoints(expected, reachMm) : null;
  }

  add(x: number, y: number): void {
    if (this.#many) this.#many.add(x, y);
    else this.#xy.push(x, y);
  }

  near(x: number, y: number): number {
    if (this.#many) return this.#many.near(x, y);
    const reach = this.#reachMm;
    for (let k = 0; k < this.#xy.length; k += 2) {
      const dx = this.#xy[k]! - x;
      const dy = this.#xy[k + 1]! - y;
      if (dx * dx + dy * dy <= reach * reach) return k >> 1;
    }
    return -1;
  }
}

/** The same in a grid. Many places of jagged outlines are one, a corner that many lines come near: it is looked up once. */
class ManyPoints {
  readonly #reachMm: number;
  readonly #points: PointGrid;
  /** Places for which a point was found, and its number. */
  readonly #asked: PointGrid;
  readonly #answers: number[] = [];

  constructor(expected: number, reachMm: number) {
    this.#reachMm = reachMm;
    const share = expected > MANY ? CELL_SHARE_OF_MANY : CELL_SHARE;
    this.#points = new PointGrid(reachMm, expected, share * reachMm);
    this.#asked = new PointGrid(0, expected);
  }

  add(x: number, y: number): void {
    this.#points.add(x, y);
  }

  near(x: number, y: number): number {
    const asked = this.#asked.near(x, y, 0);
    // Points that were added since have higher numbers.
    if (asked >= 0) return this.#answers[asked]!;
    const found = this.#points.near(x, y, this.#reachMm);
    if (found >= 0) this.#answers[this.#asked.add(x, y)] = found;
    return found;
  }
}
