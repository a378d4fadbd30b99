/** A stretch of a file. Lines and columns are 1-based, columns in UTF-16 units, `endColumn` exclusive. */
export interface Place {
  line: number;
  column: number;
  endLine: number;
  endColumn: number;
}

/** A place in a named file. */
export interface Location extends Place {
  file: string;
}

/** The first character of a file: where a finding points that concerns the file as a whole. */
export const START_OF_FILE: Place = { line: 1, column: 1, endLine: 1, endColumn: 1 };

/**
 * Something a reader could not take as it stands. Readers return a partial model and their problems; they never throw on
 * input. Rules turn problems into findings.
 */
export interface Problem<Code extends string = string> {
  code: Code;
  place: Place;
  /** Values for the message: quoted input (already capped in length), limits, counts. */
  args: Record<string, string | number>;
  /** How many more places have the same problem; the first one stands in `place`. */
  more?: number;
}
