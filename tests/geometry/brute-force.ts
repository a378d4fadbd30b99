// The plainest ways to the same answers: each segment with each, no index, nothing recognised, nothing left out.
import type { Polyline } from '../../src/geometry/outlines/outline.ts';

interface Piece {
  line: number;
  x0: number;
  y0: number;
  x1: number;
  y1: number;
  /** Numbers of the pieces before and after it along its line; −1 at open ends. */
  before: number;
  after: number;
}

/** The segments of drawings in order. */
function piecesOf(lines: readonly Polyline[]): Piece[] {
  const pieces: Piece[] = [];
  for (const [line, { xy, closed }] of lines.entries()) {
    const first = pieces.length;
    const points = xy.length / 2;
    const rounds = closed && points > 2 ? points : points - 1;
    for (let k = 0; k < rounds; k++) {
      const to = (k + 1) % points;
      const [x0, y0, x1, y1] = [xy[2 * k]!, xy[2 * k + 1]!, xy[2 * to]!, xy[2 * to + 1]!];
      const at = pieces.push({ line, x0, y0, x1, y1, before: k === 0 ? -1 : pieces.length - 1, after: -1 }) - 1;
      if (k > 0) pieces[at - 1]!.after = at;
    }
    const [begin, end] = [pieces[first]!, pieces.at(-1)!];
    if (rounds > 1 && (closed || (end.x1 === begin.x0 && end.y1 === begin.y0))) {
      begin.before = pieces.length - 1;
      end.after = first;
    }
  }
  return pieces;
}

const side = (p: Piece, x: number, y: number) => (p.x1 - p.x0) * (y - p.y0) - (p.y1 - p.y0) * (x - p.x0);

/** Where two segments cross, by the signs of areas; null when they do not. */
function crossingOf(a: Piece, b: Piece): [number, number] | null {
  const [a0, a1] = [side(b, a.x0, a.y0), side(b, a.x1, a.y1)];
  if (a0 * a1 >= 0 || side(a, b.x0, b.y0) * side(a, b.x1, b.y1) >= 0) return null;
  return [a.x0 + (a0 / (a0 - a1)) * (a.x1 - a.x0), a.y0 + (a0 / (a0 - a1)) * (a.y1 - a.y0)];
}

/** Crossings of the same two lines this near to each other are one, mm, counted in whole grains. */
const GRAIN_MM = 8e-3;

/** Where lines cross clear of their corners: x, y and the two lines. */
export function crossingsByForce(lines: readonly Polyline[]): { x: number; y: number; lines: string }[] {
  const pieces = piecesOf(lines);
  const found: { x: number; y: number; lines: string }[] = [];
  for (const [i, later] of pieces.entries()) {
    for (const [j, earlier] of pieces.slice(0, i).entries()) {
      if (later.before === j || later.after === j) continue;
      const at = crossingOf(later, earlier);
      if (!at) continue;
      const between = `${earlier.line} ${later.line}`;
      const grains = (a: number, b: number) => Math.abs(Math.round(a / GRAIN_MM) - Math.round(b / GRAIN_MM));
      const isKnown = found.some(
        (one) => one.lines === between && grains(one.x, at[0]) <= 1 && grains(one.y, at[1]) <= 1,
      );
      if (!isKnown) found.push({ x: at[0], y: at[1], lines: between });
    }
  }
  return found;
}

/** Whether a corner lies within so much of another line, where rounding decides what is found. Copies of a line are no other lines. */
export function hasCloseCall(lines: readonly Polyline[], mm: number): boolean {
  const pieces = piecesOf([...new Map(lines.map((line) => [`${line.closed} ${line.xy.join()}`, line])).values()]);
  return pieces.some((one, i) =>
    pieces.some((other, k) => {
      if (i === k || one.before === k || one.after === k) return false;
      return footOf(one.x0, one.y0, other).mm < mm || footOf(one.x1, one.y1, other).mm < mm;
    }),
  );
}

interface Near {
  mm: number;
  /** On the later segment and on the earlier. */
  p: [number, number];
  q: [number, number];
}

