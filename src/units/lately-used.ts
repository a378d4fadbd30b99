/**
 * What was entered or asked for lately by its key. In two halves: what is asked for moves into the new one, and once that is full the old one
 * goes. So the last `most` keys that were used are there, and at most twice as many.
 */
export class LatelyUsed<K, T> {
  readonly #most: number;
  #now = new Map<K, T>();
  #before = new Map<K, T>();

  constructor(most: number) {
    this.#most = most;
  }

  get(key: K): T | undefined {
    const known = this.#now.get(key);
    if (known !== undefined) return known;
    const old = this.#before.get(key);
    if (old !== undefined) this.set(key, old);
    return old;
  }

  set(key: K, value: T): void {
    if (this.#now.size >= this.#most) {
      this.#before = this.#now;
      this.#now = new Map();
    }
    this.#now.set(key, value);
  }
}
