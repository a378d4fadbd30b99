import type { CrossingLoop } from './crossing-loop.ts';
import { type EqualOutlines, segmentMoves } from './equal-outlines.ts';
import type { Polyline } from './outline.ts';

/** A place where outlines cross; `contourA === contourB` where an outline crosses itself. */
export interface Crossing {
  x: number;
  y: number;
  /** Indices of the polylines, the lower first. */
  contourA: number;
  contourB: number;
  /** Where an outline crosses itself: the loop that it makes; null when it is too large to be measured, and between outlines. */
  loop: CrossingLoop | null;
}

/** A crossing of two segments, one of each kind of outline. */
export interface KindCrossing {
  /** Of the outline that was drawn later. */
  readonly later: number;
  readonly earlier: number;
  readonly x: number;
  readonly y: number;
  readonly loop: CrossingLoop | null;
}

/** The crossings of an outline of one kind with a later one of another, or of the same; `within`: of an outline with itself. */
export interface BetweenKinds {
  readonly kindEarlier: number;
  readonly kindLater: number;
  readonly within: boolean;
  readonly crossings: KindCrossing[];
  /** Places that have one. */
  readonly seen: Set<string>;
}

/** A crossing as it is met when the segments of all lines are gone through in order. */
interface Met extends Crossing {
  readonly later: number;
  readonly earlier: number;
}

/** The crossings of kinds, told of each pair of outlines in order of the segments: all, or one more than are kept. */
export function toldOfEach(
  between: Iterable<BetweenKinds>,
  lines: readonly Polyline[],
  equal: EqualOutlines,
  mostKept: number,
): Crossing[] {
  const { kindOf, members } = equal;
  const move = segmentMoves(lines, equal);
  const withLater = new Map<number, BetweenKinds[]>();
  for (const one of between) {
    const known = withLater.get(one.kindLater);
    if (known) known.push(one);
    else withLater.set(one.kindLater, [one]);
  }
  /** The crossings of line b with those before it, or with itself. */
  function* metBy(b: number): Generator<Met> {
    const moveLater = move[b]!;
    for (const { kindEarlier, within, crossings } of withLater.get(kindOf[b]!) ?? []) {
      for (const a of within ? [b] : members[kindEarlier]!) {
        if (a > b || (a === b && !within)) break;
        const moveEarlier = move[a]!;
        for (const { later, earlier, x, y, loop } of crossings) {
          yield { x, y, contourA: a, contourB: b, loop, later: later + moveLater, earlier: earlier + moveEarlier };
        }
      }
    }
  }
  const told: Crossing[] = [];
  for (let b = 0; b < lines.length && told.length <= mostKept; b++) {
    if (!withLater.has(kindOf[b]!)) continue;
    const met: Met[] = [];
    for (const one of metBy(b)) if (met.push(one) > mostKept) break;
    met.sort((p, q) => p.later - q.later || p.earlier - q.earlier);
    for (const { x, y, contourA, contourB, loop } of met) {
      if (told.length <= mostKept) told.push({ x, y, contourA, contourB, loop });
    }
  }
  return told;
}
