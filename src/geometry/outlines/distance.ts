import type { Found } from '../../units/found.ts';
import { PointGrid } from '../index/point-grid.ts';
import { SegmentIndex } from '../index/segment-index.ts';
import { type Neighbours, neighbours } from '../segments/neighbours.ts';
import { type Segments, segmentsOf } from '../segments/segments.ts';
import type { Polyline } from './outline.ts';

/** A place where two lines come near to each other and part again. */
export interface NarrowPlace {
  distanceMm: number;
  /** Middle between the two lines. */
  x: number;
  y: number;
  /** Segments (of `segmentsOf(lines)`) and the polylines they belong to. */
  segmentA: number;
  segmentB: number;
  contourA: number;
  contourB: number;
  /** Two open ends face each other, as at a bridge left in a cut. */
  endOn: boolean;
}

/** Candidates, each pair from both sides, before the search gives up. */
const MOST_CANDIDATES = 40_000_000;
/** Narrow pairs that are kept before they are merged into places. */
const MOST_FOUND = 200_000;

/** A line may lean towards the other by this share before a nearest point at its end is no least distance. */
const LEAN = 0.02;

/**
 * Finds where cuts leave less than `limitMm` between them: between two outlines, or two parts of one. Only true
 * narrows count, where the distance is least: the sides of a corner and the neighbours along a curve come nearer and
 * nearer until they meet, and are left out. Lines nearer than `touchMm` (default 0.01) touch, cross or lie on each
 * other, which other searches report. Places within a few millimetres between the same outlines are one (the narrowest of them is kept),
 * and so is a stretch along which two of their segments run side by side. In order of distance. `mostCandidates` bounds the work.
 */
export function narrowPlaces(
  lines: readonly Polyline[],
  limitMm: number,
  { touchMm = 0.01, mostCandidates = MOST_CANDIDATES } = {},
): Found<NarrowPlace> {
  const segments = segmentsOf(lines);
  const near = neighbours(segments, lines);
  const { count, x0, y0, x1, y1 } = segments;
  const index = new SegmentIndex(segments, Math.max(1, limitMm));
  const reachMm = Math.max(2, 2 * limitMm);
  const found: Narrow[] = [];
  let candidates = 0;
  let i = 0;
  for (; i < count && candidates < mostCandidates && found.length < MOST_FOUND; i++) {
    const items = index.search(x0[i]!, y0[i]!, x1[i]!, y1[i]!, limitMm);
    candidates += index.foundCount;
    for (let k = 0; k < index.foundCount; k++) {
      const j = items[k]!;
      if (j >= i || near.before[i] === j || near.after[i] === j) continue;
      const place = closest(segments, near, i, j, limitMm, touchMm);
      if (!place) continue;
      const farXy = isAlone(near, i) && isAlone(near, j) ? NONE_FAR : farEnds(segments, i, j, limitMm, place, reachMm);
      found.push({ place, farXy });
    }
  }
  const endedEarly =
    i === count ? null : 'so many lines run close together that not all distances between them could be measured';
  return { items: merged(found, reachMm), endedEarly };
}

/** A place with the ends of the stretch over which two segments run side by side, where these are far from it. */
interface Narrow {
  place: NarrowPlace;
  /** x and y, one after the other. */
  farXy: readonly number[];
}

const NONE_FAR: readonly number[] = [];

/**
 * The ends of the stretch along which two segments stay within the limit, as far as they lie beyond `reachMm` of the place. The
 * distance of a line from another is convex, so that all between two near points is near.
 */
