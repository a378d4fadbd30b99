import type { GcodeProblemCode } from '../problem-texts.ts';

/** Something on one line that cannot be taken as it stands; offsets are 0-based UTF-16 units. */
export interface Issue {
  code: GcodeProblemCode;
  args: Record<string, string | number>;
  start: number;
  end: number;
  /** The line is not carried out, so that motion or beam can no longer be followed. */
  loses: boolean;
}

/** Tells what cannot be taken. */
export type Report = (
  code: GcodeProblemCode,
  args: Issue['args'],
  start: number,
  end: number,
  loses: boolean,
) => unknown;
