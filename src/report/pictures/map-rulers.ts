import { trimmed } from '../../units/format.ts';
import { textWidth } from './label-room.ts';

/** The part of the sheet that a picture shows: mm in the frame of the job, and px on the picture. */
export interface ShownPart {
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
  readonly pxPerMm: number;
  readonly yUp: boolean;
}

/** Space between two labels of a scale, px. */
const BETWEEN_PX = 10;
/** A scale bar is at least so long. */
const BAR_PX = 56;

/** Where a place of the job lies on the picture, px from the left and upper edge of the part that is shown. */
export function toPx({ minX, maxY, minY, pxPerMm, yUp }: ShownPart, x: number, y: number): { x: number; y: number } {
  return { x: (x - minX) * pxPerMm, y: (yUp ? maxY - y : y - minY) * pxPerMm };
}

/** The least of 1, 2, 5, 10, 20, 50 … (or of tenths, hundredths) that is not below a number. */
export function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const step = [1, 2, 5, 10].find((factor) => factor * power >= least * (1 - 1e-9)) ?? 10;
  return step * power;
}

/** Round numbers within a range, so far from each other that their labels do not meet. */
export function ticks(
  from: number,
  to: number,
  pxPerMm: number,
  leastPx: (labels: readonly string[]) => number,
): number[] {
  if (!(to > from && pxPerMm > 0)) return [];
  // Longer labels need a wider step, which may make them shorter: it is widened until they fit.
  for (let step = roundStep(BETWEEN_PX / pxPerMm); step <= 10 * (to - from); step = roundStep(step * 1.5)) {
    const first = Math.ceil(from / step - 1e-9);
    const last = Math.floor(to / step + 1e-9);
    if (last - first > 400) continue;
    const found = Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
    if (step * pxPerMm >= leastPx(found.map(tickLabel))) return found;
  }
  return [];
}

/** Close up, at hundredths of a millimetre, no label has more decimals than that. */
export const tickLabel = (mm: number): string => trimmed(mm, 2);

/** Space that labels below each other, or beside each other, take from one to the next, px. */
export const labelsAbove = (size: number) => (): number => size * 1.3 + BETWEEN_PX / 2;
export const labelsBeside =
  (size: number) =>
  (labels: readonly string[]): number =>
    Math.max(0, ...labels.map((label) => textWidth(label, size))) + BETWEEN_PX;

/** A round length to draw beside the sheet. */
export function scaleBar(pxPerMm: number): { px: number; label: string } {
  const mm = roundStep(BAR_PX / pxPerMm);
  return { px: mm * pxPerMm, label: `${trimmed(mm, 2)} mm` };
}
