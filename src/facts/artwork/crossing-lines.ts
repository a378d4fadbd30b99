import type { CrossingLoop } from '../../geometry/outlines/crossing-loop.ts';
import { findCrossings } from '../../geometry/outlines/crossings.ts';
import { findOverlaps, type Stretch } from '../../geometry/overlap/overlap.ts';
import { segmentsOf } from '../../geometry/segments/segments.ts';
import { type Found, mapped, where } from '../../units/found.ts';
import type { WorkBudget } from '../../units/work.ts';
import type { DuplicateLine, OverlappingParts, SelfCrossingOutline } from './geometry-fact.ts';
import { SAME_POINT_MM, type ThroughLines } from './through-lines.ts';

/** Overlaps shorter than this are touching corners, mm. */
const SHORT_MM = 1;

/** Lines that are drawn again over others: they will be burnt twice. Of lines that are the same, one is searched for all. */
export function duplicateLines(through: ThroughLines, work: WorkBudget): Found<DuplicateLine> {
  const { firsts, members } = through.equal;
  const stretches = findOverlaps(segmentsOf(firsts.map((i) => through.lines[i]!)), {
    toleranceMm: SAME_POINT_MM,
    mostWork: work.duplicates,
    timesOf: members.map((lines) => lines.length),
  });
  const found = new Map<string, { first: number; other: number; lengthMm: number; times: number }>();
  stretches.each((stretch) => {
    const { passes, lengthMm } = stretch;
    if (passes < 2) return;
    const [first, other] = firstTwo(stretch, members);
    const key = `${first},${other}`;
    const known = found.get(key);
    if (known) {
      known.lengthMm += lengthMm;
      known.times = Math.max(known.times, passes);
    } else found.set(key, { first, other, lengthMm, times: passes });
  });
  const pairs = { items: [...found.values()], endedEarly: stretches.endedEarly };
  return mapped(
    where(pairs, (one) => one.lengthMm >= SHORT_MM),
    ({ first, other, lengthMm, times }) => ({
      location: through.locationOf(through.numbers[other]!),
      other: through.locationOf(through.numbers[first]!),
      lengthMm,
      times,
    }),
  );
}

/** The two lines that were drawn first of those along a stretch that is run along twice at least; the same one where it runs over itself. */
function firstTwo({ owners, listed }: Stretch, members: readonly (readonly number[])[]): [number, number] {
  const [first, again] = members[owners[0]!]!;
  const next = listed > 1 ? members[owners[1]!]![0]! : Infinity;
  return [first!, Math.min(again ?? Infinity, next)];
}

/** Kerf that is taken where none is known, mm: the finest that such machines cut. Common practice, no source. */
const FINEST_KERF_MM = 0.1;

/**
 * Whether what a loop encloses is burnt away with the line around it: narrower than the kerf everywhere, and under the kerf squared in
 * area. Such loops at the inner corners of joints are drawn to relieve them.
 */
function isBurntAway({ widthMm, areaMm2 }: CrossingLoop, kerfMm: number): boolean {
  return widthMm < kerfMm && areaMm2 < kerfMm * kerfMm;
}

/** Outlines that cross themselves, apart from loops that the kerf swallows, and closed ones that cross each other. */
export function crossingLines(
  through: ThroughLines,
  kerfMm: number | null,
  work: WorkBudget,
): {
  selfCrossing: Found<SelfCrossingOutline>;
  overlappingParts: Found<OverlappingParts>;
} {
  const { items: places, endedEarly } = findCrossings(through.lines, work.crossings, through.equal);
  const self = new Map<number, SelfCrossingOutline>();
  const pairs = new Map<string, OverlappingParts>();
  for (const { x, y, contourA, contourB, loop } of places) {
    const a = through.numbers[contourA]!;
    const b = through.numbers[contourB]!;
    if (a === b) {
      if (loop && isBurntAway(loop, kerfMm ?? FINEST_KERF_MM)) continue;
      const first = self.get(a) ?? { outline: a, location: through.locationOf(a), xMm: x, yMm: y, count: 0 };
      self.set(a, { ...first, count: first.count + 1 });
    } else if (through.lines[contourA]!.closed && through.lines[contourB]!.closed && !pairs.has(`${a},${b}`)) {
      pairs.set(`${a},${b}`, { location: through.locationOf(b), other: through.locationOf(a), xMm: x, yMm: y });
    }
  }
  return {
    selfCrossing: { items: [...self.values()], endedEarly },
    overlappingParts: { items: [...pairs.values()], endedEarly },
  };
}