function nearest(later: Piece, earlier: Piece): Near {
  const foot = (x: number, y: number, of: Piece): [number, number] => {
    const [dx, dy] = [of.x1 - of.x0, of.y1 - of.y0];
    const share = Math.min(1, Math.max(0, ((x - of.x0) * dx + (y - of.y0) * dy) / (dx * dx + dy * dy)));
    return share === 1 ? [of.x1, of.y1] : [of.x0 + share * dx, of.y0 + share * dy];
  };
  const ends = (p: Piece): [number, number][] => [
    [p.x0, p.y0],
    [p.x1, p.y1],
  ];
  const tries = [
    ...ends(earlier).map((q): Near => ({ mm: 0, p: foot(...q, later), q })),
    ...ends(later).map((p): Near => ({ mm: 0, p, q: foot(...p, earlier) })),
  ].map((one) => ({ ...one, mm: Math.hypot(one.p[0] - one.q[0], one.p[1] - one.q[1]) }));
  return tries.reduce((best, one) => (one.mm < best.mm ? one : best));
}

/** Whether from p, where it is an end of its segment, the outline does not lead nearer to q: by a fiftieth of the way it may. */
function isLeast(pieces: readonly Piece[], of: Piece, [px, py]: [number, number], [qx, qy]: [number, number]): boolean {
  const mm = Math.hypot(px - qx, py - qy);
  const leads = (x: number, y: number) =>
    (x - px) * (px - qx) + (y - py) * (py - qy) < -0.02 * mm * Math.hypot(x - px, y - py);
  const [before, after] = [pieces[of.before], pieces[of.after]];
  if (px === of.x0 && py === of.y0 && before && leads(before.x0, before.y0)) return false;
  return !(px === of.x1 && py === of.y1 && after && leads(after.x1, after.y1));
}

/** Places between two lines are one within this much, mm; so are the ends of a stretch along which two segments are near. */
const reachOf = (limitMm: number): number => Math.max(2, 2 * limitMm);

/** A narrow pair of segments: how near, the two lines, and the place with the ends of a long stretch. */
interface NarrowPair {
  mm: number;
  lines: string;
  at: [number, number][];
}

const middle = ({ p, q }: Near): [number, number] => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
const apart = (a: [number, number], b: [number, number]) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** What two segments are to each other; null where they are not near, touch, cross or come nearer still beside the place. */
function narrowPair(
  pieces: readonly Piece[],
  i: number,
  j: number,
  limitMm: number,
  touchMm: number,
): NarrowPair | null {
  const [later, earlier] = [pieces[i]!, pieces[j]!];
  if (later.before === j || later.after === j) return null;
  const near = nearest(later, earlier);
  if (near.mm >= limitMm || near.mm <= touchMm || crossingOf(later, earlier)) return null;
  if (!isLeast(pieces, later, near.p, near.q) || !isLeast(pieces, earlier, near.q, near.p)) return null;
  const found: NarrowPair = { mm: near.mm, lines: `${earlier.line} ${later.line}`, at: [middle(near)] };
  if ([later, earlier].every(({ before, after }) => before < 0 && after < 0)) return found;
  const reachMm = reachOf(limitMm);
  const ends: [number, number, Piece][] = [
    [later.x0, later.y0, earlier],
    [later.x1, later.y1, earlier],
    [earlier.x0, earlier.y0, later],
    [earlier.x1, earlier.y1, later],
  ];
  for (const [x, y, other] of ends) {
    const there = footOf(x, y, other);
    const far = middle(there);
    if (there.mm >= limitMm || apart(far, found.at[0]!) <= reachMm) continue;
    if (!found.at[1] || apart(far, found.at[1]) > reachMm) found.at.push(far);
  }
  return found;
}

/** The narrow places: distance and the two lines. Pairs near to one seen before, or to the ends of its stretch, are part of its place. */
export function narrowByForce(
  lines: readonly Polyline[],
  limitMm: number,
  touchMm: number,
): { mm: number; lines: string }[] {
  const pieces = piecesOf(lines);
  const seen: { at: [number, number]; lines: string; group: number }[] = [];
  /** A group that became part of another has its number in `in`. */
  const groups: { mm: number; lines: string; in: number }[] = [];
  const rootOf = (g: number): number => (groups[g]!.in === g ? g : rootOf(groups[g]!.in));
  const pairs = pieces.flatMap((_, j) =>
    pieces.flatMap((__, i) => (i > j ? (narrowPair(pieces, i, j, limitMm, touchMm) ?? []) : [])),
  );
  for (const { mm, lines: between, at } of pairs) {
    let mine = -1;
    for (const place of at) {
      const kin = seen.find((one) => one.lines === between && apart(one.at, place) <= reachOf(limitMm));
      if (!kin) continue;
      const root = rootOf(kin.group);
      if (mine >= 0) {
        groups[root]!.mm = Math.min(groups[root]!.mm, groups[mine]!.mm);
        groups[mine]!.in = root;
      }
      mine = root;
    }
    if (mine < 0) mine = groups.push({ mm, lines: between, in: groups.length }) - 1;
    groups[mine]!.mm = Math.min(groups[mine]!.mm, mm);
    for (const place of at) seen.push({ at: place, lines: between, group: mine });
  }
  return groups.filter((group, g) => group.in === g).map(({ mm, lines: of }) => ({ mm, lines: of }));
}

