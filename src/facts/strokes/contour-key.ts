import { boxOfPolyline } from '../../geometry/outlines/contours.ts';
import type { Polyline } from '../../geometry/outlines/outline.ts';

/** Two runs of one contour agree in box and length to this, mm. */
const SAME_CONTOUR_MM = 0.1;

/**
 * What runs over the same contour, pass after pass, have in common; null for a contour without points.
 * @param lengthMm of the contour, as `polylineLengthMm` has it
 */
export function contourKey(contour: Polyline, lengthMm: number): string | null {
  const box = boxOfPolyline(contour);
  if (!box) return null;
  const sides = [box.minX, box.minY, box.maxX, box.maxY, lengthMm];
  return sides.map((mm) => Math.round(mm / SAME_CONTOUR_MM)).join();
}
