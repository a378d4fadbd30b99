import type { Box } from '../../geometry/outlines/outline.ts';
import type { Sidecar } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';

/** Where the job lies on the bed. */
export interface OnBed {
  readonly box: Box | null;
  /** Why it is not known; null when it is. */
  readonly unknown: string | null;
  /** What to add to the toolpath's X and Y to get places on the bed; null when not known. */
  readonly shift: { readonly xMm: number; readonly yMm: number } | null;
}

/**
 * `zero: machine` puts the toolpath's X0 Y0 at the machine's corner; `sheet-corner` at the sheet's (`sheet.at`, the machine's
 * corner when it is not stated). `set-by-hand` and nothing stated leave the place open.
 */
export function placeOnBed(sidecar: Sidecar | null, toolpath: Toolpath | null, artwork: Artwork | null): OnBed {
  const bounds: Box | null = toolpath ? toolpath.boundsMm : (artwork?.boundsMm ?? null);
  if (!bounds) return { box: null, unknown: 'nothing moves', shift: null };
  const zero = sidecar?.zero ?? null;
  if (zero === null) return { box: null, unknown: 'what X0 Y0 means is not stated (`zero`)', shift: null };
  if (zero === 'set-by-hand') return { box: null, unknown: 'X0 Y0 is set by hand', shift: null };
  const sheet = sidecar?.sheet;
  const shift =
    zero === 'machine' && toolpath ? { xMm: 0, yMm: 0 } : { xMm: sheet?.atXMm ?? 0, yMm: sheet?.atYMm ?? 0 };
  return {
    box: {
      minX: bounds.minX + shift.xMm,
      minY: bounds.minY + shift.yMm,
      maxX: bounds.maxX + shift.xMm,
      maxY: bounds.maxY + shift.yMm,
    },
    unknown: null,
    shift,
  };
}

/** The corner of a box that is farthest from the machine's origin: where mirrors that drift cost most. */
export function farCorner(box: Box, shift: { xMm: number; yMm: number }): { xMm: number; yMm: number } {
  const x = Math.max(Math.abs(box.minX + shift.xMm), Math.abs(box.maxX + shift.xMm));
  const y = Math.max(Math.abs(box.minY + shift.yMm), Math.abs(box.maxY + shift.yMm));
  return { xMm: x, yMm: y };
}
