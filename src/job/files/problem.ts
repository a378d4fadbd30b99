import type { Location, Problem } from '../../source/place.ts';
import type { PlaceOf } from '../model.ts';

/**
 * - `unreadable`: the bytes cannot be had
 * - `syntax`: not a text, or not the YAML that is read here
 * - `unknown-key`, `missing-key`, `wrong-value`: YAML, but not this kind of file
 * - `outside-root`: a path leaves the root
 * - `duplicate-id`: two files of one trust rank claim an id or an alias
 * - `unknown-id`: no file has the id that is asked for
 */
export type FileProblemCode =
  | 'unreadable'
  | 'syntax'
  | 'unknown-key'
  | 'missing-key'
  | 'wrong-value'
  | 'outside-root'
  | 'duplicate-id'
  | 'unknown-id';

/** What is wrong with a file that people write, where, and in `args.text` a sentence that says so and what to do. */
export interface FileProblem extends Problem<FileProblemCode> {
  place: Location;
  args: { text: string };
}

/** A file as far as it could be taken: the value stands exactly when there are no problems. */
export interface Loaded<T> {
  file: string;
  value: T | null;
  problems: FileProblem[];
  placeOf: PlaceOf;
}

export function fileProblem(code: FileProblemCode, place: Location, text: string): FileProblem {
  return { code, place, args: { text } };
}

/** Something a person should know about how files were weighed; never an error. */
export interface FileNote {
  place: Location;
  text: string;
}
