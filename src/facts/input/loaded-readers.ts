import type { ArtworkReading, Reader, ToolpathReading } from '../../model/reader.ts';
import { chooseReader } from '../../model/reader-choice.ts';
import type { Source } from '../../source/source.ts';

/** The files of a job that readers read; null where it has none. */
export interface JobSources {
  toolpath: Source | null;
  artwork: Source | null;
}

/** A file of a job, and what its reader states of its format. */
export interface ReadableFile {
  source: Source;
  reader: Reader;
}

/** Readers, of which those that some jobs need are loaded: one may bring libraries that take longer to load than a small job to check. */
export interface LoadedReaders {
  /** All that there are, loaded or not. */
  readonly all: readonly Reader[];
  /** @throws Error when the reader that the file needs was not loaded: a fault of whoever loaded them */
  toolpathReading(source: Source): ToolpathReading;
  /** @throws Error likewise */
  artworkReading(source: Source): ArtworkReading;
}

/** Toolpath and artwork of a job, each with its reader. */
export function readableFiles(readers: readonly Reader[], { toolpath, artwork }: JobSources): ReadableFile[] {
  const files: ReadableFile[] = [];
  if (toolpath) files.push({ source: toolpath, reader: chooseReader(readers, 'toolpath', toolpath) });
  if (artwork) files.push({ source: artwork, reader: chooseReader(readers, 'artwork', artwork) });
  return files;
}

/** Ids of the readers that these jobs need. */
export function readersNeeded(readers: readonly Reader[], jobs: Iterable<JobSources>): string[] {
  const needed = new Set<string>();
  for (const job of jobs) for (const { reader } of readableFiles(readers, job)) needed.add(reader.id);
  return [...needed];
}

/** Loads the readers with these ids. */
export async function loadReaders(readers: readonly Reader[], ids: readonly string[]): Promise<LoadedReaders> {
  const toolpaths = new Map<string, ToolpathReading>();
  const artworks = new Map<string, ArtworkReading>();
  for (const reader of readers) {
    if (!ids.includes(reader.id)) continue;
    if (reader.makes === 'toolpath') toolpaths.set(reader.id, await reader.load());
    else artworks.set(reader.id, await reader.load());
  }
  return {
    all: readers,
    toolpathReading: (source) => loaded(toolpaths, chooseReader(readers, 'toolpath', source)),
    artworkReading: (source) => loaded(artworks, chooseReader(readers, 'artwork', source)),
  };
}

function loaded<Reading>(readings: ReadonlyMap<string, Reading>, { id }: Reader): Reading {
  const reading = readings.get(id);
  if (reading === undefined) throw new Error(`there is a file for the reader ${id}, which was not loaded`);
  return reading;
}
