import type { Box } from '../../geometry/outlines/outline.ts';
import type { Sidecar } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';
import type { Unanswered } from '../unanswered/unanswered.ts';

/** Where the job lies on the bed. */
export interface OnBed {
  readonly box: Box | null;
  /** Why it is not known; null when it is. */
  readonly unknown: string | null;
  /** The code that moves the work so that it is not known, though `zero` is stated; null where there is none. */
  readonly unfollowed: { readonly word: string; readonly place: Place } | null;
  /** What to add to the toolpath's X and Y to get places on the bed; null when not known. */
  readonly shift: { readonly xMm: number; readonly yMm: number } | null;
}

/**
 * `zero: machine` puts the toolpath's X0 Y0 at the machine's corner; `sheet-corner` at the sheet's (`sheet.at`, the machine's
 * corner when it is not stated). `set-by-hand` and nothing stated leave the place open.
 */
export function placeOnBed(sidecar: Sidecar | null, toolpath: Toolpath | null, artwork: Artwork | null): OnBed {
  const bounds: Box | null = toolpath ? toolpath.boundsMm : (artwork?.boundsMm ?? null);
  if (!bounds) return notKnown('nothing moves');
  const zero = sidecar?.zero ?? null;
  if (zero === null) return notKnown('what X0 Y0 means is not stated (`zero`)');
  if (zero === 'set-by-hand') return notKnown('X0 Y0 is set by hand');
  const unfollowed = unfollowedOffset(zero, toolpath);
  if (unfollowed !== null) {
    const where = `${unfollowed.word} on line ${unfollowed.place.line}`;
    return { ...notKnown(`${where} moves the work by an amount that the program does not tell`), unfollowed };
  }
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
    unfollowed: null,
    shift,
  };
}

/** What is left open where the work is moved by an amount that is not known. */
export function placeNotFollowed({ unknown, unfollowed }: OnBed): Unanswered[] {
  if (unfollowed === null) return [];
  return [
    {
      fact: 'toolpath',
      what: 'whether the job stays on the sheet and on the bed',
      missing: `where the job lies is not known: ${unknown}`,
      remedy: 'Take it out, or state `zero: set-by-hand` in the sidecar: then only sizes are compared.',
    },
  ];
}

function notKnown(unknown: string): OnBed {
  return { box: null, unknown, unfollowed: null, shift: null };
}

/** The first code of the toolpath that moves the work by an amount that is not known where X0 Y0 means `zero`. */
function unfollowedOffset(zero: 'machine' | 'sheet-corner', toolpath: Toolpath | null): OnBed['unfollowed'] {
  if (toolpath === null) return null;
  const { unfollowed, fromMachine } = toolpath.offsets;
  if (zero === 'machine' || fromMachine === null) return unfollowed;
  // How far the sheet's corner is from the machine's zero the controller knows, and nobody here.
  return unfollowed !== null && unfollowed.place.line < fromMachine.place.line ? unfollowed : fromMachine;
}

/** The corner of a box that is farthest from the machine's origin: where mirrors that drift cost most. */
export function farCorner(box: Box, shift: { xMm: number; yMm: number }): { xMm: number; yMm: number } {
  const x = Math.max(Math.abs(box.minX + shift.xMm), Math.abs(box.maxX + shift.xMm));
  const y = Math.max(Math.abs(box.minY + shift.yMm), Math.abs(box.maxY + shift.yMm));
  return { xMm: x, yMm: y };
}
