import { artworkOptionsOf, toolpathOptionsOf } from '../../facts/input/reader-options.ts';
import { readToolpath } from '../../gcode/read.ts';
import type { Toolpath } from '../../gcode/toolpath.ts';
import type { Machine } from '../../job/model.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';
import type { Artwork } from '../../svg/artwork.ts';
import { readArtwork } from '../../svg/read.ts';

/** A toolpath as a machine would take it; null when it cannot be read. */
export function readProgram(source: Source, machine: Machine): Toolpath | null {
  return readable(() => readToolpath(source, toolpathOptionsOf(machine, null)));
}

/** A drawing; null when it cannot be read. Without a machine, px per inch are those of CSS. */
export function readDrawing(source: Source, machine: Machine | null): Artwork | null {
  return readable(() => readArtwork(source, artworkOptionsOf(machine)));
}

function readable<T>(read: () => T): T | null {
  try {
    return read();
  } catch (error) {
    if (error instanceof SourceUnreadable) return null;
    throw error;
  }
}
