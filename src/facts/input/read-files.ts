import type { Machine, PowerScale } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { START_OF_FILE } from '../../source/place.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';
import type { WorkBudget } from '../../units/work.ts';
import type { InputProblem } from './job-origin.ts';
import type { LoadedReaders } from './loaded-readers.ts';
import { artworkOptionsOf, toolpathOptionsOf } from './reader-options.ts';

/** What a job's files hold; null where there is no such file, or it cannot be read: `unreadable` then says why. */
export interface ReadFiles {
  readonly toolpath: Toolpath | null;
  readonly artwork: Artwork | null;
  /** A colour as people write it, as the artwork's elements bear it; null when it is none, and without artwork. */
  readonly colourOf: (text: string) => string | null;
  readonly unreadable: readonly InputProblem[];
  /** The number that sets the power at most in a toolpath that was left aside since the machine's power scale is not stated; else null. */
  readonly highestUnscaled: number | null;
}

/** With what a program is read whose scale is not known, to see how high it goes. */
const UNSCALED: PowerScale = { word: 'S', full: 1 };

/**
 * Reads toolpath and artwork. Without a machine a toolpath means nothing and is not read; without its power scale nobody knows which
 * strokes fire and how strongly, and the toolpath is left aside.
 */
export function readFiles(input: {
  machine: Machine | null;
  /** Of the beam, mm; null where it is not known. */
  spotMm: number | null;
  toolpath: Source | null;
  artwork: Source | null;
  readers: LoadedReaders;
  keepsMotion?: boolean;
  work: WorkBudget;
  onProgress?: (file: string, bytes: number, size: number) => void;
}): ReadFiles {
  const { machine, spotMm, readers, work, onProgress } = input;
  const toolpath =
    machine &&
    reading(input.toolpath, (source) => {
      const progress = (bytes: number) => onProgress?.(source.name, bytes, source.size);
      const scale = machine.controller.power ?? UNSCALED;
      const keeps = { keepsMotion: input.keepsMotion ?? false };
      const options = { ...toolpathOptionsOf(machine, scale, spotMm, progress), ...keeps };
      return readers.toolpathReading(source).read(source, options);
    });
  const isScaled = machine?.controller.power !== null;
  const artworkReading = input.artwork && readers.artworkReading(input.artwork);
  const artwork =
    artworkReading && reading(input.artwork, (source) => artworkReading.read(source, artworkOptionsOf(machine, work)));
  return {
    toolpath: isScaled ? (toolpath?.model ?? null) : null,
    artwork: artwork?.model ?? null,
    colourOf: (text) => artworkReading?.colourOf(text) ?? null,
    highestUnscaled: isScaled ? null : (toolpath?.model?.highestSetting?.raw ?? null),
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
