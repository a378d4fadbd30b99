import type { Reader } from '../../model/reader.ts';

/**
 * The file's partner of the same name, `gate.gcode` beside `gate.svg`: the first that is there, the readers' usual endings first.
 * @param stem the file's name without its ending
 * @param kind what the partner is
 */
export function partnerOf(
  stem: string,
  kind: Reader['makes'],
  readers: readonly Reader[],
  isThere: (name: string) => boolean,
): string | null {
  const endings = readers.filter(({ makes }) => makes === kind).flatMap(({ extensions }) => extensions);
  return endings.map((ending) => stem + ending).find(isThere) ?? null;
}

/** A file's name without its ending. */
export function stemOf(name: string): string {
  return name.replace(/\.[^.]*$/, '');
}
