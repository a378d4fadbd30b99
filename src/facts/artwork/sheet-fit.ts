import type { Box } from '../../geometry/outlines/outline.ts';
import { placePoint } from '../../geometry/placement/transform.ts';
import type { Sidecar } from '../../job/model.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { MatchFact } from '../match/match-fact.ts';
import type { OffSheetOutline } from './geometry-fact.ts';
import type { ThroughLines } from './through-lines.ts';

/** Lines on the very edge of the sheet are on it: rounding, mm. */
const ON_EDGE_MM = 0.05;

/**
 * Outlines that reach outside the sheet. Artwork alone lies with its page's corner on the sheet's; artwork under a
 * toolpath lies where the toolpath puts it. Where the place is left to the person, only the extent counts.
 */
export function offSheet(
  { artwork, numbers, locationOf }: ThroughLines,
  { sidecar, toolpath, match }: { sidecar: Sidecar | null; toolpath: Toolpath | null; match: MatchFact | null },
): OffSheetOutline[] {
  const sheet = sidecar?.sheet;
  if (!sheet || !artwork.boundsMm) return [];
  const placement = match?.placement ?? null;
  if (toolpath && !placement) return [];
  const moved = (box: Box): Box => {
    if (!toolpath || !placement) return box;
    const place = { ...placement, flippedY: true, dx: placement.dxMm, dy: placement.dyMm };
    const [ax, ay] = placePoint(place, box.minX, box.minY);
    const [bx, by] = placePoint(place, box.maxX, box.maxY);
    return { minX: Math.min(ax, bx), minY: Math.min(ay, by), maxX: Math.max(ax, bx), maxY: Math.max(ay, by) };
  };
  const whole = moved(artwork.boundsMm);
  const byHand = sidecar.zero === 'set-by-hand' || (toolpath !== null && sidecar.zero === null);
  const atMachine = toolpath !== null && sidecar.zero === 'machine';
  const originX = byHand ? Math.min(whole.minX, whole.maxX - sheet.widthMm) : atMachine ? sheet.atXMm : 0;
  const originY = byHand ? Math.min(whole.minY, whole.maxY - sheet.heightMm) : atMachine ? sheet.atYMm : 0;
  const found: OffSheetOutline[] = [];
  for (const i of numbers) {
    const box = moved(artwork.outlines[i]!.box);
    const byMm = Math.max(
      originX - box.minX,
      originY - box.minY,
      box.maxX - originX - sheet.widthMm,
      box.maxY - originY - sheet.heightMm,
    );
    if (byMm > ON_EDGE_MM) found.push({ outline: i, location: locationOf(i), byMm });
  }
  return found;
}
