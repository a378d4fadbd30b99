import type { Found } from '../../units/found.ts';
import { shareDone } from '../../units/work.ts';
import { partLengthMm, SegmentIndex } from '../index/segment-index.ts';
import { neighbours } from '../segments/neighbours.ts';
import { type Segments, segmentsOf } from '../segments/segments.ts';
import { ClosestPlaces, type Narrow } from './closest.ts';
import { type EqualOutlines, equalOutlines, segmentMoves } from './equal-outlines.ts';
import { groupedPlaces, type NarrowGroup } from './narrow-groups.ts';
import type { Polyline } from './outline.ts';

/** A place where two lines come near to each other and part again. */
export interface NarrowPlace {
  distanceMm: number;
  /** Middle between the two lines. */
  x: number;
  y: number;
  /** Segments (of `segmentsOf(lines)`) and the polylines they belong to, the one that was drawn first before the other. */
  segmentA: number;
  segmentB: number;
  contourA: number;
  contourB: number;
  /** Two open ends face each other, as at a bridge left in a cut. */
  endOn: boolean;
}

/** What keeping a narrow pair costs, with finding its neighbours and what lies around it, in pairs that are only measured. */
const COST_OF_KEEPING = 30;

/**
 * Finds where cuts leave less than `limitMm` between them: between two outlines, or two parts of one. Only true
 * narrows count, where the distance is least: the sides of a corner and the neighbours along a curve come nearer and
 * nearer until they meet, and are left out. Lines nearer than `touchMm` (default 0.01) touch, cross or lie on each
 * other, which other searches report. Places within a few millimetres between the same outlines are one (the narrowest of them is kept),
 * and so is a stretch along which two of their segments run side by side. In order of distance. Outlines that are drawn several times
 * are measured once, and what was found is told of each. `mostWork` bounds the pairs of segments that are measured, and the places.
 */
export function narrowPlaces(
  lines: readonly Polyline[],
  limitMm: number,
  {
    touchMm = 0.01,
    mostWork = Infinity,
    equal = equalOutlines(lines),
  }: { touchMm?: number; mostWork?: number; equal?: EqualOutlines } = {},
): Found<NarrowPlace> {
  const search = new NarrowSearch(lines, equal, { limitMm, touchMm, mostWork });
  const share = search.run();
  const groups = search.grouped();
  const { places, toldAll } = toldOfEach(groups, lines, equal, mostWork / COST_OF_KEEPING);
  const endedEarly = [
    share < 1
      ? `so many lines run close together that the distances between ${shareDone(share)} of them were measured`
      : null,
    toldAll ? null : 'the same narrow places are drawn so often that not all were listed',
  ].find((why) => why !== null);
  return { items: places, endedEarly: endedEarly ?? null };
}

/** What was found between two kinds of outlines; of the pair of lines, the one that was drawn first is of kind A. */
interface BetweenKinds {
  readonly kindA: number;
  readonly kindB: number;
  /** Within each outline of the kind, and not between two. */
  readonly within: boolean;
  readonly found: Narrow[];
}

/** Searches one outline of each kind. */
class NarrowSearch {
  readonly #segments: Segments;
  readonly #equal: EqualOutlines;
  readonly #limits: { limitMm: number; touchMm: number; mostWork: number };
  readonly #reachMm: number;
  readonly #closest: ClosestPlaces;
  readonly #near: ReturnType<typeof neighbours>;
  readonly #between = new Map<number, BetweenKinds>();
  /** What keeping what was found has cost. */
  #work = 0;

  constructor(
    lines: readonly Polyline[],
    equal: EqualOutlines,
    limits: { limitMm: number; touchMm: number; mostWork: number },
  ) {
    const kinds = equal.firsts.map((i) => lines[i]!);
    this.#segments = segmentsOf(kinds);
    this.#near = neighbours(this.#segments, kinds);
    this.#equal = equal;
    this.#limits = limits;
    this.#reachMm = Math.max(2, 2 * limits.limitMm);
    this.#closest = new ClosestPlaces(this.#segments, this.#near, { ...limits, reachMm: this.#reachMm });
  }

