import type { Edit } from '../model/editing.ts';
import type { Location } from '../source/place.ts';

/** Edits upon edits of one toolpath, and where in the original a line of now stood. */
export class LineHistory {
  /** The last ones first. */
  readonly #layers: readonly (readonly Edit[])[];

  constructor(layers: readonly (readonly Edit[])[]) {
    this.#layers = layers;
  }

  after(edits: readonly Edit[]): LineHistory {
    return new LineHistory([edits, ...this.#layers]);
  }

  /** A line that is new has the place where it was put in. */
  original(location: Location): Location {
    let { line } = location;
    for (const edits of this.#layers) line = before(line, edits);
    return { ...location, line, endLine: line + location.endLine - location.line };
  }
}

function before(line: number, edits: readonly Edit[]): number {
  let shift = 0;
  for (const { place, old, new: fresh } of edits) {
    const here = place.line + shift;
    if (line < here) break;
    const added = breaksIn(fresh);
    if (line < here + added) return place.line;
    shift += added - breaksIn(old);
  }
  return line - shift;
}

/** Line breaks: LF, CR LF or a lone CR. */
function breaksIn(bytes: Uint8Array): number {
  let breaks = 0;
  for (let i = 0; i < bytes.length; i++) if (bytes[i] === 10 || (bytes[i] === 13 && bytes[i + 1] !== 10)) breaks++;
  return breaks;
}
