import type { Sidecar } from '../../job/model.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { OffSheetOutline } from './geometry-fact.ts';
import type { ThroughLines } from './through-lines.ts';

/** Lines on the very edge of the sheet are on it: rounding, mm. */
const ON_EDGE_MM = 0.05;

/**
 * Outlines that reach outside the sheet, in a job without a toolpath: the page's corner lies on the sheet's. Where the place is left to
 * the person, only the extent counts. What runs is a toolpath's matter, where there is one.
 */
export function offSheet(
  { artwork, numbers, locationOf }: ThroughLines,
  { sidecar, toolpath }: { sidecar: Sidecar | null; toolpath: Toolpath | null },
): OffSheetOutline[] {
  const sheet = sidecar?.sheet;
  const whole = artwork.boundsMm;
  if (!sheet || !whole || toolpath) return [];
  const byHand = sidecar.zero === 'set-by-hand';
  const originX = byHand ? Math.min(whole.minX, whole.maxX - sheet.widthMm) : 0;
  const originY = byHand ? Math.min(whole.minY, whole.maxY - sheet.heightMm) : 0;
  const found: OffSheetOutline[] = [];
  for (const i of numbers) {
    const { box } = artwork.outlines[i]!;
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
