import { boxOfPolyline, polylineLengthMm } from '../../geometry/outlines/contours.ts';
import type { Polyline } from '../../geometry/outlines/outline.ts';

/** Two runs of one contour agree in box and length to this, mm. */
const SAME_CONTOUR_MM = 0.1;

/** What runs over the same contour, pass after pass, have in common; null for a contour without points. */
export function contourKey(contour: Polyline): string | null {
  const box = boxOfPolyline(contour);
  if (!box) return null;
  const sides = [box.minX, box.minY, box.maxX, box.maxY, polylineLengthMm(contour)];
  return sides.map((mm) => Math.round(mm / SAME_CONTOUR_MM)).join();
}
