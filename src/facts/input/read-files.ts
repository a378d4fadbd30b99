import { readToolpath } from '../../gcode/read.ts';
import type { Toolpath } from '../../gcode/toolpath.ts';
import type { Machine } from '../../job/model.ts';
import { START_OF_FILE } from '../../source/place.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';
import type { Artwork } from '../../svg/artwork.ts';
import type { ArtworkReader } from './artwork-reader.ts';
import type { InputProblem } from './job-origin.ts';
import { artworkOptionsOf, toolpathOptionsOf } from './reader-options.ts';

/** What a job's files hold; null where there is no such file, or it cannot be read: `unreadable` then says why. */
export interface ReadFiles {
  readonly toolpath: Toolpath | null;
  readonly artwork: Artwork | null;
  readonly unreadable: readonly InputProblem[];
}

/** Reads toolpath and artwork. Without a machine a toolpath means nothing and is not read. */
export function readFiles(input: {
  machine: Machine | null;
  /** Of the beam, mm; null where it is not known. */
  spotMm: number | null;
  toolpath: Source | null;
  artwork: Source | null;
  /** Null when the job has no artwork. */
  artworkReader: ArtworkReader | null;
  onProgress?: (file: string, bytes: number, size: number) => void;
}): ReadFiles {
  const { machine, spotMm, artworkReader, onProgress } = input;
  const toolpath =
    machine &&
    reading(input.toolpath, (source) => {
      const progress = (bytes: number) => onProgress?.(source.name, bytes, source.size);
      return readToolpath(source, toolpathOptionsOf(machine, spotMm, progress));
    });
  const artwork = reading(input.artwork, (source) => {
    if (artworkReader === null) throw new Error('there is artwork, but what reads it was not loaded');
    return artworkReader.readArtwork(source, artworkOptionsOf(machine));
  });
  return {
    toolpath: toolpath?.model ?? null,
    artwork: artwork?.model ?? null,
    unreadable: [toolpath, artwork].flatMap((one) => one?.problem ?? []),
  };
}

/** What a reader makes of a source, or that its bytes cannot be had; null without one. */
function reading<T>(
  source: Source | null,
  read: (source: Source) => T,
): { model: T | null; problem: InputProblem | null } | null {
  if (!source) return null;
  try {
    return { model: read(source), problem: null };
  } catch (error) {
    if (!(error instanceof SourceUnreadable)) throw error;
    const problem = { code: 'unreadable', place: START_OF_FILE, args: { reason: error.reason } };
    return { model: null, problem: { file: source.name, problem, severity: 'error', unreadable: true } };
  }
}
