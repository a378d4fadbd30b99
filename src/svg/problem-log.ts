import type { Place, Problem } from '../source/place.ts';
import type { SvgProblemCode } from './problem-texts.ts';

/** Problems of one code that are kept one by one; the rest are counted. */
const MOST_OF_ONE_CODE = 20;
/** Codes of which all are kept, since a rule chooses among them by their numbers. */
const CHOSEN_FROM: ReadonlySet<SvgProblemCode> = new Set(['image-embedded']);
/** Quoted input in a problem is cut at this many UTF-16 units. */
const LONGEST_QUOTE = 80;

/** Quoted input, short enough for a message and on one line. */
export function quote(text: string): string {
  const flat = text
    .slice(0, LONGEST_QUOTE * 4)
    .replace(/\s+/g, ' ')
    .trim();
  return flat.length <= LONGEST_QUOTE ? flat : flat.slice(0, LONGEST_QUOTE - 1) + '…';
}

/** Gathers problems: the same problem at many places is one with a count, and no code that is only counted fills the list. */
export class ProblemLog {
  readonly problems: Problem<SvgProblemCode>[] = [];
  /** How often something was told, that which was only counted included. */
  told = 0;
  readonly #seen = new Map<string, Problem<SvgProblemCode>>();
  readonly #kept = new Map<SvgProblemCode, number>();
  /** The first problem of a code, which counts those beyond the limit. */
  readonly #first = new Map<SvgProblemCode, Problem<SvgProblemCode>>();

  /** The place is worked out only when the problem is kept. */
  add(code: SvgProblemCode, place: () => Place, args: Record<string, string | number> = {}): void {
    this.told++;
    const key = `${code} ${JSON.stringify(args)}`;
    const kept = this.#kept.get(code) ?? 0;
    const isFull = kept >= MOST_OF_ONE_CODE && !CHOSEN_FROM.has(code);
    const same = this.#seen.get(key) ?? (isFull ? this.#first.get(code) : undefined);
    if (same) {
      same.more = (same.more ?? 0) + 1;
      return;
    }
    const problem: Problem<SvgProblemCode> = { code, place: place(), args };
    this.#seen.set(key, problem);
    this.#kept.set(code, kept + 1);
    if (kept === 0) this.#first.set(code, problem);
    this.problems.push(problem);
  }
}