function farEnds(
  s: Segments,
  i: number,
  j: number,
  limitMm: number,
  { x, y }: NarrowPlace,
  reachMm: number,
): readonly number[] {
  let far: number[] | null = null;
  for (let end = 0; end < 4; end++) {
    const from = end < 2 ? i : j;
    const to = end < 2 ? j : i;
    const nearest = { distance: limitMm, px: 0, py: 0, qx: 0, qy: 0 };
    const atStart = end % 2 === 0;
    fromEnd(s, to, atStart ? s.x0[from]! : s.x1[from]!, atStart ? s.y0[from]! : s.y1[from]!, true, nearest);
    if (nearest.distance >= limitMm) continue;
    const endX = (nearest.px + nearest.qx) / 2;
    const endY = (nearest.py + nearest.qy) / 2;
    if (Math.hypot(endX - x, endY - y) <= reachMm) continue;
    // Where both lines end the stretch ends once.
    if (far && Math.hypot(endX - far[0]!, endY - far[1]!) <= reachMm) continue;
    far ??= [];
    far.push(endX, endY);
  }
  return far ?? NONE_FAR;
}

/** Whether a segment is all of its line: two such lines have one narrow place at most. */
const isAlone = (near: Neighbours, e: number): boolean => near.before[e]! < 0 && near.after[e]! < 0;

/** Where segments i and j are nearest, when that is within the limit and a least distance along both outlines. */
function closest(
  s: Segments,
  near: Neighbours,
  i: number,
  j: number,
  limitMm: number,
  touchMm: number,
): NarrowPlace | null {
  const best: Nearest = { distance: limitMm, px: 0, py: 0, qx: 0, qy: 0 };
  // Two segments that do not cross are nearest at an end of one of them.
  fromEnd(s, i, s.x0[j]!, s.y0[j]!, false, best);
  fromEnd(s, i, s.x1[j]!, s.y1[j]!, false, best);
  fromEnd(s, j, s.x0[i]!, s.y0[i]!, true, best);
  fromEnd(s, j, s.x1[i]!, s.y1[i]!, true, best);
  if (best.distance >= limitMm || best.distance <= touchMm) return null;
  const { px, py, qx, qy } = best;
  const turned = { distance: best.distance, px: qx, py: qy, qx: px, qy: py };
  if (!isLeast(s, near, i, best) || !isLeast(s, near, j, turned)) return null;
  if (cross(s, i, j)) return null;
  return {
    distanceMm: best.distance,
    x: (px + qx) / 2,
    y: (py + qy) / 2,
    segmentA: Math.min(i, j),
    segmentB: Math.max(i, j),
    contourA: s.owner[Math.min(i, j)]!,
    contourB: s.owner[Math.max(i, j)]!,
    endOn: isOpenEnd(s, near, i, px, py) && isOpenEnd(s, near, j, qx, qy),
  };
}

interface Nearest {
  distance: number;
  /** On the first segment. */
  px: number;
  py: number;
  /** On the second. */
  qx: number;
  qy: number;
}

/** Measures from an end (x, y) of one segment to segment `e`; `endIsFirst` when the end belongs to the first. */
function fromEnd(s: Segments, e: number, x: number, y: number, endIsFirst: boolean, best: Nearest): void {
  const dx = s.x1[e]! - s.x0[e]!;
  const dy = s.y1[e]! - s.y0[e]!;
  const along = ((x - s.x0[e]!) * dx + (y - s.y0[e]!) * dy) / (dx * dx + dy * dy);
  const share = Math.min(1, Math.max(0, along));
  // The far end itself, not a sum that rounding takes beside it: `isLeast` asks whether the place is an end.
  const ox = share === 1 ? s.x1[e]! : s.x0[e]! + share * dx;
  const oy = share === 1 ? s.y1[e]! : s.y0[e]! + share * dy;
  const distance = Math.hypot(x - ox, y - oy);
  if (distance >= best.distance) return;
  best.distance = distance;
  best.px = endIsFirst ? x : ox;
  best.py = endIsFirst ? y : oy;
  best.qx = endIsFirst ? ox : x;
  best.qy = endIsFirst ? oy : y;
}