function footOf(x: number, y: number, other: Piece): Near {
  const [dx, dy] = [other.x1 - other.x0, other.y1 - other.y0];
  const along = ((x - other.x0) * dx + (y - other.y0) * dy) / (dx * dx + dy * dy);
  const share = Math.min(1, Math.max(0, along));
  const q: [number, number] = [other.x0 + share * dx, other.y0 + share * dy];
  return { mm: Math.hypot(x - q[0], y - q[1]), p: [x, y], q };
}

/** A line along X or Y between whole millimetres: row, and from where to where. */
export interface Bar {
  upright: boolean;
  row: number;
  from: number;
  to: number;
}

/** How many millimetres are run along once, twice, … by bars, counted millimetre by millimetre. */
export function millimetresByPasses(bars: readonly Bar[]): Map<number, number> {
  const passes = new Map<string, number>();
  for (const { upright, row, from, to } of bars) {
    for (let k = Math.min(from, to); k < Math.max(from, to); k++) {
      const key = `${upright} ${row} ${k}`;
      passes.set(key, (passes.get(key) ?? 0) + 1);
    }
  }
  const lengths = new Map<number, number>();
  for (const count of passes.values()) lengths.set(count, (lengths.get(count) ?? 0) + 1);
  return lengths;
}

/** How many millimetres of bars have another set's bars on them. */
export function millimetresCovered(bars: readonly Bar[], by: readonly Bar[]): number {
  const has = new Set<string>();
  for (const { upright, row, from, to } of by) {
    for (let k = Math.min(from, to); k < Math.max(from, to); k++) has.add(`${upright} ${row} ${k}`);
  }
  let covered = 0;
  for (const { upright, row, from, to } of bars) {
    for (let k = Math.min(from, to); k < Math.max(from, to); k++) if (has.has(`${upright} ${row} ${k}`)) covered++;
  }
  return covered;
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly distanceMm: number;
  readonly farXy: readonly number[];
}

/** A place's own point, and the far one if it has any. */
const pointsOf = ({ x, y, farXy: [farX, farY] }: Place): (readonly [number, number])[] =>
  farX === undefined
    ? [[x, y]]
    : [
        [x, y],
        [farX, farY!],
      ];

/**
 * The first and the narrowest of each group of places. Each of a place's points belongs with the first point before it that is within reach,
 * and whoever belongs with two groups makes them one.
 */
export function groupsByForce<P extends Place>(places: readonly P[], reachMm: number): (readonly [P, P])[] {
  interface Group {
    readonly first: P;
    narrowest: P;
  }
  const groups = new Set<Group>();
  const points: { x: number; y: number; group: Group }[] = [];
  const narrowed = (group: Group, place: P): Group => {
    if (place.distanceMm < group.narrowest.distanceMm) group.narrowest = place;
    return group;
  };
  const joined = (group: Group, other: Group): Group => {
    if (group === other) return group;
    for (const point of points) if (point.group === other) point.group = group;
    groups.delete(other);
    return narrowed(group, other.narrowest);
  };
  for (const place of places) {
    const own = pointsOf(place);
    let mine: Group | null = null;
    for (const [px, py] of own) {
      const kin = points.find((point) => (point.x - px) ** 2 + (point.y - py) ** 2 <= reachMm ** 2);
      if (kin) mine = mine ? joined(kin.group, mine) : kin.group;
    }
    const group = narrowed(mine ?? { first: place, narrowest: place }, place);
    groups.add(group);
    points.push(...own.map(([x, y]) => ({ x, y, group })));
  }
  return [...groups].map(({ first, narrowest }) => [first, narrowest]);
}
