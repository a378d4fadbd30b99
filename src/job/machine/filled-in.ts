import type { Assumption } from '../model.ts';

/** Takes what a profile states, and where it states nothing the default of the class, and notes each default that it took. */
export class FilledIn {
  readonly #defaults: ReadonlyMap<string, Assumption>;
  readonly #taken = new Set<string>();

  constructor(defaults: readonly Assumption[]) {
    this.#defaults = new Map(defaults.map((one) => [one.key, one]));
  }

  /** The defaults that were taken, in the order of the class's list. */
  get assumed(): Assumption[] {
    return [...this.#defaults.values()].filter(({ key }) => this.#taken.has(key));
  }

  /** The number that the class has in its base unit, without taking it; null where it has none. */
  usual(key: string): number | null {
    const usual = this.#defaults.get(key);
    if (usual === undefined || typeof usual.value !== 'number') return null;
    return usual.unit === '%' ? usual.value / 100 : usual.value;
  }

  /** A number in its base unit (shares 0…1); null where neither the profile nor the class has one. */
  numberOrNull(key: string, stated: number | undefined): number | null {
    if (stated !== undefined) return stated;
    const usual = this.usual(key);
    if (usual !== null) this.#taken.add(key);
    return usual;
  }

  /** @throws RangeError where neither the profile nor the class has the number: a fault of the class's list. */
  number(key: string, stated: number | undefined): number {
    const value = this.numberOrNull(key, stated);
    if (value === null) throw new RangeError(`no default for ${key}`);
    return value;
  }

  /**
   * @param matters false where nothing rests on it: then it is filled in and not noted.
   * @throws RangeError as for {@link number}.
   */
  word<W extends string>(key: string, stated: W | undefined, matters = true): W {
    if (stated !== undefined) return stated;
    const usual = this.#defaults.get(key);
    if (usual === undefined || typeof usual.value !== 'string') throw new RangeError(`no default for ${key}`);
    if (matters) this.#taken.add(key);
    // The list of the class has only words that the schema knows (tests/job/class-defaults.test.ts).
    return usual.value as W;
  }
}
