import type { Place } from '../source/place.ts';

/** Lines of a program, 1-based, both included. */
export interface LineSpan {
  first: number;
  last: number;
}

/** A change of a file's bytes; all others stay. */
export interface Edit {
  /** What is replaced; where nothing is, the place ahead of which something is written. Columns in UTF-16 units of the line. */
  place: Place;
  /** Bytes ahead of it in the file, a byte-order mark included. */
  offset: number;
  old: Uint8Array;
  new: Uint8Array;
}

/** What becomes of a change that was asked for: edits by rising offset, or why it is not made, as a clause, and the line that stands in its way. */
export type Edited = { edits: Edit[] } | { refused: string; line: number };

/** Settings that strokes in a row are to have. */
export interface NewSettings {
  /** From the first stroke to the last. */
  span: LineSpan;
  /** Null: as it is. */
  speedMmPerS: number | null;
  /** A fraction of full; null: as it is. */
  setting: number | null;
  /** How often the whole span is run; 1: once, as it is. */
  times: number;
}

/** Paths that are to be run ahead of another, in their order. */
export interface PathsAhead {
  paths: readonly LineSpan[];
  /** Line of the first stroke of the path that they go ahead of. */
  of: number;
}

/**
 * Changes the text of one program, by the syntax of its format. It promises nothing of what comes of it: whoever asks reads the outcome again
 * and compares. A path is a run of strokes without anything between them.
 */
export interface ProgramEditor {
  /** Switches the beam off while the head stands (dwells and pauses on these lines), and on again as it was. */
  beamOffWhileStanding(lines: readonly number[]): Edited;
  /** Takes paths out that end where they begin. */
  withoutPaths(paths: readonly LineSpan[]): Edited;
  withSettings(stretches: readonly NewSettings[]): Edited;
  /** Runs paths that end where they begin ahead of others, with rapids to and fro while the beam is off. */
  pathsAhead(moves: readonly PathsAhead[]): Edited;
  /** Switches the air on for these stretches, by the words of the machine's profile. */
  withAir(stretches: readonly LineSpan[], words: { on: string; off: string }): Edited;
}
