import { placePoint } from '../../geometry/placement/transform.ts';
import type { Location } from '../../source/place.ts';
import type { JobFacts } from '../facts.ts';

/** A point of the picture, mm. */
export type PicturePoint = [x: number, y: number];

/**
 * Where on the sheet a line of the job's toolpath or artwork is at work; null when it moves nothing. A line of the
 * toolpath without motion of its own (a dwell, an M5) lies where the head stands: at the end of the stroke before it.
 */
export function placeOnSheet(facts: JobFacts, location: Location): PicturePoint | null {
  const { toolpath, artwork, input } = facts;
  if (toolpath && location.file === input.files.toolpath) return placeInToolpath(toolpath, location.line);
  if (!artwork || location.file !== input.files.artwork || (toolpath && !facts.match?.placement)) return null;
  const outline =
    artwork.outlines.find(({ element }) => {
      const place = artwork.elements[element]?.place;
      return place?.line === location.line && place.column === location.column;
    }) ?? artwork.outlines.find(({ element }) => artwork.elements[element]?.place.line === location.line);
  if (!outline) return null;
  const xy = placed(facts, outline.xy);
  return xy.length >= 2 ? finite(xy[0]!, xy[1]!) : null;
}

function placeInToolpath(toolpath: NonNullable<JobFacts['toolpath']>, line: number): PicturePoint | null {
  const dwell = toolpath.dwells.items.find(({ place }) => place.line === line);
  if (dwell) return finite(dwell.x, dwell.y);
  const area = toolpath.areas.find(({ place, endLine }) => place.line <= line && line <= endLine);
  if (area) return finite((area.minX + area.maxX) / 2, (area.minY + area.maxY) / 2);
  const { strokes } = toolpath;
  const at = lastUpTo(strokes.line, strokes.count, line);
  if (at < 0) return null;
  if (strokes.line[at] !== line) return finite(strokes.endX[at]!, strokes.endY[at]!);
  let first = at;
  while (first > 0 && strokes.line[first - 1] === line) first--;
  return finite(strokes.startX[first]!, strokes.startY[first]!);
}

function finite(x: number, y: number): PicturePoint | null {
  return Number.isFinite(x + y) ? [x, y] : null;
}

/** Index of the last stroke at or before a line; −1 when there is none. Strokes stand in program order. */
function lastUpTo(lines: Uint32Array, count: number, line: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lines[middle]! <= line) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** Artwork that was not found in the toolpath has no place to be drawn in. */
export function hasPlace(facts: JobFacts): boolean {
  return facts.toolpath === null || (facts.match?.placement ?? null) !== null;
}

/** Points of the artwork in the frame of the picture. */
export function placed(facts: JobFacts, xy: Float64Array): ArrayLike<number> {
  const placement = facts.match?.placement;
  if (!facts.toolpath || !placement) return xy;
  const place = { ...placement, flippedY: true, dx: placement.dxMm, dy: placement.dyMm };
  const moved = new Float64Array(xy.length);
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const [x, y] = placePoint(place, xy[i]!, xy[i + 1]!);
    moved[i] = x;
    moved[i + 1] = y;
  }
  return moved;
}
