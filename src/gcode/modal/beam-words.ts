import type { BeamWord } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';

/**
 * The words of a program that have to do with a beam in any dialect, whether or not the profile goes by them: what a program has that
 * never fires the beam as read.
 */
export class BeamWords {
  readonly #words = new Map<string, BeamWord>();

  /** `value`: the number that the word gives; null where it gives none. */
  saw(word: string, value: number | null, place: Place): void {
    const known = this.#words.get(word);
    if (!known) this.#words.set(word, { word, highest: value, place });
    else if (value !== null && (known.highest === null || value > known.highest)) known.highest = value;
  }

  list(): BeamWord[] {
    return [...this.#words.values()];
  }
}
