import type { ToolpathProblemCode } from '../model/problem-codes.ts';
import type { ReaderProblem } from '../model/reader.ts';

/** The reader's id, which toolpaths that it made bear. */
export const GCODE = 'gcode';

/** What is wrong with a G-code file beyond what any toolpath may have wrong, in words; the order is that of the rule's page. */
export const GCODE_PROBLEMS = {
  /** A word or number that cannot be taken. */
  'unreadable-word': {
    messageId: 'word',
    message: '{text} cannot be taken{more}: {reason}. Write one letter and one decimal number, such as X10.5.',
  },
  'line-too-long': {
    messageId: 'lineTooLong',
    message:
      'A line of {length} characters is longer than the {limit} that are read{more}. Check that the file is a G-code program and break the line.',
  },
  /** NUL or other control bytes: not a text program. */
  binary: {
    messageId: 'binary',
    message:
      'The file holds the control byte {byte}{more} and is no text program. Give the G-code that goes to the controller, not a project or archive file.',
  },
  /** No motion words at all. */
  empty: {
    messageId: 'emptyToolpath',
    message: 'The toolpath holds no motion at all. Export it again, and check that something was selected.',
  },
  'arc-no-centre': {
    messageId: 'arcNoCentre',
    message: 'An arc has neither centre (I J K) nor radius (R){more}. Write the centre, or straight moves.',
  },
  'arc-radius-too-small': {
    messageId: 'arcRadius',
    message:
      'An arc of radius {radiusMm} mm cannot span its ends, {chordMm} mm apart{more}. Correct R, or write the centre.',
  },
  'negative-power': {
    messageId: 'negativePower',
    message: 'The power setting {value} is negative{more}. Write 0 for off and a number above 0 for on.',
  },
  /** S given while neither M3 nor M4 is in force. */
  'power-without-beam': {
    messageId: 'noBeam',
    message:
      'A power of {value} is set while neither M3 nor M4 is in force{more}: on most controllers the beam stays off. Switch on by M3 or M4 first.',
    severity: 'warning',
  },
  'number-out-of-range': {
    messageId: 'toolpathNumber',
    message: 'The number {text} is beyond {limit}{more} and was not used. Correct it.',
  },
  checksum: {
    messageId: 'checksum',
    message: 'The checksum of {text} is wrong{more}: the file was damaged or changed by hand. Export it again.',
    severity: 'warning',
  },
} as const satisfies Record<string, ReaderProblem>;

/** What the reader of G-code may report: problems of any toolpath, and its own. */
export type GcodeProblemCode = ToolpathProblemCode | keyof typeof GCODE_PROBLEMS;