/** Whether going on along the outline from p, where that is an end of the segment, does not lead nearer to q. */
function isLeast(s: Segments, near: Neighbours, seg: number, { px, py, qx, qy }: Nearest): boolean {
  const distance = Math.hypot(px - qx, py - qy);
  if (px === s.x0[seg]! && py === s.y0[seg]!) {
    const next = near.before[seg]!;
    if (next >= 0 && leans(s.x0[next]! - px, s.y0[next]! - py, px - qx, py - qy, distance)) return false;
  }
  if (px === s.x1[seg]! && py === s.y1[seg]!) {
    const next = near.after[seg]!;
    if (next >= 0 && leans(s.x1[next]! - px, s.y1[next]! - py, px - qx, py - qy, distance)) return false;
  }
  return true;
}

const leans = (dx: number, dy: number, awayX: number, awayY: number, distance: number): boolean =>
  dx * awayX + dy * awayY < -LEAN * distance * Math.hypot(dx, dy);

function isOpenEnd(s: Segments, near: Neighbours, seg: number, x: number, y: number): boolean {
  if (near.before[seg]! < 0 && x === s.x0[seg]! && y === s.y0[seg]!) return true;
  return near.after[seg]! < 0 && x === s.x1[seg]! && y === s.y1[seg]!;
}

function cross(s: Segments, i: number, j: number): boolean {
  const side = (e: number, x: number, y: number): number =>
    (s.x1[e]! - s.x0[e]!) * (y - s.y0[e]!) - (s.y1[e]! - s.y0[e]!) * (x - s.x0[e]!);
  return (
    side(i, s.x0[j]!, s.y0[j]!) * side(i, s.x1[j]!, s.y1[j]!) < 0 &&
    side(j, s.x0[i]!, s.y0[i]!) * side(j, s.x1[i]!, s.y1[i]!) < 0
  );
}

/** Keeps the narrowest place of each neighbourhood, outline pair by outline pair. */
function merged(found: Narrow[], reachMm: number): NarrowPlace[] {
  // In order along the first outline, so that a long narrow grows into one group from its beginning.
  found.sort((a, b) => a.place.segmentA - b.place.segmentA || a.place.segmentB - b.place.segmentB);
  const grid = new PointGrid(reachMm, found.length);
  const pointOf: NarrowPlace[] = [];
  const groupOf: number[] = [];
  /** The narrowest of each group; the number of another group once it has become part of that. */
  const groups: (NarrowPlace | number)[] = [];
  const rootOf = (group: number): number => {
    let root = group;
    for (let up = groups[root]; typeof up === 'number'; up = groups[root]) root = up;
    return root;
  };
  const narrowest = (group: number, place: NarrowPlace): void => {
    if (place.distanceMm < (groups[group] as NarrowPlace).distanceMm) groups[group] = place;
  };
  /** Makes one group part of another, unless it is that already. */
  const joined = (root: number, mine: number): void => {
    if (mine < 0 || root === mine) return;
    narrowest(root, groups[mine] as NarrowPlace);
    groups[mine] = root;
  };
  let of = found[0]?.place;
  const sameLines = (n: number): boolean => {
    const other = pointOf[n]!;
    return other.contourA === of!.contourA && other.contourB === of!.contourB;
  };
  for (const { place, farXy } of found) {
    of = place;
    let mine = -1;
    for (let k = -2; k < farXy.length; k += 2) {
      const kin = grid.near(k < 0 ? place.x : farXy[k]!, k < 0 ? place.y : farXy[k + 1]!, reachMm, sameLines);
      if (kin < 0) continue;
      const root = rootOf(groupOf[kin]!);
      joined(root, mine);
      mine = root;
    }
    if (mine < 0) mine = groups.push(place) - 1;
    else narrowest(mine, place);
    for (let k = -2; k < farXy.length; k += 2) {
      const n = grid.add(k < 0 ? place.x : farXy[k]!, k < 0 ? place.y : farXy[k + 1]!);
      pointOf[n] = place;
      groupOf[n] = mine;
    }
  }
  return groups
    .filter((one) => typeof one !== 'number')
    .sort((a, b) => a.distanceMm - b.distanceMm || a.segmentA - b.segmentA);
}
