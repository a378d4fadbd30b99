import { gcodeReader } from './gcode/reader.ts';
import type { Reader } from './model/reader.ts';
import { svgReader } from './svg/reader.ts';

/**
 * The only list of readers: a format is a folder that states its reader, and a line here. Whoever finds, reads or words files is handed
 * this list; nothing of a reader is loaded before some file needs it.
 */
export const READERS: readonly Reader[] = [gcodeReader, svgReader];