  /** Answers with the share of the segments that it came to. */
  run(): number {
    const { limitMm, mostWork } = this.#limits;
    const { count, x0, y0, x1, y1 } = this.#segments;
    const index = new SegmentIndex(this.#segments, Math.max(limitMm, partLengthMm(this.#segments)));
    let i = 0;
    for (; i < count && index.partsMet + this.#work < mostWork; i++) {
      const items = index.search(x0[i]!, y0[i]!, x1[i]!, y1[i]!, limitMm);
      for (let k = 0; k < index.foundCount; k++) {
        const j = items[k]!;
        if (j < i && this.#near.before[i] !== j && this.#near.after[i] !== j) this.#measure(i, j);
      }
    }
    return count === 0 ? 1 : i / count;
  }

  /** Measures two segments as of each pair of outlines that has them: the later of the two is asked first, which settles ties. */
  #measure(i: number, j: number): void {
    const { owner } = this.#segments;
    const { members } = this.#equal;
    const [kindI, kindJ] = [owner[i]!, owner[j]!];
    if (kindI === kindJ) {
      this.#keep(kindJ, kindI, true, this.#closest.between(i, j));
      if (members[kindI]!.length === 1) return;
      this.#keep(kindJ, kindI, false, this.#closest.between(i, j));
      this.#keep(kindJ, kindI, false, this.#closest.between(j, i));
      return;
    }
    this.#keep(kindJ, kindI, false, this.#closest.between(i, j));
    const [ofI, ofJ] = [members[kindI]!, members[kindJ]!];
    if (ofI[0]! < ofJ[ofJ.length - 1]!) this.#keep(kindI, kindJ, false, this.#closest.between(j, i));
  }

  #keep(kindA: number, kindB: number, within: boolean, found: Narrow | null): void {
    if (found === null) return;
    this.#work += COST_OF_KEEPING;
    const key = 2 * (kindA * this.#equal.firsts.length + kindB) + (within ? 1 : 0);
    const known = this.#between.get(key);
    if (known) known.found.push(found);
    else this.#between.set(key, { kindA, kindB, within, found: [found] });
  }

  grouped(): (BetweenKinds & { groups: NarrowGroup[] })[] {
    return [...this.#between.values()].map((one) => ({ ...one, groups: groupedPlaces(one.found, this.#reachMm) }));
  }
}

/** A place, and the pair of segments that its group began with. */
interface Told {
  readonly place: NarrowPlace;
  readonly firstA: number;
  readonly firstB: number;
}

/** What was found of kinds, told of each pair of outlines; at most about `mostPlaces`, and then not all. */
function toldOfEach(
  between: readonly (BetweenKinds & { groups: NarrowGroup[] })[],
  lines: readonly Polyline[],
  equal: EqualOutlines,
  mostPlaces: number,
): { places: NarrowPlace[]; toldAll: boolean } {
  const { members } = equal;
  const move = segmentMoves(lines, equal);
  const told: Told[] = [];
  let toldAll = true;
  for (const { kindA, kindB, within, groups } of between) {
    for (const [a, b] of pairsOfLines(members[kindA]!, members[kindB]!, within)) {
      if (told.length >= mostPlaces) {
        toldAll = false;
        break;
      }
      const moves = { a: move[a]!, b: move[b]! };
      for (const group of groups) told.push(toldOf(group, a, b, moves));
    }
  }
  told.sort(
    (p, q) =>
      p.place.distanceMm - q.place.distanceMm ||
      p.place.segmentA - q.place.segmentA ||
      p.firstA - q.firstA ||
      p.firstB - q.firstB,
  );
  return { places: told.map(({ place }) => place), toldAll };
}

/** Each line of kind A with each that was drawn after it of kind B; `within`: each with itself. */
function* pairsOfLines(
  ofA: readonly number[],
  ofB: readonly number[],
  within: boolean,
): Generator<readonly [number, number]> {
  for (const a of ofA) {
    if (within) yield [a, a];
    else for (const b of ofB) if (b > a) yield [a, b];
  }
}

/** A group between lines a and b, whose segments have other numbers than those of their kinds. */
function toldOf({ narrowest, first }: NarrowGroup, a: number, b: number, moves: { a: number; b: number }): Told {
  const { distanceMm, x, y, endOn, segmentA, segmentB } = narrowest;
  return {
    place: {
      distanceMm,
      x,
      y,
      segmentA: segmentA + moves.a,
      segmentB: segmentB + moves.b,
      contourA: a,
      contourB: b,
      endOn,
    },
    firstA: first.segmentA + moves.a,
    firstB: first.segmentB + moves.b,
  };
}
