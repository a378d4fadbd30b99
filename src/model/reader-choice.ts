import { firstBytes, type Source, SourceUnreadable } from '../source/source.ts';
import type { Reader } from './reader.ts';

/** Bytes at the start of a file that a reader may recognise it by. */
export const HEAD_BYTES = 1024;
/** The same of a file found in a folder, whose name says nothing. */
export const UNCERTAIN_HEAD_BYTES = 4096;

/** The kind of a file by its extension; null when no reader has it. */
export function kindByName(readers: readonly Reader[], path: string): Reader['makes'] | null {
  return readers.find((reader) => hasExtension(reader, path))?.makes ?? null;
}

/** The kind of a file by its first bytes; null when no reader recognises it. */
export function kindByHead(readers: readonly Reader[], head: Uint8Array): Reader['makes'] | null {
  return readers.find((reader) => reader.recognises(head))?.makes ?? null;
}

/** The readers of files that are named as this one is and as many others are. */
export function uncertainReaders(readers: readonly Reader[], path: string): Reader[] {
  const name = path.slice(path.lastIndexOf('/') + 1).toLowerCase();
  const dot = name.lastIndexOf('.');
  const extension = dot < 0 ? '' : name.slice(dot);
  return readers.filter(({ uncertain }) => uncertain?.extensions.includes(extension));
}

function hasExtension({ extensions }: Reader, path: string): boolean {
  const lower = path.toLowerCase();
  return extensions.some((extension) => lower.endsWith(extension));
}

/**
 * The reader for a file that is meant as a toolpath or as artwork: the one with its extension; where several have it, or none has, the
 * first that recognises it by its first bytes, and else the first of them.
 * @throws Error when no reader makes this kind
 */
export function chooseReader<Kind extends Reader['makes']>(
  readers: readonly Reader[],
  makes: Kind,
  source: Source,
): Extract<Reader, { makes: Kind }> {
  const able = readers.filter((reader): reader is Extract<Reader, { makes: Kind }> => reader.makes === makes);
  const named = able.filter((reader) => hasExtension(reader, source.name));
  const candidates = named.length > 0 ? named : able;
  const [first] = candidates;
  if (first === undefined) throw new Error(`no reader makes a ${makes}`);
  if (candidates.length === 1) return first;
  const head = headOf(source);
  return candidates.find((reader) => reader.recognises(head)) ?? first;
}

/** Empty when the bytes cannot be had: whoever reads the file itself says so. */
function headOf(source: Source): Uint8Array {
  try {
    return firstBytes(source, HEAD_BYTES);
  } catch (error) {
    if (error instanceof SourceUnreadable) return new Uint8Array(0);
    throw error;
  }
}

/** The formats as people name them, each with its extensions: "G-code (.gcode, .nc, .ngc)"; an extension that is the name says both. */
export function formatsInWords(readers: readonly Reader[]): string[] {
  return readers.map(({ name, extensions }) =>
    extensions.length === 1 && extensions[0] === `.${name.toLowerCase()}`
      ? `.${name.toLowerCase()}`
      : `${name} (${extensions.join(', ')})`,
  );
}
