import type { LoadedReaders } from '../../facts/input/loaded-readers.ts';
import { artworkOptionsOf, toolpathOptionsOf } from '../../facts/input/reader-options.ts';
import type { Artwork, Toolpath } from '../../facts/types.ts';
import type { Machine } from '../../job/model.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';
import { workFor } from '../../units/work.ts';

/** A toolpath as a machine would take it; null when it cannot be read, or the machine's power scale is not stated. */
export function readProgram(source: Source, readers: LoadedReaders, machine: Machine): Toolpath | null {
  const { power } = machine.controller;
  if (power === null) return null;
  return readable(() => readers.toolpathReading(source).read(source, toolpathOptionsOf(machine, power, null)));
}

/** A drawing; null when it cannot be read. Without a machine, px per inch are those of CSS. */
export function readDrawing(source: Source, readers: LoadedReaders, machine: Machine | null): Artwork | null {
  return readable(() => readers.artworkReading(source).read(source, artworkOptionsOf(machine, workFor(source.size))));
}

function readable<T>(read: () => T): T | null {
  try {
    return read();
  } catch (error) {
    if (error instanceof SourceUnreadable) return null;
    throw error;
  }
}
