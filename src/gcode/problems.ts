import type { Place, Problem } from '../source/place.ts';
import type { GcodeProblemCode } from './problem-texts.ts';

/** Different problems that are kept. Further ones are counted on the first of their code, which is always kept. */
const MOST_KINDS = 200;

/**
 * Problems by what they are: the first place of each is kept, the others are counted, so that a file of a billion faults
 * needs no more memory than one of a few.
 */
export class ProblemList {
  readonly #byKind = new Map<string, Problem<GcodeProblemCode>>();
  readonly #lastLine = new Map<string, number>();
  /** Key of the first problem of each code. */
  readonly #firstOfCode = new Map<GcodeProblemCode, string>();

  /** `kind` tells problems with one code apart (a reason, a pair of codes); it is never shown. */
  add(code: GcodeProblemCode, place: Place, args: Record<string, string | number>, kind = ''): void {
    const ofCode = this.#firstOfCode.get(code);
    const isFull = this.#byKind.size >= MOST_KINDS && ofCode !== undefined;
    const key = isFull && !this.#byKind.has(`${code}\n${kind}`) ? ofCode : `${code}\n${kind}`;
    const known = this.#byKind.get(key);
    if (!known) {
      this.#byKind.set(key, { code, place, args });
      this.#lastLine.set(key, place.line);
      if (ofCode === undefined) this.#firstOfCode.set(code, key);
      return;
    }
    known.more = (known.more ?? 0) + 1;
    if (typeof known.args['lines'] === 'number' && this.#lastLine.get(key) !== place.line) {
      known.args['lines']++;
      this.#lastLine.set(key, place.line);
    }
  }

  has(code: GcodeProblemCode): boolean {
    for (const problem of this.#byKind.values()) if (problem.code === code) return true;
    return false;
  }

  list(): Problem<GcodeProblemCode>[] {
    return [...this.#byKind.values()].sort((a, b) => a.place.line - b.place.line || a.place.column - b.place.column);
  }
}
