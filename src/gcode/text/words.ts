import { readLinesAt } from '../../source/excerpt.ts';
import type { Place } from '../../source/place.ts';
import type { Source } from '../../source/source.ts';
import { onLine } from './block.ts';
import { withoutComments } from './comments.ts';

/** A word as it stands in the file. */
export interface PlacedWord {
  /** Upper case. */
  letter: string;
  /** As written, blanks at the end dropped. */
  text: string;
  place: Place;
}

/**
 * The words of one line (1-based) with their columns, for findings that know a line only: opens the source again and reads
 * up to that line. Empty when the source has no such line; words beyond the excerpt's length are left out.
 *
 * @throws SourceUnreadable from `source.chunks()` only
 */
export function wordPlaces(source: Source, line: number): PlacedWord[] {
  const text = readLinesAt(source, [line]).get(line);
  if (text === undefined) return [];
  const words: PlacedWord[] = [];
  for (const match of withoutComments(text).code.matchAll(/([A-Za-z])[^A-Za-z]*/g)) {
    const written = match[0].trimEnd();
    const place = onLine(line, match.index, match.index + written.length);
    words.push({ letter: match[1]!.toUpperCase(), text: written, place });
  }
  return words;
}
