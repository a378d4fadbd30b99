import type { Moves } from '../../model/motion/moves.ts';
import type { Dwell } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';
import type { Found } from '../../units/found.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, slot } from '../text/block.ts';
import type { BeamState } from './beam.ts';

/** Dwells that are kept; all are counted in the time. */
const MOST_DWELLS = 10_000;
/** Nobody waits longer than a day, s. */
const DWELL_LIMIT = 86_400;

/** Where the head stands still: for a time (G4), or until somebody goes on (M0, M1). */
export class Dwells {
  readonly #kept: Dwell[] = [];
  #dropped = 0;
  readonly #moves: Moves;
  readonly #beam: BeamState;
  readonly #problems: ProblemList;

  constructor(moves: Moves, beam: BeamState, problems: ProblemList) {
    this.#moves = moves;
    this.#beam = beam;
    this.#problems = problems;
  }

  get found(): Found<Dwell> {
    const endedEarly = `the head stands still more than ${MOST_DWELLS} times, and ${this.#dropped} of the dwells were not kept`;
    return { items: this.#kept, endedEarly: this.#dropped === 0 ? null : endedEarly };
  }

  /** G4. */
  wait(block: Block): void {
    this.#moves.stop();
    // RS274 has P in seconds; other dialects give seconds by X, U or S.
    const letter = ['P', 'X', 'U', 'S'].find((l) => block.mask & bit(l));
    const seconds = letter ? block.values[slot(letter)]! : 0;
    if (!(seconds > 0)) return;
    if (seconds > DWELL_LIMIT) {
      const text = `${letter}${seconds}`;
      this.#problems.add('number-out-of-range', block.place(), { text, limit: `${DWELL_LIMIT} s` });
      return;
    }
    this.#moves.wait(seconds);
    this.#keep(block.place(), seconds, false);
  }

  /** M0 and M1. */
  pause(place: Place): void {
    this.#moves.stop();
    this.#keep(place, 0, true);
  }

  #keep(place: Place, seconds: number, pause: boolean): void {
    if (this.#kept.length >= MOST_DWELLS) {
      this.#dropped++;
      return;
    }
    const { x, y } = this.#moves;
    this.#kept.push({ place, seconds, pause, setting: this.#beam.value, beam: this.#beam.command(), x, y });
  }
}
