import type { LoadedReaders } from '../../preflight.ts';
import type { Source } from '../../source/source.ts';

/** What was read of a file, by its name, its reader's kind and the options that it was read with. */
export type Readings = Map<string, unknown>;

/** More readings than this are not kept: each is a whole program or drawing. */
const MOST_KEPT = 6;

/**
 * Readers that read a file once: models are values, and a program is long. Whoever changes a file under its name starts with no readings.
 */
export function remembering(readers: LoadedReaders, readings: Readings): LoadedReaders {
  const kept = <Options extends object, Model>(
    kind: string,
    source: Source,
    options: Options,
    read: (source: Source, options: Options) => Model,
  ): Model => {
    const key = `${kind} ${JSON.stringify([source.name, source.size, optionsKey(options)])}`;
    if (readings.has(key)) return readings.get(key) as Model;
    const model = read(source, options);
    const [oldest] = readings.keys();
    if (readings.size >= MOST_KEPT && oldest !== undefined) readings.delete(oldest);
    readings.set(key, model);
    return model;
  };
  return {
    all: readers.all,
    toolpathReading: (file) => {
      const reading = readers.toolpathReading(file);
      return {
        ...reading,
        read: (source, options) => kept('toolpath', source, options, (from, how) => reading.read(from, how)),
      };
    },
    artworkReading: (file) => {
      const reading = readers.artworkReading(file);
      return {
        ...reading,
        read: (source, options) => kept('artwork', source, options, (from, how) => reading.read(from, how)),
      };
    },
  };
}

/** Options as plain data; who is told of the progress makes no difference. */
function optionsKey(options: object): unknown {
  return Object.entries(options)
    .filter(([, value]) => typeof value !== 'function')
    .map(([key, value]) => [key, value instanceof Set ? [...value] : value]);
}
