/** What was entered last by its key: the oldest goes when there are more than wanted. */
export class LastKept<T> {
  readonly #entries = new Map<string, T>();
  readonly #most: number;

  constructor(most: number) {
    this.#most = most;
  }

  get(key: string): T | undefined {
    return this.#entries.get(key);
  }

  set(key: string, value: T): void {
    this.#entries.delete(key);
    this.#entries.set(key, value);
    if (this.#entries.size <= this.#most) return;
    const [oldest] = this.#entries.keys();
    this.#entries.delete(oldest!);
  }
}
