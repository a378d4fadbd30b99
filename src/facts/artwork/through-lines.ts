import { type Nesting, nestContours } from '../../geometry/outlines/contours.ts';
import { type EqualOutlines, equalOutlines } from '../../geometry/outlines/equal-outlines.ts';
import type { Artwork, Outline } from '../../model/artwork.ts';
import type { Location } from '../../source/place.ts';
import type { TaskFact } from '../tasks/task-fact.ts';

/** Ends this near to each other are one point, mm. */
export const SAME_POINT_MM = 0.05;
/** Outlines shorter than this are strays: dots and ends of lines left behind, mm. */
export const STRAY_MM = 0.5;

/** The lines that part the sheet, with their numbers among the artwork's outlines. */
export interface ThroughLines {
  readonly artwork: Artwork;
  /** Ascending. */
  readonly numbers: readonly number[];
  /** Parallel to `numbers`. */
  readonly lines: readonly Outline[];
  /** Which of `lines` are drawn again, point for point. */
  readonly equal: EqualOutlines;
  /** Which of `lines` lies in which. */
  readonly nesting: Nesting;
  /** Where an outline, by its number in the artwork, is drawn. */
  readonly locationOf: (outline: number) => Location;
}

/** The outlines of all tasks with the aim through. */
export function throughLines(
  artwork: Artwork,
  file: string,
  tasks: readonly Pick<TaskFact, 'aim' | 'outlines'>[],
): ThroughLines {
  const locations = new Map<number, Location>();
  /** Made once: a line may be named by thousands of places. */
  const locationOf = (i: number): Location => {
    const { element } = artwork.outlines[i]!;
    const known = locations.get(element);
    if (known) return known;
    const location = { file, ...artwork.elements[element]!.place };
    locations.set(element, location);
    return location;
  };
  const numbers = tasks.filter((task) => task.aim === 'through').flatMap((task) => [...task.outlines]);
  numbers.sort((a, b) => a - b);
  const lines = numbers.map((i) => artwork.outlines[i]!);
  const equal = equalOutlines(lines);
  return {
    artwork,
    numbers,
    lines,
    equal,
    nesting: nestContours(lines, equal),
    locationOf,
  };
}
